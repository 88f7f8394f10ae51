package geom_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

func randomVec(rng *rand.Rand, reach float64) geom.Vec {
	c := func() float64 { return reach * (2*rng.Float64() - 1) }
	return geom.Vec{X: c(), Y: c(), Z: c()}
}

// randomAxis points along a coordinate axis as often as not.
func randomAxis(rng *rand.Rand) geom.Vec {
	if i := rng.IntN(12); i < 6 {
		return [6]geom.Vec{{X: 1}, {Y: 1}, {Z: 1}, {X: -1}, {Y: -1}, {Z: -1}}[i]
	}
	return randomVec(rng, 1).Unit()
}

// families draws a solid of each kind, 1 to 10 mm large and near the origin.
var families = []struct {
	name string
	draw func(rng *rand.Rand) geom.Solid
}{
	{"half space", func(rng *rand.Rand) geom.Solid {
		return geom.HalfSpace(randomAxis(rng).Mul(1+rng.Float64()), 6*rng.Float64()-3)
	}},
	{"ball", func(rng *rand.Rand) geom.Solid { return geom.Ball(randomVec(rng, 5), 0.3+4*rng.Float64()) }},
	{"block", func(rng *rand.Rand) geom.Solid {
		return geom.Block(geom.BoxOf(randomVec(rng, 6), randomVec(rng, 6)))
	}},
	{"drafted block", func(rng *rand.Rand) geom.Solid {
		b := geom.BoxOf(randomVec(rng, 6), randomVec(rng, 6))
		corner := rng.Float64() * 0.6 * math.Min(b.Size().X, b.Size().Y)
		return geom.DraftedBlock{Base: b, Corner: corner, Draft: rng.Float64() - 0.5}.Solid()
	}},
	{"frustum", func(rng *rand.Rand) geom.Solid {
		a := randomVec(rng, 4)
		ra, rb := 4*rng.Float64(), 4*rng.Float64()
		switch rng.IntN(4) {
		case 0:
			ra = 0
		case 1:
			rb = ra
		}
		return geom.Frustum(a, a.Add(randomAxis(rng).Mul(0.5+6*rng.Float64())), ra, rb)
	}},
	{"capsule", func(rng *rand.Rand) geom.Solid {
		a := randomVec(rng, 4)
		return geom.Capsule(a, a.Add(randomAxis(rng).Mul(8*rng.Float64())), 0.2+2*rng.Float64())
	}},
	{"torus", func(rng *rand.Rand) geom.Solid {
		return geom.Torus(randomVec(rng, 3), randomAxis(rng), 1+4*rng.Float64(), 0.2+1.5*rng.Float64())
	}},
	{"tube arc", func(rng *rand.Rand) geom.Solid {
		c, axis := randomVec(rng, 3), randomAxis(rng)
		start := c.Add(randomVec(rng, 4))
		return geom.TubeArc(c, axis, start, 7*(2*rng.Float64()-1), 0.2+rng.Float64())
	}},
	{"wire", func(rng *rand.Rand) geom.Solid {
		var axis []geom.Vec
		p, d := randomVec(rng, 3), randomVec(rng, 1).Unit()
		for range 2 + rng.IntN(30) {
			axis = append(axis, p)
			d = d.Add(randomVec(rng, 0.3)).Unit()
			p = p.Add(d.Mul(0.4))
		}
		return geom.Wire(axis, 0.2+rng.Float64())
	}},
	{"dome", func(rng *rand.Rand) geom.Solid {
		r := 0.5 + 4*rng.Float64()
		return geom.Dome(randomVec(rng, 4), randomAxis(rng), r, r*(0.1+1.3*rng.Float64()))
	}},
}

// lawsBox holds the drawn solids' surfaces; half spaces go on beyond it.
var lawsBox = geom.Box{Min: geom.Vec{X: -10, Y: -10, Z: -10}, Max: geom.Vec{X: 10, Y: 10, Z: 10}}

// finiteBox is the part of the solid's box that is worth looking at.
func finiteBox(s geom.Solid) geom.Box {
	if b := s.BoundingBox().Intersect(lawsBox); !b.IsEmpty() {
		return b
	}
	return lawsBox
}

