package geom

import "math"

// Rougher gives a value that is over Evaluate's by at most eps, for less work:
// far from a mesh most of it goes into telling its nearest triangle from others
// almost as near.
type Rougher interface {
	Rough(p Vec, eps float64) float64
}

// Rough returns a value of s at p that is over the true one by at most eps mm,
// and never under it. A solid that does not know how is asked for the true one.
func Rough(s Solid, p Vec, eps float64) float64 {
	if r, ok := s.(Rougher); ok {
		return r.Rough(p, eps)
	}
	return s.Evaluate(p)
}

// Rough passes over parts that are farther than the nearest so far by their
// boxes.
func (s *union) Rough(p Vec, eps float64) float64 {
	least := Rough(s.kids[0], p, eps)
	for _, k := range s.kids[1:] {
		if k.BoundingBox().Distance(p) < least {
			least = min(least, Rough(k, p, eps))
		}
	}
	return least
}

// Rough asks for the original's.
func (s *placed) Rough(p Vec, eps float64) float64 {
	return s.to.k * Rough(s.s, s.from.Point(p), eps/s.to.k)
}

// Rough asks the shells.
func (s *MeshSolid) Rough(p Vec, eps float64) float64 { return Rough(s.shape, p, eps) }

// Rough passes over triangles that are nearer by less than eps. Within the
// mesh's box the side must be told by the nearest, so there it is Evaluate.
func (s *meshBody) Rough(p Vec, eps float64) float64 {
	if s.box.Distance(p) == 0 {
		return s.Evaluate(p)
	}
	h := s.tree.nearestBut(p, eps)
	return math.Sqrt(h.square)
}
