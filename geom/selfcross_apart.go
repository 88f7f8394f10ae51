package geom

import "math"

// clearlyApart reports whether a plane certainly keeps two triangles apart but for
// the corners that they share, which come first in both. It tries what tells nearly
// all neighbours in a mesh apart, in flat parts of it too, where the exact test would
// need many digits. false says nothing.
func clearlyApart(p, q *[3]Vec, shared int) bool {
	// Rounding changes what is compared by less than 1e-14 of the product of the
	// lengths that it is made of.
	const sure = 1e-13
	o := p[0]
	p1, p2, q1, q2 := p[1].Sub(o), p[2].Sub(o), q[1].Sub(o), q[2].Sub(o)
	switch shared {
	case 2: // the normals of triangles folded upon each other look the same way
		turn := p1.Cross(p2).Dot(p1.Cross(q2))
		return turn < -sure*p1.Dot(p1)*math.Sqrt(p2.Dot(p2)*q2.Dot(q2))
	case 1: // across what lies between the middles of their angles
		u, v := p1.Add(p2), q1.Add(q2)
		n := u.Mul(math.Sqrt(v.Dot(v))).Sub(v.Mul(math.Sqrt(u.Dot(u))))
		off := sure * math.Sqrt(n.Dot(n)*max(p1.Dot(p1), p2.Dot(p2), q1.Dot(q1), q2.Dot(q2)))
		return min(n.Dot(p1), n.Dot(p2)) > off && max(n.Dot(q1), n.Dot(q2)) < -off
	case 0: // along the line between their middles
		q0 := q[0].Sub(o)
		n := q0.Add(q1).Add(q2).Sub(p1).Sub(p2)
		off := sure * math.Sqrt(n.Dot(n)*max(p1.Dot(p1), p2.Dot(p2), q0.Dot(q0), q1.Dot(q1), q2.Dot(q2)))
		return min(n.Dot(q0), n.Dot(q1), n.Dot(q2)) > max(0, n.Dot(p1), n.Dot(p2))+off
	}
	return false
}
