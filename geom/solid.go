package geom

import "math"

// Solid is a closed region of space. Evaluate is negative inside and positive
// outside, in mm. Every solid keeps these laws:
//
//  1. |Evaluate(p)-Evaluate(q)| <= |p-q|: the value may under-state the gap to
//     the skin, never over-state it.
//  2. Outside BoundingBox(), Evaluate(p) >= the distance from p to the box.
//  3. It is immutable, and safe for concurrent use.
type Solid interface {
	Evaluate(p Vec) float64
	BoundingBox() Box
}

// The optional abilities of a solid. Each makes meshing and measuring cheaper
// or sharper and none changes what comes out; they are found by type
// assertion through the functions of the same name below.
type (
	// Ranger gives an interval that holds every value on b. It may be loose,
	// never wrong.
	Ranger interface{ Range(b Box) Interval }

	// Trimmer gives a solid whose Evaluate equals the receiver's at every
	// point of b (to the last bit), and that is cheaper to ask.
	Trimmer interface{ Trim(b Box) Solid }

	// Grader gives the value together with the direction in which it grows:
	// a unit vector, on the skin the outward normal. Where the skin has an
	// edge it is the normal of one of the sides.
	Grader interface{ Grade(p Vec) (float64, Vec) }

	// Slabber gives a Slab that holds on b, or false when it knows none. A
	// false says nothing; a true must be right.
	Slabber interface{ Slab(b Box) (Slab, bool) }
)

// Slab says where the skin of a solid can be within a box: every point of the
// box with N·p-D < -W is inside the solid, every point with N·p-D > W is
// outside it. N is a unit vector; W is half the thickness, in mm, 0 when the
// skin is a plane there.
type Slab struct {
	N    Vec
	D, W float64
}

// Range returns an interval that holds every value of s on b.
func Range(s Solid, b Box) Interval {
	if r, ok := s.(Ranger); ok {
		return r.Range(b)
	}
	return lipschitzRange(s, b)
}

// lipschitzRange follows from law 1 alone.
func lipschitzRange(s Solid, b Box) Interval {
	v, r := s.Evaluate(b.Centre()), b.HalfDiagonal()
	return Interval{v - r, v + r}
}

// Trim returns a solid equal to s everywhere on b, usually cheaper.
func Trim(s Solid, b Box) Solid {
	if t, ok := s.(Trimmer); ok {
		return t.Trim(b)
	}
	return s
}

// Grade returns the value at p and the unit direction in which it grows. For
// a solid that does not say, the direction comes from differences over 1e-5 mm.
func Grade(s Solid, p Vec) (float64, Vec) {
	if g, ok := s.(Grader); ok {
		return g.Grade(p)
	}
	const h = 1e-5
	d := func(e Vec) float64 { return s.Evaluate(p.Add(e)) - s.Evaluate(p.Sub(e)) }
	g := Vec{d(Vec{X: h}), d(Vec{Y: h}), d(Vec{Z: h})}
	return s.Evaluate(p), g.Unit()
}

// SlabOf returns a slab that holds for s on b, if s knows one.
func SlabOf(s Solid, b Box) (Slab, bool) {
	if l, ok := s.(Slabber); ok {
		return l.Slab(b)
	}
	return Slab{}, false
}

// Inside reports whether p is in s. The skin itself counts as outside.
func Inside(s Solid, p Vec) bool { return s.Evaluate(p) < 0 }

// bulge returns how far a skin of curvature at most 1/r can leave its tangent
// plane within lateral distance a of the point of contact: r - √(r²-a²), or
// +Inf where that bound does not hold (a > r).
func bulge(r, a float64) float64 {
	if a > r {
		return math.Inf(1)
	}
	return a * a / (r + math.Sqrt(r*r-a*a))
}
