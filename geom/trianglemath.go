package geom

import "math"

// triangle is three points, counter-clockwise seen from outside. Its edge k
// runs from corner k to corner k+1.
type triangle struct{ a, b, c Vec }

// feature is the part of a triangle that is nearest to a point.
type feature uint8

const (
	onFace feature = iota
	onEdge         // onEdge+k: edge k, k = 0, 1, 2
	_
	_
	onCorner // onCorner+k: corner k
)

// flatness is the sine of a corner's angle below which a triangle counts as a
// line: its normal is rounding noise then.
const flatness = 1e-12

// normal returns the outward normal, as long as twice the area.
func (t *triangle) normal() Vec { return t.b.Sub(t.a).Cross(t.c.Sub(t.a)) }

// isFlat reports whether the triangle has no normal worth using.
func (t *triangle) isFlat() bool {
	ab, ac := t.b.Sub(t.a), t.c.Sub(t.a)
	n := ab.Cross(ac)
	return n.Dot(n) <= flatness*flatness*ab.Dot(ab)*ac.Dot(ac)
}

// unitNormal returns the outward unit normal, zero for a flat triangle.
func (t *triangle) unitNormal() Vec {
	if t.isFlat() {
		return Vec{}
	}
	return t.normal().Unit()
}

// bounds returns the least box around the triangle.
func (t *triangle) bounds() Box {
	return Box{
		Vec{min(t.a.X, t.b.X, t.c.X), min(t.a.Y, t.b.Y, t.c.Y), min(t.a.Z, t.b.Z, t.c.Z)},
		Vec{max(t.a.X, t.b.X, t.c.X), max(t.a.Y, t.b.Y, t.c.Y), max(t.a.Z, t.b.Z, t.c.Z)},
	}
}

// closest returns the way from the triangle's point nearest to p to p itself,
// and the feature that the nearest point is on. The plane is parted into the
// Voronoi regions of the features as in Ericson, "Real-Time Collision
// Detection" (2005), section 5.1.5. The edges' regions are told apart by
// n·(edge × way to p), which loses fewer digits at points far from a small
// triangle than Ericson's products of dot products.
func (t *triangle) closest(p Vec) (Vec, feature) {
	ab, ac := t.b.Sub(t.a), t.c.Sub(t.a)
	ap := p.Sub(t.a)
	n := ab.Cross(ac)
	nn := n.Dot(n)
	if nn <= flatness*flatness*ab.Dot(ab)*ac.Dot(ac) {
		return t.closestOnEdges(p)
	}
	abAP, acAP := ab.Dot(ap), ac.Dot(ap)
	if abAP <= 0 && acAP <= 0 {
		return ap, onCorner
	}
	bp := p.Sub(t.b)
	abBP, acBP := ab.Dot(bp), ac.Dot(bp)
	if abBP >= 0 && acBP <= abBP {
		return bp, onCorner + 1
	}
	cp := p.Sub(t.c)
	abCP, acCP := ab.Dot(cp), ac.Dot(cp)
	if acCP >= 0 && abCP <= acCP {
		return cp, onCorner + 2
	}
	if abAP >= 0 && abBP <= 0 && n.Dot(ab.Cross(ap)) <= 0 {
		return ap.Sub(ab.Mul(abAP / (abAP - abBP))), onEdge
	}
	if acAP >= 0 && acCP <= 0 && n.Dot(ap.Cross(ac)) <= 0 {
		return ap.Sub(ac.Mul(acAP / (acAP - acCP))), onEdge + 2
	}
	toC, toB := acBP-abBP, abCP-acCP // bc·bp and -bc·cp
	if bc := t.c.Sub(t.b); toC >= 0 && toB >= 0 && n.Dot(bc.Cross(bp)) <= 0 {
		return bp.Sub(bc.Mul(toC / (toC + toB))), onEdge + 1
	}
	return n.Mul(n.Dot(ap) / nn), onFace
}

// closestOnEdges is closest for a flat triangle.
func (t *triangle) closestOnEdges(p Vec) (Vec, feature) {
	corners := [4]Vec{t.a, t.b, t.c, t.a}
	var best Vec
	var at feature
	least := math.Inf(1)
	for k := 0; k < 3; k++ {
		way, f := closestOnEdge(k, corners[k], corners[k+1], p)
		if d := way.Dot(way); d < least {
			best, at, least = way, f, d
		}
	}
	return best, at
}

// closestOnEdge is closest for edge k alone, which runs from a to b.
func closestOnEdge(k int, a, b, p Vec) (Vec, feature) {
	ab, ap := b.Sub(a), p.Sub(a)
	t, long := ab.Dot(ap), ab.Dot(ab)
	switch {
	case t <= 0:
		return ap, onCorner + feature(k)
	case t >= long:
		return p.Sub(b), onCorner + feature((k+1)%3)
	default:
		return ap.Sub(ab.Mul(t / long)), onEdge + feature(k)
	}
}

// solidAngle returns the signed solid angle that the triangle fills as seen
// from p, in steradians, positive when p looks at its inner side (Van Oosterom
// & Strackee, IEEE Trans. Biomed. Eng. 30(2), 1983). It is 0 in the
// triangle's plane.
func (t *triangle) solidAngle(p Vec) float64 {
	a, b, c := t.a.Sub(p), t.b.Sub(p), t.c.Sub(p)
	la, lb, lc := a.Norm(), b.Norm(), c.Norm()
	up := a.Dot(b.Cross(c))
	if up == 0 {
		return 0
	}
	down := la*lb*lc + a.Dot(b)*lc + b.Dot(c)*la + c.Dot(a)*lb
	if t := up / down; down > 0 && math.Abs(t) < 0.15 { // the arc tangent's series, to 1e-10
		s := t * t
		return 2 * t * (1 - s*(1./3-s*(1./5-s*(1./7-s/9))))
	}
	return 2 * math.Atan2(up, down)
}