func TestShapesKeepTheLaws(t *testing.T) {
	const seed = 41
	for f, family := range families {
		t.Run(family.name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(seed, uint64(f)))
			for i := range 60 {
				s := family.draw(rng)
				geomtest.CheckSolid(t, s, finiteBox(s), int64(1000*f+i))
				if t.Failed() {
					t.Fatalf("seed %d, solid %d: %T %+v", seed, i, s, s)
				}
			}
		})
	}
}

func TestShapeValues(t *testing.T) {
	x, z := geom.Vec{X: 1}, geom.Vec{Z: 1}
	tray := geom.DraftedBlock{
		Base:   geom.Box{Min: geom.Vec{X: -10, Y: -5}, Max: geom.Vec{X: 10, Y: 5, Z: 4}},
		Corner: 2, Draft: math.Pi / 4,
	}.Solid()
	for _, c := range []struct {
		name string
		s    geom.Solid
		p    geom.Vec
		want float64
	}{
		{"half space, scaled normal", geom.HalfSpace(geom.Vec{Z: 2}, 6), geom.Vec{Z: 5}, 2},
		{"ball", geom.Ball(x, 2), geom.Vec{X: 4, Y: 4}, 3},
		{"block inside", geom.Block(geom.Box{Max: geom.Vec{X: 4, Y: 6, Z: 8}}), geom.Vec{X: 2, Y: 1, Z: 4}, -1},
		{"block beyond a corner", geom.Block(geom.Box{Max: geom.Vec{X: 1, Y: 1, Z: 1}}), geom.Vec{X: 2, Y: 3, Z: 3}, 3},
		{"cone, tip", geom.Frustum(geom.Vec{}, z.Mul(3), 4, 0), geom.Vec{Z: 5}, 2},
		{"cone, side", geom.Frustum(geom.Vec{}, z.Mul(3), 4, 0), geom.Vec{X: 2 + 0.6, Z: 1.5 + 0.8}, 1},
		{"cone, inside by the side", geom.Frustum(geom.Vec{}, z.Mul(3), 4, 0), geom.Vec{X: 2 - 0.3, Z: 1.5 - 0.4}, -0.5},
		{"cylinder, rim", geom.Frustum(geom.Vec{}, z, 2, 2), geom.Vec{X: 5, Z: 5}, 5},
		{"cylinder, over the cap", geom.Frustum(geom.Vec{}, z, 2, 2), geom.Vec{X: 1, Z: 5}, 4},
		{"cylinder, inside", geom.Frustum(geom.Vec{}, z.Mul(8), 2, 2), geom.Vec{X: 1.5, Z: 4}, -0.5},
		// The side falls by 3 over 4, so that 3 across is 2.4 at right angles to it.
		{"frustum, inside", geom.Frustum(geom.Vec{}, z.Mul(8), 9, 3), geom.Vec{X: 3, Z: 4}, -2.4},
		{"capsule, past the end", geom.Capsule(geom.Vec{}, x, 0.5), geom.Vec{X: 4, Y: 4}, 4.5},
		{"capsule, beside", geom.Capsule(geom.Vec{}, x.Mul(4), 0.5), geom.Vec{X: 1, Z: 2}, 1.5},
		{"torus, in the hole", geom.Torus(geom.Vec{}, z, 5, 1), geom.Vec{}, 4},
		{"torus, inside", geom.Torus(geom.Vec{}, z, 5, 1), geom.Vec{X: 5.5}, -0.5},
		{"quarter arc, on it", geom.TubeArc(geom.Vec{}, z, x.Mul(5), math.Pi/2, 1), geom.Vec{X: 3, Y: 4}, -1},
		{"quarter arc, off it", geom.TubeArc(geom.Vec{}, z, x.Mul(5), math.Pi/2, 1), geom.Vec{X: 5, Y: -4}, 3},
		{"quarter arc the other way", geom.TubeArc(geom.Vec{}, z, x.Mul(5), -math.Pi/2, 1), geom.Vec{X: 3, Y: -4}, -1},
		{"arc that closes", geom.TubeArc(geom.Vec{}, z, x.Mul(5), 7, 1), geom.Vec{X: -5}, -1},
		{"wire, at a bend", geom.Wire([]geom.Vec{{}, {X: 3}, {X: 3, Y: 3}}, 0.5), geom.Vec{X: 6, Y: -4}, 4.5},
		// r 3, h 1: the sphere has radius 5 and its centre 4 under the base.
		{"dome, over the top", geom.Dome(geom.Vec{}, z, 3, 1), geom.Vec{Z: 3}, 2},
		{"dome, off the rim", geom.Dome(geom.Vec{}, z, 3, 1), geom.Vec{X: 6, Z: 4}, 5},
		{"dome, under the base", geom.Dome(geom.Vec{}, z, 3, 1), geom.Vec{X: 1, Z: -2}, 2},
		{"dome, beside the round", geom.Dome(geom.Vec{}, z, 3, 1), geom.Vec{X: 4.8, Z: 2.4}, 3},
		// Past the rim, but under the line from the sphere's centre over it.
		{"dome, off the rim, low", geom.Dome(geom.Vec{}, z, 3, 1), geom.Vec{X: 7, Z: 1}, math.Sqrt(17)},
		{"tray, on the side", tray, geom.Vec{X: 12, Z: 2}, 0},
		{"tray, inside the side", tray, geom.Vec{X: 11, Z: 2}, -math.Sqrt2 / 2},
		// The corner's radius is 2 + 2 at z = 2, about (8, 3).
		{"tray, on the corner", tray, geom.Vec{X: 8 + 4*0.6, Y: 3 + 4*0.8, Z: 2}, 0},
		{"tray, over the top", tray, geom.Vec{Z: 7}, 3},
		{"nothing", geom.Union(), geom.Vec{}, math.Inf(1)},
	} {
		if v := c.s.Evaluate(c.p); v != c.want && !(math.Abs(v-c.want) < 1e-12) {
			t.Errorf("%s: %v at %v, want %v", c.name, v, c.p, c.want)
		}
	}
}

