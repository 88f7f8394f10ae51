package geom

// slice is where a plane across an axis cuts a facet: from edge up, by which
// the facet's outline passes to the greater side, to edge down, by which it
// comes back. Edge i runs from corner i to corner i+1.
type slice struct {
	axis, up, down int
	height         float64
	upLow, upHigh  Vec // the ends of the edges, the lesser along axis first
	dnLow, dnHigh  Vec
}

// slice returns false for a facet wholly on one side. A corner in the plane
// counts as being on the greater side.
func (t *triangle) slice(axis int, height float64) (slice, bool) {
	v := [3]Vec{t.a, t.b, t.c}
	over := [3]bool{v[0].along(axis) >= height, v[1].along(axis) >= height, v[2].along(axis) >= height}
	s := slice{axis: axis, height: height}
	if over[0] == over[1] && over[1] == over[2] {
		return s, false
	}
	for i := range 3 {
		j := (i + 1) % 3
		switch {
		case !over[i] && over[j]:
			s.up, s.upLow, s.upHigh = i, v[i], v[j]
		case over[i] && !over[j]:
			s.down, s.dnLow, s.dnHigh = i, v[j], v[i]
		}
	}
	return s, true
}

// ends returns both ends of the cut, to rounding.
func (s *slice) ends() (up, down Vec) {
	return planeCut(s.upLow, s.upHigh, s.axis, s.height, 0), planeCut(s.dnLow, s.dnHigh, s.axis, s.height, 0)
}

// planeCut returns where an edge meets the plane, or the nearest place that is
// so far, in mm, from both its ends. Both facets at an edge get the same point
// to the bit.
func planeCut(low, high Vec, axis int, height, gap float64) Vec {
	way := high.Sub(low)
	t := (height - low.along(axis)) / way.along(axis)
	if gap > 0 {
		g := min(gap/way.Norm(), 0.1)
		t = min(1-g, max(g, t))
	}
	return low.Add(way.Mul(t))
}

// below reports exactly whether the end of the cut on the edge given is on the
// lesser side of p along axis other, one of the two that span the plane.
func (s *slice) below(low, high, p Vec, other int) bool {
	if other == (s.axis+1)%3 {
		return axis((s.axis+2)%3).orient2d(low, high, p) > 0
	}
	return axis((s.axis+1)%3).orient2d(low, high, p) < 0
}

// pierce returns the height along an axis at which the line along it through p
// pierces t. Whether it does is decided exactly; the height depends on t and
// the line alone.
func (t *triangle) pierce(k int, p Vec) (float64, bool) {
	u, w := (k+1)%3, (k+2)%3
	s, ok := t.slice(u, p.along(u))
	if !ok {
		return 0, false
	}
	from, to := s.ends()
	a, b, x := from.along(w), to.along(w), p.along(w)
	// Rounding moves an end by less than this; beyond it floats decide.
	if room := 1e-9; a < x-room && b < x-room || a > x+room && b > x+room {
		return 0, false
	}
	if s.below(s.upLow, s.upHigh, p, w) == s.below(s.dnLow, s.dnHigh, p, w) {
		return 0, false
	}
	share := 0.5
	if a != b {
		share = min(1, max(0, (x-a)/(b-a)))
	}
	return from.along(k) + share*(to.along(k)-from.along(k)), true
}
