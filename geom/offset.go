package geom

import "math"

// Offset returns s with its surface moved outwards by d mm, inwards when d is
// negative: the value of s less d. Outer edges come out round where s has the
// exact distance there and sharp where it under-states it. The bounding box
// of a shrunk solid is that of s, or less.
func Offset(s Solid, d float64) Solid {
	if s == nil || d == 0 {
		return s
	}
	if o, ok := s.(offsetter); ok {
		if t := o.offset(d); t != nil {
			return t
		}
	}
	return &shifted{s, d, s.BoundingBox().Grow(max(0, d))}
}

// offsetter is a solid that knows itself offset; nil when it does not after
// all.
type offsetter interface{ offset(d float64) Solid }

// convexBody is a convex solid of exact distance.
type convexBody interface {
	Solid
	Gradienter
	exactlyConvex()
}

// shifted is a solid with d taken from its value. Shrinking the box too would
// break law 2 beyond its corners.
type shifted struct {
	s   Solid
	d   float64
	box Box
}

func (s *shifted) BoundingBox() Box       { return s.box }
func (s *shifted) Evaluate(p Vec) float64 { return s.s.Evaluate(p) - s.d }
func (s *shifted) Range(b Box) Interval   { return Range(s.s, b).Add(-s.d) }

func (s *shifted) Gradient(p Vec) (float64, Vec) {
	v, n := Gradient(s.s, p)
	return v - s.d, n
}

func (s *shifted) PruneByValue(b Box) Solid {
	part := PruneByValue(s.s, b)
	if same(part, s.s) {
		return s
	}
	return &shifted{part, s.d, s.box}
}

// Slab is known for a grown convex body: balls of radius d touch its surface from
// inside.
func (s *shifted) Slab(b Box) (Slab, bool) {
	k, ok := s.s.(convexBody)
	if !ok || s.d < 0 {
		return Slab{}, false
	}
	v, n := k.Gradient(b.Centre())
	return contact{v - s.d, n, s.d, math.Inf(1), b.HalfDiagonal()}.slab(b)
}

func (s *shifted) offset(d float64) Solid { return Offset(s.s, s.d+d) }

func (s *shifted) place(p Transform) Solid { return Offset(p.Solid(s.s), p.k*s.d) }
