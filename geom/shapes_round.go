package geom

import "math"

// Ball returns the ball of radius r in mm; a negative radius gives an empty
// solid.
func Ball(centre Vec, r float64) Solid {
	if !(r >= 0) {
		return nothing{}
	}
	return &ball{centre, r}
}

type ball struct {
	centre Vec
	r      float64
}

func (s *ball) Evaluate(p Vec) float64 { return p.Dist(s.centre) - s.r }
func (s *ball) BoundingBox() Box       { return Box{s.centre, s.centre}.Grow(s.r) }

func (s *ball) Range(b Box) Interval {
	return Interval{b.Distance(s.centre) - s.r, b.FarDistance(s.centre) - s.r}
}

func (s *ball) Gradient(p Vec) (float64, Vec) {
	d := p.Sub(s.centre)
	l := d.Norm()
	return l - s.r, unitOr(d, l, Vec{Z: 1})
}

// unitOr returns d, whose length is l, scaled to length 1, or other when d is
// too short to have a direction.
func unitOr(d Vec, l float64, other Vec) Vec {
	if l < 1e-12 {
		return other
	}
	return d.Mul(1 / l)
}

func (s *ball) Slab(b Box) (Slab, bool) {
	v, n := s.Gradient(b.Centre())
	return contact{v, n, s.r, math.Inf(1), b.HalfDiagonal()}.slab(b)
}

func (s *ball) place(p Transform) Solid { return &ball{p.Point(s.centre), p.k * s.r} }

func (s *ball) offset(d float64) Solid {
	if s.r+d < 0 {
		return nil
	}
	return &ball{s.centre, s.r + d}
}

// Capsule returns the points within r of the segment ab, of exact distance; a
// negative radius gives an empty solid.
func Capsule(a, b Vec, r float64) Solid {
	if !(r >= 0) {
		return nothing{}
	}
	length := a.Dist(b)
	if length == 0 {
		return Ball(a, r)
	}
	return &capsule{axisFrame{a, direction(b.Sub(a))}, b, length, r}
}

type capsule struct {
	axisFrame
	end    Vec
	length float64
	r      float64
}

// Wire returns the points within r of the polyline, which need not be planar:
// a chain of capsules.
func Wire(axis []Vec, r float64) Solid {
	if len(axis) == 0 {
		return nothing{}
	}
	if len(axis) == 1 {
		return Ball(axis[0], r)
	}
	children := make([]Solid, 0, len(axis)-1)
	for i := 1; i < len(axis); i++ {
		children = append(children, Capsule(axis[i-1], axis[i], r))
	}
	return Union(children...)
}

func (s *capsule) BoundingBox() Box { return BoxOf(s.origin, s.end).Grow(s.r) }

func (s *capsule) Evaluate(p Vec) float64 { return s.fromAxis(p).Norm() - s.r }

// fromAxis returns the vector to p from the nearest point of the segment.
func (s *capsule) fromAxis(p Vec) Vec {
	d := p.Sub(s.origin)
	t := d.Dot(s.axis)
	switch {
	case t <= 0:
		return d
	case t >= s.length:
		return p.Sub(s.end)
	}
	return d.Sub(s.axis.Mul(t))
}

func (s *capsule) Range(b Box) Interval { return convexRange(s, b) }

func (s *capsule) Gradient(p Vec) (float64, Vec) {
	d := s.fromAxis(p)
	l := d.Norm()
	return l - s.r, unitOr(d, l, perpendicular(s.axis))
}

func (s *capsule) Slab(b Box) (Slab, bool) {
	v, n := s.Gradient(b.Centre())
	t := contact{v, n, s.r, math.Inf(1), b.HalfDiagonal()}
	if h := s.heights(b); h.Lo >= 0 && h.Hi <= s.length {
		t.lateral = tangentReach(b, s.axis.Cross(n)) // straight along the axis
	}
	return t.slab(b)
}

func (s *capsule) place(p Transform) Solid {
	return Capsule(p.Point(s.origin), p.Point(s.end), p.k*s.r)
}

func (s *capsule) offset(d float64) Solid {
	if s.r+d < 0 {
		return nil
	}
	return Capsule(s.origin, s.end, s.r+d)
}