// A bounding box is of use only when the solid touches all its sides.
func TestShapeBoxesAreTight(t *testing.T) {
	const seed = 42
	for f, family := range families[1:] {
		rng := rand.New(rand.NewPCG(seed, uint64(f)))
		for range 20 {
			s := family.draw(rng)
			b := s.BoundingBox()
			for i, n := range []geom.Vec{{X: 1}, {Y: 1}, {Z: 1}, {X: -1}, {Y: -1}, {Z: -1}} {
				// A cut through the box just within the side must meet the solid.
				side := n.Dot(b.Centre()) + 0.5*math.Abs(n.Dot(b.Size()))
				if gap := leastOver(s, b, n, side-1e-3); gap > 0.02*b.HalfDiagonal() {
					t.Fatalf("%s, seed %d: side %d of %v is %v away from the solid", family.name, seed, i, b, gap)
				}
			}
		}
	}
}

// leastOver returns about the least value on the cross-section of b where
// n·p = d, n along an axis.
func leastOver(s geom.Solid, b geom.Box, n geom.Vec, d float64) float64 {
	const lines = 60
	least := math.Inf(1)
	size := b.Size()
	for i := range lines + 1 {
		for j := range lines + 1 {
			u, w := float64(i)/lines, float64(j)/lines
			p := b.Min.Add(geom.Vec{X: size.X * u, Y: size.Y * w, Z: size.Z * w})
			if n.Y != 0 {
				p.Z = b.Min.Z + size.Z*w
			} else if n.X != 0 {
				p.Y = b.Min.Y + size.Y*u
			}
			p = p.Add(n.Mul(d - n.Dot(p)))
			least = math.Min(least, s.Evaluate(p))
		}
	}
	return least
}

func TestShapesOfNothing(t *testing.T) {
	nan := math.NaN()
	for name, s := range map[string]geom.Solid{
		"half space without normal": geom.HalfSpace(geom.Vec{}, 1),
		"ball of negative radius":   geom.Ball(geom.Vec{}, -1),
		"ball of NaN radius":        geom.Ball(geom.Vec{}, nan),
		"empty block":               geom.Block(geom.EmptyBox()),
		"capsule":                   geom.Capsule(geom.Vec{}, geom.Vec{X: 1}, -1),
		"frustum without length":    geom.Frustum(geom.Vec{}, geom.Vec{}, 1, 1),
		"torus without axis":        geom.Torus(geom.Vec{}, geom.Vec{}, 2, 1),
		"arc without axis":          geom.TubeArc(geom.Vec{}, geom.Vec{}, geom.Vec{X: 1}, 1, 1),
		"dome without height":       geom.Dome(geom.Vec{}, geom.Vec{Z: 1}, 1, 0),
		"flat tray":                 geom.DraftedBlock{Base: geom.Box{Max: geom.Vec{X: 1, Y: 1}}}.Solid(),
		"wire without points":       geom.Wire(nil, 1),
		"disjoint":                  geom.Intersect(geom.Ball(geom.Vec{}, 1), geom.Ball(geom.Vec{X: 9}, 1)),
	} {
		if !s.BoundingBox().IsEmpty() || !math.IsInf(s.Evaluate(geom.Vec{}), 1) {
			t.Errorf("%s: box %v, value %v", name, s.BoundingBox(), s.Evaluate(geom.Vec{}))
		}
		geomtest.CheckSolid(t, s, lawsBox, 3)
	}
}

