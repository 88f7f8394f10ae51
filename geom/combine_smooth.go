package geom

import "math"

// SmoothUnion returns the union of a and b with the inner edge between them
// filled by a fillet. Between two planes at right angles it is exactly the
// round of that radius in mm. A radius of 0 or less gives the plain union.
//
// With u = (x+y)/2, w = (x-y)/2 and |x-y| <= r the two values x and y join to
//
//	u - r + √(r²/2 - w²)
//
// which is 0 on the circle (r-x)² + (r-y)² = r² and meets min(x, y) without a
// kink at |x-y| = r. It grows as fast as x and y do when both grow alike, and
// with neither falls: a mean of the two gradients, so law 1 holds.
func SmoothUnion(radius float64, a, b Solid) Solid {
	children := appendUnion(nil, []Solid{a, b})
	if !(radius > 0) || len(children) < 2 || isNothing(a) || isNothing(b) {
		return Union(children...)
	}
	depth := radius * (1 - math.Sqrt2/2) // the most by which the value falls
	return &smoothUnion{a, b, radius, a.BoundingBox().Union(b.BoundingBox()).Grow(depth)}
}

func isNothing(s Solid) bool {
	_, empty := s.(nothing)
	return s == nil || empty
}

type smoothUnion struct {
	a, b   Solid
	radius float64
	box    Box
}

func (s *smoothUnion) BoundingBox() Box { return s.box }

func (s *smoothUnion) Evaluate(p Vec) float64 { return s.join(s.a.Evaluate(p), s.b.Evaluate(p)) }

// join grows with both.
func (s *smoothUnion) join(x, y float64) float64 {
	w := (x - y) / 2
	if !(2*math.Abs(w) < s.radius) {
		return min(x, y)
	}
	return (x+y)/2 - s.radius + math.Sqrt(s.radius*s.radius/2-w*w)
}

func (s *smoothUnion) Range(b Box) Interval {
	x, y := Range(s.a, b), Range(s.b, b)
	return Interval{s.join(x.Lo, y.Lo), s.join(x.Hi, y.Hi)}
}

func (s *smoothUnion) Gradient(p Vec) (float64, Vec) {
	v, g := s.slope(p)
	return v, unitOr(g, g.Norm(), Vec{Z: 1})
}

// slope returns the value and its gradient, which is shorter than 1 where the
// two solids face different ways.
func (s *smoothUnion) slope(p Vec) (float64, Vec) {
	x, gx := slope(s.a, p)
	y, gy := slope(s.b, p)
	w := (x - y) / 2
	switch {
	case 2*w >= s.radius:
		return y, gy
	case 2*w <= -s.radius:
		return x, gx
	}
	share := 0.5 - 0.5*w/math.Sqrt(s.radius*s.radius/2-w*w)
	return s.join(x, y), gx.Mul(share).Add(gy.Mul(1 - share))
}

// slope returns the value of s and its gradient, where Gradient would make that
// a unit vector: a fillet within a fillet needs its true length.
func slope(s Solid, p Vec) (float64, Vec) {
	switch s := s.(type) {
	case *smoothUnion:
		return s.slope(p)
	case *union:
		return slope(s.leading(p), p)
	case *intersection:
		if k := s.leading(p); k != nil {
			return slope(k, p)
		}
	case *complement:
		v, g := slope(s.s, p)
		return -v, g.Neg()
	case *shifted:
		v, g := slope(s.s, p)
		return v - s.d, g
	case *placed:
		v, g := slope(s.s, s.from.Point(p))
		return s.to.k * v, s.to.Direction(g)
	}
	return Gradient(s, p)
}

// alone returns the child that gives the value on all of b, or nil.
func (s *smoothUnion) alone(b Box) Solid {
	x, y := Range(s.a, b), Range(s.b, b)
	switch {
	case y.Lo-x.Hi > s.radius+slack(x.Hi):
		return s.a
	case x.Lo-y.Hi > s.radius+slack(y.Hi):
		return s.b
	}
	return nil
}

func (s *smoothUnion) PruneByValue(b Box) Solid {
	if k := s.alone(b); k != nil {
		return PruneByValue(k, b)
	}
	x, y := PruneByValue(s.a, b), PruneByValue(s.b, b)
	if same(x, s.a) && same(y, s.b) {
		return s
	}
	return &smoothUnion{x, y, s.radius, s.box}
}

func (s *smoothUnion) Slab(b Box) (Slab, bool) {
	if k := s.alone(b); k != nil {
		return SlabOf(k, b)
	}
	return Slab{}, false
}

func (s *smoothUnion) place(p Transform) Solid {
	return SmoothUnion(p.k*s.radius, p.Solid(s.a), p.Solid(s.b))
}
