package geom

import "math"

// Prism returns the outline raised along z from z0 to z1 (either may be the
// lower), as an exact signed distance with sharp edges. The cost of a question
// grows with the logarithm of the number of edges. An outline that encloses
// nothing, or z0 equal to z1, gives an empty solid: +Inf everywhere.
func Prism(o Outline, z0, z1 float64) Solid { return NewShape(o).Prism(z0, z1) }

// Shape is an outline made ready for several prisms. It is safe for concurrent use.
type Shape struct {
	edges   []edge2
	surface *outlineSurface
}

// NewShape makes an outline ready.
func NewShape(o Outline) *Shape {
	es := o.boundary()
	return &Shape{es, newOutlineSurface(es)}
}

// Area is that of the outline, as Outline.Area has it.
func (s *Shape) Area() float64 { return enclosed(s.edges) }

// Prism is that of the outline, as the function Prism makes it.
func (s *Shape) Prism(z0, z1 float64) Solid {
	z0, z1 = min(z0, z1), max(z0, z1)
	box := EmptyBox()
	if !(z0 < z1) {
		return &prism{newOutlineSurface(nil), z0, z1, box}
	}
	for _, e := range s.edges {
		box = box.Include(Vec{e.a.X, e.a.Y, z0}).Include(Vec{e.b.X, e.b.Y, z1})
	}
	return &prism{s.surface, z0, z1, box}
}

type prism struct {
	surface *outlineSurface
	z0, z1  float64
	box     Box
}

func (s *prism) BoundingBox() Box { return s.box }

func (s *prism) Evaluate(p Vec) float64 {
	return prismDistance(s.surface.distance(Vec2{p.X, p.Y}), s.overCap(p.Z))
}

// overCap is how far z is beyond the nearer cap, negative between them.
func (s *prism) overCap(z float64) float64 { return max(s.z0-z, z-s.z1) }

// prismDistance joins the distance in the plane with that along z. It grows
// with both.
func prismDistance(flat, along float64) float64 {
	switch {
	case flat <= 0 || along <= 0:
		return max(flat, along)
	case math.IsInf(flat, 1):
		return flat
	}
	return math.Sqrt(flat*flat + along*along)
}

func (s *prism) Range(b Box) Interval {
	flat, along := s.surface.values(footprint(b)), s.alongRange(b)
	return Interval{prismDistance(flat.Lo, along.Lo), prismDistance(flat.Hi, along.Hi)}
}

// alongRange is the range of overCap on b.
func (s *prism) alongRange(b Box) Interval {
	ends := Interval{
		min(s.overCap(b.Min.Z), s.overCap(b.Max.Z)),
		max(s.overCap(b.Min.Z), s.overCap(b.Max.Z)),
	}
	if mid := (s.z0 + s.z1) / 2; b.Min.Z < mid && mid < b.Max.Z {
		ends.Lo = (s.z0 - s.z1) / 2
	}
	const pad = 1e-12
	return Interval{ends.Lo - pad, ends.Hi + pad}
}

func (s *prism) PruneByValue(b Box) Solid {
	r, along := footprint(b), s.alongRange(b)
	surface := s.surface
	if v := surface.values(r); v.Hi < 0 && v.Hi < along.Lo {
		surface = &outlineSurface{tree: &edgeTree{}, deep: true} // only the caps show
	} else {
		surface = surface.pruneByValue(r)
	}
	if surface == s.surface {
		return s
	}
	return &prism{surface, s.z0, s.z1, s.box}
}

func (s *prism) Gradient(p Vec) (float64, Vec) {
	flat, g := s.surface.gradient(Vec2{p.X, p.Y})
	along, up := p.Z-s.z1, 1.0
	if below := s.z0 - p.Z; below > along {
		along, up = below, -1
	}
	v := prismDistance(flat, along)
	switch {
	case math.IsInf(v, 1):
		return v, Vec{0, 0, 1}
	case flat > 0 && along > 0:
		return v, Vec{g.X * flat / v, g.Y * flat / v, up * along / v}
	case along > flat:
		return v, Vec{0, 0, up}
	}
	return v, Vec{g.X, g.Y, 0}
}

func (s *prism) Slab(b Box) (Slab, bool) {
	r := footprint(b)
	if b.Min.Z > s.z0 && b.Max.Z < s.z1 {
		n, d, w, ok := s.surface.slab(r)
		return Slab{N: Vec{n.X, n.Y, 0}, D: d, W: w}, ok
	}
	if s.surface.values(r).Hi >= 0 {
		return Slab{}, false
	}
	switch {
	case b.Min.Z > s.z0 && b.Min.Z <= s.z1:
		return Slab{N: Vec{0, 0, 1}, D: s.z1}, true
	case b.Max.Z < s.z1 && b.Max.Z >= s.z0:
		return Slab{N: Vec{0, 0, -1}, D: -s.z0}, true
	}
	return Slab{}, false
}