// Where a single smooth side meets a small box, the shape must know its slab:
// that is what the mesher's and the integrator's speed rests on.
func TestShapesKnowTheirSlabs(t *testing.T) {
	x, z := geom.Vec{X: 1}, geom.Vec{Z: 1}
	tray := geom.DraftedBlock{
		Base:   geom.Box{Min: geom.Vec{X: -10, Y: -5}, Max: geom.Vec{X: 10, Y: 5, Z: 4}},
		Corner: 2, Draft: 0.1,
	}.Solid()
	lean := math.Tan(0.1)
	for _, c := range []struct {
		name string
		s    geom.Solid
		at   geom.Vec
		most float64 // half thickness in a cube of 0.2 mm
	}{
		{"half space", geom.HalfSpace(z, 1), z, 0},
		{"block", geom.Block(geom.Box{Max: geom.Vec{X: 1, Y: 1, Z: 1}}), geom.Vec{X: 0.5, Y: 0.5, Z: 1}, 0},
		{"tray side", tray, geom.Vec{X: 10 + 2*lean, Z: 2}, 0},
		{"tray bottom", tray, geom.Vec{X: 5}, 0},
		{"tray corner", tray, geom.Vec{X: 8 + (2+2*lean)*0.6, Y: 3 + (2+2*lean)*0.8, Z: 2}, 0.006},
		{"cap", geom.Frustum(geom.Vec{}, z.Mul(3), 2, 1), geom.Vec{X: 0.3, Z: 3}, 0},
		{"cone", geom.Frustum(geom.Vec{}, z.Mul(4), 2, 1), geom.Vec{X: 1.5, Z: 2}, 0.006},
		// 0.1·√3 lateral at radius 2 bulges by 0.0075, half of that each way.
		{"ball", geom.Ball(geom.Vec{}, 2), x.Mul(2), 0.0038},
		// Along its axis it is straight: only 0.1 lateral counts.
		{"capsule", geom.Capsule(x.Neg(), x, 2), z.Mul(2), 0.0013},
		{"capsule, round its end", geom.Capsule(x.Neg(), x.Mul(0.05), 2), z.Mul(2), 0.0038},
		{"torus", geom.Torus(geom.Vec{}, z, 5, 1), x.Mul(4), 0.012},
		{"arc", geom.TubeArc(geom.Vec{}, z, x.Mul(5), 1, 1), x.Mul(4), 0.012},
		{"wire at a joint", geom.Wire([]geom.Vec{{X: -1}, {}, {X: 1, Y: 0.05}}, 1), z, 0.02},
		{"dome", geom.Dome(geom.Vec{}, z, 3, 1), z, 0.0016},
		{"dome, base", geom.Dome(geom.Vec{}, z, 3, 1), x, 0},
		{"grown block", geom.Offset(geom.Block(geom.Box{Max: geom.Vec{X: 1, Y: 1, Z: 1}}), 1), geom.Vec{X: 0.5, Y: 0.5, Z: 2}, 0.008},
		{"hole", geom.Subtract(geom.HalfSpace(z, 5), geom.Ball(geom.Vec{}, 2)), x.Mul(2), 0.0038},
		{"turned", geom.Rotate(geom.Vec{X: 1, Y: 1}, 1).Solid(geom.Block(geom.Box{Min: geom.Vec{X: -1, Y: -1, Z: -1}, Max: geom.Vec{X: 1, Y: 1, Z: 1}})),
			geom.Rotate(geom.Vec{X: 1, Y: 1}, 1).Point(x), 0},
	} {
		b := geom.Box{Min: c.at, Max: c.at}.Grow(0.1)
		l, ok := geom.SlabOf(c.s, b)
		if !ok || l.W > c.most {
			t.Errorf("%s: slab %v %v, want half thickness %v", c.name, l, ok, c.most)
		}
	}
}

