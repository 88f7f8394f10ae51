package geom

import "math"

// rounding is the relative error allowed for in bounds that are computed by
// another formula than the values they bound.
const rounding = 1e-12

// tangentReach returns how far a plane of unit normal n through the centre of
// b must be moved along n to touch b's last corner.
func tangentReach(b Box, n Vec) float64 {
	h := b.Size().Mul(0.5)
	return math.Abs(n.X)*h.X + math.Abs(n.Y)*h.Y + math.Abs(n.Z)*h.Z
}

// convexRange bounds a solid whose value is a convex function of place, as
// that of a convex body is: it lies above each of its tangents and is greatest
// at a corner.
func convexRange(s interface {
	Solid
	Gradienter
}, b Box) Interval {
	c, reach := b.Centre(), b.HalfDiagonal()
	v, n := s.Gradient(c)
	hi := v + reach
	if math.Abs(v) < 2*reach {
		hi = math.Inf(-1)
		for i := range 8 {
			hi = max(hi, s.Evaluate(b.Corner(i)))
		}
	}
	pad := rounding * (math.Abs(v) + reach + c.Norm())
	return Interval{v - tangentReach(b, n) - pad, hi + pad}
}

// contact is what a curved surface looks like from the centre of a box: the
// signed distance, and the direction in which it grows.
type contact struct {
	value  float64
	normal Vec
	// A ball of radius inner touches the surface at the foot of the centre from
	// inside the solid, one of radius outer from outside, +Inf for a convex
	// solid. Both are right at least within the box.
	inner, outer float64
	// lateral bounds the distance between a point of the box and the foot in
	// those directions along the surface in which it is curved.
	lateral float64
}

// slab bounds the surface by the two balls of the contact.
func (t contact) slab(b Box) (Slab, bool) {
	if !(b.HalfDiagonal()+math.Abs(t.value) <= min(t.inner, t.outer)) {
		return Slab{}, false // the balls do not cover the box
	}
	below, above := bulge(t.inner, t.lateral), 0.0
	if !math.IsInf(t.outer, 1) {
		above = bulge(t.outer, t.lateral)
	}
	at := t.normal.Dot(b.Centre()) - t.value
	return Slab{N: t.normal, D: at + (above-below)/2, W: (above + below) / 2}, true
}

// axisFrame splits space round an axis.
type axisFrame struct{ origin, axis Vec }

// at returns the distance of p from the axis, its height along it, and the
// unit vector that points from the axis to p.
func (f axisFrame) at(p Vec) (radius, height float64, out Vec) {
	d := p.Sub(f.origin)
	height = d.Dot(f.axis)
	d = d.Sub(f.axis.Mul(height))
	radius = d.Norm()
	if radius < 1e-12 {
		return radius, height, perpendicular(f.axis)
	}
	return radius, height, d.Mul(1 / radius)
}

// heights returns the range of the height along the axis over b.
func (f axisFrame) heights(b Box) Interval {
	c := b.Centre().Sub(f.origin)
	mid, reach := c.Dot(f.axis), tangentReach(b, f.axis)
	pad := rounding * (reach + c.Norm())
	return Interval{mid - reach - pad, mid + reach + pad}
}

// perpendicular returns a unit vector across the unit vector n.
func perpendicular(n Vec) Vec {
	a := n.Abs()
	switch {
	case a.X <= a.Y && a.X <= a.Z:
		return Vec{X: 1}.Cross(n).Unit()
	case a.Y <= a.Z:
		return Vec{Y: 1}.Cross(n).Unit()
	}
	return Vec{Z: 1}.Cross(n).Unit()
}

// discBox returns the least box around a disc of unit normal n.
func discBox(centre, n Vec, r float64) Box {
	v := Vec{math.Hypot(n.Y, n.Z), math.Hypot(n.X, n.Z), math.Hypot(n.X, n.Y)}.Mul(r)
	return Box{centre.Sub(v), centre.Add(v)}
}

// boxDirection returns the direction in which the distance from the box grows
// at p outside it.
func boxDirection(b Box, p Vec) Vec { return p.Sub(p.Max(b.Min).Min(b.Max)).Unit() }

// direction returns v at length 1. Unlike Unit it divides, so that what runs
// along an axis comes out as that axis to the last bit.
func direction(v Vec) Vec {
	l := v.Norm()
	if l == 0 {
		return v
	}
	return Vec{v.X / l, v.Y / l, v.Z / l}
}
