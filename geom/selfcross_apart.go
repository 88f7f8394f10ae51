package geom

import "math"

// clearlyApart reports whether two triangles certainly have nothing in common but the
// corners that they share, which come first in both, even after each corner has moved by
// up to wobble mm: a plane keeps them apart, which bends at a common edge. It tries what
// tells nearly all neighbours in a mesh apart, in flat parts of it too, where the exact
// test would need many digits. false says nothing.
func clearlyApart(p, q *[3]Vec, shared int, wobble float64) bool {
	// Rounding changes what is compared by less than 1e-14 of the product of the
	// lengths that it is made of.
	const sure = 1e-13
	o := p[0]
	p1, p2, q1, q2 := p[1].Sub(o), p[2].Sub(o), q[1].Sub(o), q[2].Sub(o)
	moved := 2 * wobble // of one corner seen from another
	switch shared {
	case 2: // the normals of triangles folded upon each other look the same way
		e, f, g := math.Sqrt(p1.Dot(p1)), math.Sqrt(p2.Dot(p2)), math.Sqrt(q2.Dot(q2))
		turn := p1.Cross(p2).Dot(p1.Cross(q2))
		return turn < -sure*e*e*f*g-((e+moved)*(e+moved)*(f+moved)*(g+moved)-e*e*f*g)
	case 1: // across what lies between the middles of their angles
		u, v := p1.Add(p2), q1.Add(q2)
		n := u.Mul(math.Sqrt(v.Dot(v))).Sub(v.Mul(math.Sqrt(u.Dot(u))))
		long := math.Sqrt(n.Dot(n))
		off := long * (sure*math.Sqrt(max(p1.Dot(p1), p2.Dot(p2), q1.Dot(q1), q2.Dot(q2))) + moved)
		return min(n.Dot(p1), n.Dot(p2)) > off && max(n.Dot(q1), n.Dot(q2)) < -off
	case 0: // along the line between their middles
		q0 := q[0].Sub(o)
		n := q0.Add(q1).Add(q2).Sub(p1).Sub(p2)
		long := math.Sqrt(n.Dot(n))
		off := long * (sure*math.Sqrt(max(p1.Dot(p1), p2.Dot(p2), q0.Dot(q0), q1.Dot(q1), q2.Dot(q2))) + moved)
		return min(n.Dot(q0), n.Dot(q1), n.Dot(q2)) > max(0, n.Dot(p1), n.Dot(p2))+off
	}
	return false
}
