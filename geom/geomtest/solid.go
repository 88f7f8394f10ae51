// Package geomtest holds the laws of package geom as code, for the tests of
// any package that makes solids or meshes: solid.go and checkmesh.go. eight.go,
// needle.go and mesh.go make some, mangle.go breaks what readers are given, long.go
// says whether long variants of tests are asked for.
package geomtest

import (
	"math"
	"math/rand/v2"
	"testing"

	"halfpour/geom"
)

const (
	pairs     = 300 // of points, near and far
	boxes     = 120 // per solid
	perBox    = 30  // random points per box
	gradings  = 100
	tolerance = 1e-9 // relative to the region's size
)

// CheckSolid reports through t where s breaks a law of geom.Solid or where an
// optional ability of s says something wrong, as far as points and boxes drawn
// at random in and around within show it. within must be finite and should
// hold the surface; the same seed draws the same points.
func CheckSolid(t testing.TB, s geom.Solid, within geom.Box, seed int64) {
	t.Helper()
	size := within.HalfDiagonal()
	c := checker{
		TB: t, s: s, seed: seed,
		rng:    rand.New(rand.NewPCG(uint64(seed), 0)),
		within: within.Grow(0.2 * size),
		size:   size,
		slop:   tolerance * (size + within.Centre().Norm()),
	}
	c.steepness()
	c.boundingBox()
	for i := 0; i < boxes && c.pruning(c.box()); i++ {
	}
	c.gradients()
}

type checker struct {
	testing.TB
	s      geom.Solid
	seed   int64
	rng    *rand.Rand
	within geom.Box
	size   float64
	slop   float64
}

func (c *checker) point(b geom.Box) geom.Vec {
	s := b.Size()
	return b.Min.Add(geom.Vec{X: s.X * c.rng.Float64(), Y: s.Y * c.rng.Float64(), Z: s.Z * c.rng.Float64()})
}

func (c *checker) direction() geom.Vec {
	return geom.Vec{X: c.rng.NormFloat64(), Y: c.rng.NormFloat64(), Z: c.rng.NormFloat64()}.Unit()
}

// nearSurface returns a point that is close to the surface, if a walk along the
// gradient finds it.
func (c *checker) nearSurface() geom.Vec {
	p := c.point(c.within)
	for range 6 {
		v, n := geom.Gradient(c.s, p)
		if math.IsInf(v, 0) {
			break
		}
		p = p.Sub(n.Mul(v))
	}
	return p
}

func (c *checker) somePoint() geom.Vec {
	switch c.rng.IntN(3) {
	case 0:
		return c.point(c.within)
	case 1:
		return c.nearSurface()
	}
	return c.point(c.within.Grow(2 * c.size))
}

// steepness checks law 1 over short and long ways, some of them along the
// gradient, where there is nothing to spare.
func (c *checker) steepness() {
	c.Helper()
	for range pairs {
		p, q := c.somePoint(), c.somePoint()
		short := c.size * math.Pow(10, -6*c.rng.Float64())
		switch c.rng.IntN(3) {
		case 0:
			q = p.Add(c.direction().Mul(short))
		case 1:
			_, n := geom.Gradient(c.s, p)
			q = p.Add(n.Mul(short))
		}
		v, w := c.s.Evaluate(p), c.s.Evaluate(q)
		if math.IsNaN(v) || math.IsNaN(w) {
			c.Errorf("seed %d: law 1: value NaN at %v or %v", c.seed, p, q)
			return
		}
		if d := p.Dist(q); !math.IsInf(v, 0) && math.Abs(v-w) > d+c.slop {
			c.Errorf("seed %d: law 1: from %v (%v) to %v (%v) the value changes by %v over %v", c.seed, p, v, q, w, math.Abs(v-w), d)
			return
		}
	}
}

// boundingBox checks law 2.
func (c *checker) boundingBox() {
	c.Helper()
	box := c.s.BoundingBox()
	for range pairs {
		p := c.somePoint()
		if d, v := box.Distance(p), c.s.Evaluate(p); d > 0 && v < d-c.slop {
			c.Errorf("seed %d: law 2: value %v at %v, which is %v outside the box %v", c.seed, v, p, d, box)
			return
		}
	}
}

// box returns a cell of a random halving of the region or a box anywhere,
// more often than not at the surface.
func (c *checker) box() geom.Box {
	p := c.nearSurface()
	if c.rng.IntN(4) == 0 {
		p = c.point(c.within)
	}
	if c.rng.IntN(2) == 0 {
		return c.cell(p)
	}
	edge := func() float64 { return c.size * math.Pow(2, -10*c.rng.Float64()) * c.rng.Float64() }
	d := geom.Vec{X: edge(), Y: edge(), Z: edge()}
	if c.rng.IntN(2) == 0 {
		d.Y, d.Z = d.X, d.X
	}
	q := p.Sub(geom.Vec{X: d.X * c.rng.Float64(), Y: d.Y * c.rng.Float64(), Z: d.Z * c.rng.Float64()})
	return geom.Box{Min: q, Max: q.Add(d)}
}

// cell halves the solid's own box towards p, so that faces meet faces.
func (c *checker) cell(p geom.Vec) geom.Box {
	b := c.s.BoundingBox().Intersect(c.within)
	if b.IsEmpty() {
		b = c.within
	}
	for range c.rng.IntN(10) {
		m := b.Centre()
		halve := func(lo, hi *float64, mid, at float64) {
			if at < mid {
				*hi = mid
			} else {
				*lo = mid
			}
		}
		halve(&b.Min.X, &b.Max.X, m.X, p.X)
		halve(&b.Min.Y, &b.Max.Y, m.Y, p.Y)
		halve(&b.Min.Z, &b.Max.Z, m.Z, p.Z)
	}
	return b
}