// The ends of an arc that nearly closes are outside each other's slabs.
func TestArcWithANarrowGap(t *testing.T) {
	const ring, tube = 3.0, 1.0
	for _, gap := range []float64{0.05, 0.2, 0.6} {
		half := math.Pi - math.Asin((tube+gap/2)/ring)
		sin, cos := math.Sincos(half)
		s := geom.TubeArc(geom.Vec{}, geom.Vec{Z: 1}, geom.Vec{X: ring * cos, Y: -ring * sin}, 2*half, tube)
		middle := geom.Vec{X: ring * cos}
		if v := s.Evaluate(middle); math.Abs(v-gap/2) > 1e-12 {
			t.Errorf("value %v in the middle of a gap of %v", v, gap)
		}
		for seed := range int64(12) {
			geomtest.CheckSolid(t, s, geom.Box{Min: middle, Max: middle}.Grow(gap), seed)
		}
	}
}

func TestHalfSpaceBoxes(t *testing.T) {
	inf := math.Inf(1)
	all := geom.Box{Min: geom.Vec{X: -inf, Y: -inf, Z: -inf}, Max: geom.Vec{X: inf, Y: inf, Z: inf}}
	for _, c := range []struct {
		n      geom.Vec
		change func(b *geom.Box)
	}{
		{geom.Vec{X: 2}, func(b *geom.Box) { b.Max.X = 3 }},
		{geom.Vec{Y: 2}, func(b *geom.Box) { b.Max.Y = 3 }},
		{geom.Vec{Z: 2}, func(b *geom.Box) { b.Max.Z = 3 }},
		{geom.Vec{X: -2}, func(b *geom.Box) { b.Min.X = -3 }},
		{geom.Vec{Y: -2}, func(b *geom.Box) { b.Min.Y = -3 }},
		{geom.Vec{Z: -2}, func(b *geom.Box) { b.Min.Z = -3 }},
		{geom.Vec{X: 1, Y: 1}, func(b *geom.Box) {}},
	} {
		want := all
		c.change(&want)
		if got := geom.HalfSpace(c.n, 6).BoundingBox(); got != want {
			t.Errorf("normal %v: %v, want %v", c.n, got, want)
		}
	}
}

