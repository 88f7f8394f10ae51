package geom

import "math"

// Solid is a closed region of space. Evaluate is negative inside and positive
// outside, in mm. Every solid keeps these laws:
//
//  1. |Evaluate(p)-Evaluate(q)| <= |p-q|: the value may under-state the gap to
//     the surface, never over-state it.
//  2. Outside BoundingBox(), Evaluate(p) >= the distance from p to the box.
//  3. It is immutable, and safe for concurrent use.
type Solid interface {
	Evaluate(p Vec) float64
	BoundingBox() Box
}

// Inside reports whether p is in s. The surface itself counts as outside.
func Inside(s Solid, p Vec) bool { return s.Evaluate(p) < 0 }

// bulge returns how far a surface of curvature at most 1/r can leave its tangent
// plane within lateral distance a of the point of contact: r - √(r²-a²), or
// +Inf where that bound does not hold (a > r).
func bulge(r, a float64) float64 {
	if a > r {
		return math.Inf(1)
	}
	return a * a / (r + math.Sqrt(r*r-a*a))
}