// sample returns a point of b: anywhere, a corner, on a face or by the surface.
func (c *checker) sample(b geom.Box) geom.Vec {
	p := c.point(b)
	switch c.rng.IntN(5) {
	case 0:
		p = b.Corner(c.rng.IntN(8))
	case 1:
		q := b.Corner(c.rng.IntN(8))
		p = [3]geom.Vec{{X: q.X, Y: p.Y, Z: p.Z}, {X: p.X, Y: q.Y, Z: p.Z}, {X: p.X, Y: p.Y, Z: q.Z}}[c.rng.IntN(3)]
	case 2:
		if v, n := geom.Gradient(c.s, p); !math.IsInf(v, 0) {
			p = p.Sub(n.Mul(v + c.rng.NormFloat64()*1e-3*b.HalfDiagonal()))
		}
	}
	return p.Max(b.Min).Min(b.Max)
}

// pruning checks what Range, PruneByValue, PruneBySign, Slab and Landmarks say about b and
// returns whether it holds.
func (c *checker) pruning(b geom.Box) bool {
	c.Helper()
	in := geom.Range(c.s, b)
	part := geom.PruneByValue(c.s, b)
	if part == nil {
		c.Errorf("seed %d: prune by value: nil for %v", c.seed, b)
		return false
	}
	inPart := geom.Range(part, b)
	slab, flat := geom.SlabOf(c.s, b)
	if flat && !(math.Abs(slab.N.Norm()-1) < 1e-9 && slab.W >= 0) {
		c.Errorf("seed %d: slab: normal %v or half thickness %v in %v", c.seed, slab.N, slab.W, b)
		return false
	}
	pruned, inPruned := geom.PruneBySign(c.s, b)
	stray := false
	geom.Landmarks(c.s, b, func(p geom.Vec) { stray = stray || !b.Contains(p) })
	if stray {
		c.Errorf("seed %d: landmark: outside of %v", c.seed, b)
		return false
	}
	for range perBox {
		p := c.sample(b)
		v := c.s.Evaluate(p)
		if !c.beyond(p, v) {
			return false
		}
		if !holds(in, v, c.slop) || !holds(inPart, v, c.slop) {
			c.Errorf("seed %d: range: value %v at %v in %v, range %v, pruned %v", c.seed, v, p, b, in, inPart)
			return false
		}
		if w := part.Evaluate(p); w != v {
			c.Errorf("seed %d: prune by value: value %v at %v in %v, pruned %v", c.seed, v, p, b, w)
			return false
		}
		w := pruned.Evaluate(p)
		if math.Abs(v) > c.slop && (v < 0) != (w < 0) || inPruned.Lo > 0 && v < -c.slop || inPruned.Hi < 0 && v > c.slop {
			c.Errorf("seed %d: prune by sign: value %v at %v in %v, pruned %v, range %v", c.seed, v, p, b, w, inPruned)
			return false
		}
		if !flat {
			continue
		}
		over := slab.N.Dot(p) - slab.D
		if over < -slab.W-c.slop && v > c.slop || over > slab.W+c.slop && v < -c.slop {
			c.Errorf("seed %d: slab: value %v at %v in %v, which is %v over the middle of %v", c.seed, v, p, b, over, slab)
			return false
		}
	}
	return true
}

// beyond checks the value beyond what is near, where v is the value.
func (c *checker) beyond(p geom.Vec, v float64) bool {
	c.Helper()
	near := 2 * math.Abs(v) * c.rng.Float64()
	if w := geom.EvaluateBeyond(c.s, p, near); w != v && !(math.Abs(w) <= near && math.Abs(v) <= near) {
		c.Errorf("seed %d: value beyond %v at %v: %v, but %v from Evaluate", c.seed, near, p, w, v)
		return false
	}
	return true
}

func holds(i geom.Interval, v, slop float64) bool {
	return v == i.Lo || v == i.Hi || v >= i.Lo-slop && v <= i.Hi+slop
}

// gradients compares Gradient with differences where these are steady.
func (c *checker) gradients() {
	c.Helper()
	h := 1e-5 * c.size
	for range gradings {
		p := c.somePoint()
		v, n := geom.Gradient(c.s, p)
		here := c.s.Evaluate(p)
		if v != here && !(math.Abs(v-here) <= c.slop) {
			c.Errorf("seed %d: gradient: value %v at %v, but %v from Evaluate", c.seed, v, p, here)
			return
		}
		if math.Abs(n.Norm()-1) > 1e-9 {
			c.Errorf("seed %d: gradient: direction %v at %v has length %v", c.seed, n, p, n.Norm())
			return
		}
		if g, steady := c.difference(p, here, h); steady && g.Sub(n).Norm() > 1e-3 {
			c.Errorf("seed %d: gradient: direction %v at %v, differences say %v", c.seed, n, p, g)
			return
		}
	}
}

// difference returns the direction of the gradient from differences over h,
// and whether the value is smooth there.
func (c *checker) difference(p geom.Vec, v, h float64) (geom.Vec, bool) {
	if math.IsInf(v, 0) {
		return geom.Vec{}, false
	}
	steady := true
	along := func(e geom.Vec) float64 {
		up, down := c.s.Evaluate(p.Add(e)), c.s.Evaluate(p.Sub(e))
		steady = steady && math.Abs(up-2*v+down) < 1e-3*h
		return up - down
	}
	g := geom.Vec{X: along(geom.Vec{X: h}), Y: along(geom.Vec{Y: h}), Z: along(geom.Vec{Z: h})}
	return g.Unit(), steady && g.Norm() > 0.1*h
}