// The values of a block of 4 by 6 by 10 on boxes, by hand.
func TestBlockRange(t *testing.T) {
	s := geom.Block(geom.Box{Max: geom.Vec{X: 4, Y: 6, Z: 10}})
	box := func(x0, y0, z0, x1, y1, z1 float64) geom.Box {
		return geom.Box{Min: geom.Vec{X: x0, Y: y0, Z: z0}, Max: geom.Vec{X: x1, Y: y1, Z: z1}}
	}
	for _, c := range []struct {
		name string
		b    geom.Box
		want geom.Interval
	}{
		{"over the middle of x", box(1, 3, 5, 3.5, 3.2, 5.1), geom.Interval{Lo: -2, Hi: -0.5}},
		{"below the middle of x", box(0.5, 3, 5, 1.5, 3.2, 5.1), geom.Interval{Lo: -1.5, Hi: -0.5}},
		{"above the middle of x", box(2.5, 3, 5, 3, 3.2, 5.1), geom.Interval{Lo: -1.5, Hi: -1}},
		{"over the middle of y", box(2, 2.5, 5, 2, 5.5, 5), geom.Interval{Lo: -2, Hi: -0.5}},
		{"the whole", box(0, 0, 0, 4, 6, 10), geom.Interval{Lo: -2, Hi: 0}},
		{"beyond a corner", box(5, 7, 11, 6, 8, 12), geom.Interval{Lo: math.Sqrt(3), Hi: math.Sqrt(12)}},
		{"over the top", box(1, 1, 12, 2, 2, 13), geom.Interval{Lo: 2, Hi: 3}},
		{"over the top, wide", box(-3, 1, 12, 8, 2, 14), geom.Interval{Lo: 2, Hi: math.Sqrt(32)}},
	} {
		if got := geom.Range(s, c.b); math.Abs(got.Lo-c.want.Lo) > 1e-12 || math.Abs(got.Hi-c.want.Hi) > 1e-12 {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// Normals by hand, inside and out.
func TestShapeNormals(t *testing.T) {
	x, y, z := geom.Vec{X: 1}, geom.Vec{Y: 1}, geom.Vec{Z: 1}
	block := geom.Block(geom.Box{Max: geom.Vec{X: 4, Y: 6, Z: 10}})
	dome := geom.Dome(geom.Vec{}, z, 3, 1) // of a sphere of 5 about (0, 0, -4)
	tray := geom.DraftedBlock{Base: geom.Box{Min: geom.Vec{X: -10, Y: -5}, Max: geom.Vec{X: 10, Y: 5, Z: 4}}, Corner: 2, Draft: 0.1}.Solid()
	for _, c := range []struct {
		name string
		s    geom.Solid
		p    geom.Vec
		want geom.Vec
	}{
		{"block, left", block, geom.Vec{X: 0.5, Y: 3, Z: 5}, x.Neg()}, {"block, right", block, geom.Vec{X: 3.5, Y: 3, Z: 5}, x},
		{"block, front", block, geom.Vec{X: 2, Y: 0.5, Z: 5}, y.Neg()}, {"block, back", block, geom.Vec{X: 2, Y: 5.5, Z: 5}, y},
		{"block, bottom", block, geom.Vec{X: 2, Y: 3, Z: 0.5}, z.Neg()}, {"block, top", block, geom.Vec{X: 2, Y: 3, Z: 9.5}, z},
		{"dome, on the round", dome, geom.Vec{X: 1.4, Z: 0.8}, geom.Vec{X: 0.28, Z: 0.96}},
		{"dome, over the round", dome, geom.Vec{X: 2.8, Z: 5.6}, geom.Vec{X: 0.28, Z: 0.96}},
		{"dome, base", dome, geom.Vec{X: 1, Z: 0.1}, z.Neg()},
		{"tray, top", tray, geom.Vec{X: 1, Z: 3.9}, z}, {"tray, bottom", tray, geom.Vec{X: 1, Z: 0.1}, z.Neg()},
		{"tray, side", tray, geom.Vec{X: 10, Z: 2}, geom.Vec{X: math.Cos(0.1), Z: -math.Sin(0.1)}},
	} {
		if v, n := geom.Gradient(c.s, c.p); n.Dist(c.want) > 1e-12 || math.Abs(v-c.s.Evaluate(c.p)) > 1e-12 {
			t.Errorf("%s: %v and normal %v at %v, want %v and %v", c.name, v, n, c.p, c.s.Evaluate(c.p), c.want)
		}
	}
}

// The values on a box that is a point are the one value there, but for the last digits.
func TestShapeRangesOfPoints(t *testing.T) {
	const seed = 44
	long := geom.DraftedBlock{Base: geom.Box{Min: geom.Vec{X: -1000, Y: -5}, Max: geom.Vec{X: 1000, Y: 5, Z: 4}}, Corner: 1, Draft: 0.1}.Solid()
	for f, family := range families {
		rng := rand.New(rand.NewPCG(seed, uint64(f)))
		for range 100 {
			for _, s := range []geom.Solid{family.draw(rng), long} {
				p := randomVec(rng, 8)
				v, r := s.Evaluate(p), geom.Range(s, geom.Box{Min: p, Max: p})
				if digit := 1e-14 * (1 + math.Abs(v)); v < r.Lo-digit || v > r.Hi+digit || r.Hi-r.Lo > 1e-8 {
					t.Fatalf("%s, seed %d: %T has %v at %v, range %v", family.name, seed, s, v, p, r)
				}
			}
		}
	}
}

// Trays that widen and narrow by as much as they rise, far from top and bottom: the
// least and the greatest value are at opposite corners of the box.
func TestTrayRange(t *testing.T) {
	base := geom.Box{Min: geom.Vec{X: -100, Y: -50}, Max: geom.Vec{X: 100, Y: 50, Z: 40}}
	for _, c := range []struct {
		draft  float64
		x0, x1 float64 // of the box, from 20 to 21 in z
		lo, hi float64 // distances across, before they are taken at right angles to the side
	}{
		{math.Pi / 4, 110, 112, -10 - 1, -8}, // the side is at x = 120 to 121
		{-math.Pi / 4, 60, 62, -20, -18 + 1}, // at 80 to 79
		{math.Pi / 4, 130, 132, 9, 12},
		{-math.Pi / 4, -92, -90, 10, 13},
	} {
		tray := geom.DraftedBlock{Base: base, Corner: 3, Draft: c.draft}.Solid()
		got := geom.Range(tray, geom.Box{Min: geom.Vec{X: c.x0, Y: -1, Z: 20}, Max: geom.Vec{X: c.x1, Y: 1, Z: 21}})
		if math.Abs(got.Lo-c.lo*math.Sqrt2/2) > 1e-9 || math.Abs(got.Hi-c.hi*math.Sqrt2/2) > 1e-9 {
			t.Errorf("draft %.2f, x from %g: %v, want %g to %g times √½", c.draft, c.x0, got, c.lo, c.hi)
		}
	}
}

// Where two sides of a tray are in the box no plane speaks for both: across a sharp
// edge, and through a narrow tray.
func TestTraySlabsKeepToOneSide(t *testing.T) {
	box := func(x0, y0, z0, x1, y1, z1 float64) geom.Box {
		return geom.Box{Min: geom.Vec{X: x0, Y: y0, Z: z0}, Max: geom.Vec{X: x1, Y: y1, Z: z1}}
	}
	for _, c := range []struct {
		name string
		tray geom.DraftedBlock
		b    geom.Box
	}{
		// Leaning in by 0.2 it has lost its corner of 0.5 at z = 8 and is 2·8.38 by 2·3.38.
		{"sharp edge", geom.DraftedBlock{Base: box(-10, -5, 0, 10, 5, 10), Corner: 0.5, Draft: -0.2}, box(8.2, 3.2, 7.9, 8.5, 3.6, 8.1)},
		{"sharp edge, long way", geom.DraftedBlock{Base: box(-5, -10, 0, 5, 10, 10), Corner: 0.5, Draft: -0.2}, box(3.2, 8.2, 7.9, 3.6, 8.5, 8.1)},
		{"narrow", geom.DraftedBlock{Base: box(-0.5, -5, 0, 0.5, 5, 4), Corner: 0.2}, box(-1, -1, 1, 1, 1, 2)},
		{"narrow, the other way", geom.DraftedBlock{Base: box(-5, -0.5, 0, 5, 0.5, 4), Corner: 0.2}, box(-1, -1, 1, 1, 1, 2)},
	} {
		if l, ok := geom.SlabOf(c.tray.Solid(), c.b); ok && l.W < 0.1 {
			t.Errorf("%s: slab %+v", c.name, l)
		}
	}
}

// Over the whole of a ring's hole and far above it the range is that of the nearest and
// the farthest point, not as wide as the box.
func TestTorusRange(t *testing.T) {
	s := geom.Torus(geom.Vec{}, geom.Vec{Z: 1}, 5, 1)
	got := geom.Range(s, geom.Box{Min: geom.Vec{X: -3, Y: -4, Z: 10}, Max: geom.Vec{X: 3, Y: 4, Z: 10}})
	if lo, hi := 9.0, math.Sqrt(125)-1; math.Abs(got.Lo-lo) > 1e-9 || math.Abs(got.Hi-hi) > 1e-9 {
		t.Errorf("%v, want %g to %g", got, lo, hi)
	}
}

// Boxes of domes by hand: one less than half a sphere is widest at its base, one of
// more at the sphere's middle.
func TestDomeBoxes(t *testing.T) {
	at := geom.Vec{X: 10, Y: 20, Z: 30}
	for _, c := range []struct {
		h, wide float64 // of a base of radius 3
		axis    geom.Vec
		top     geom.Vec
	}{
		{1, 3, geom.Vec{Z: 1}, geom.Vec{Z: 1}}, {9, 5, geom.Vec{Z: 1}, geom.Vec{Z: 9}}, {9, 5, geom.Vec{Y: -1}, geom.Vec{Y: -9}},
	} {
		side := geom.Vec{X: c.wide, Y: c.wide, Z: c.wide}
		side = side.Sub(c.axis.Abs().Mul(c.wide))
		want := geom.BoxOf(at.Sub(side), at.Add(side), at.Add(c.top))
		got := geom.Dome(at, c.axis, 3, c.h).BoundingBox()
		if got.Min.Dist(want.Min)+got.Max.Dist(want.Max) > 1e-12 {
			t.Errorf("height %g along %v: %v, want %v", c.h, c.axis, got, want)
		}
	}
}
