package geom

// EvaluateBeyond returns the value of s at p, or, where that is within near mm of 0, any
// value that is. Whoever wants to know no more than how far beyond near a point is waits
// a fraction of the time in a mesh: a triangle within near settles it.
func EvaluateBeyond(s Solid, p Vec, near float64) float64 {
	if b, ok := s.(BeyondEvaluator); ok {
		return b.EvaluateBeyond(p, near)
	}
	return s.Evaluate(p)
}

// EvaluateBeyond of the least of values is the least of such values.
func (s *union) EvaluateBeyond(p Vec, near float64) float64 {
	least := EvaluateBeyond(s.children[0], p, near)
	for _, k := range s.children[1:] {
		least = min(least, EvaluateBeyond(k, p, near))
	}
	return least
}

// EvaluateBeyond of the greatest of values is the greatest of such values.
func (s *intersection) EvaluateBeyond(p Vec, near float64) float64 {
	most := EvaluateBeyond(s.children[0], p, near)
	for _, k := range s.children[1:] {
		most = max(most, EvaluateBeyond(k, p, near))
	}
	if s.clip {
		if d := s.box.Distance(p); d > 0 {
			most = max(most, d)
		}
	}
	return most
}

func (s *complement) EvaluateBeyond(p Vec, near float64) float64 {
	return -EvaluateBeyond(s.s, p, near)
}

// EvaluateBeyond allows for the rounding of near at another scale.
func (s *placed) EvaluateBeyond(p Vec, near float64) float64 {
	return s.to.k * EvaluateBeyond(s.s, s.from.Point(p), near/s.to.k*(1-rounding))
}

// EvaluateBeyond is exact: near the surface of the whole the two are not near theirs.
func (s *smoothUnion) EvaluateBeyond(p Vec, near float64) float64 { return s.Evaluate(p) }

// EvaluateBeyond is exact: near its surface that of the original is not.
func (s *shifted) EvaluateBeyond(p Vec, near float64) float64 { return s.Evaluate(p) }

// EvaluateBeyond asks the bodies.
func (s *MeshSolid) EvaluateBeyond(p Vec, near float64) float64 {
	return EvaluateBeyond(s.shape, p, near)
}

// EvaluateBeyond is content with any triangle within near.
func (s *meshBody) EvaluateBeyond(p Vec, near float64) float64 {
	h := s.tree.nearestBeyond(p, near)
	return s.valueBeyond(p, &h, near)
}

func (s *prunedMesh) EvaluateBeyond(p Vec, near float64) float64 {
	h := s.nearestBeyond(p, near)
	return s.whole.valueBeyond(p, &h, near)
}

// valueBeyond does not ask for the side of a point within near.
func (s *meshBody) valueBeyond(p Vec, h *hit, near float64) float64 {
	if h.square <= squareOf(near) {
		return 0
	}
	return s.value(p, h)
}

// squareOf is below all squares for a distance that is not above 0.
func squareOf(d float64) float64 {
	if d > 0 {
		return d * d
	}
	return -1
}
