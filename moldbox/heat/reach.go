package heat

import "math"

// sides returns by how much the fill is warmer than before at the box's faces at low
// and high X, at most.
func (s *state) sides(before []float64) (rise [2]float64) {
	for i, p := range s.g.parts {
		if l := &s.g.leaves[p.leaf]; p.body == s.g.fill() {
			if r := s.temperature[i] - before[i]; l.lo[0] == 0 {
				rise[0] = math.Max(rise[0], r)
			} else if int(l.hi[0]) == s.g.n(0) {
				rise[1] = math.Max(rise[1], r)
			}
		}
	}
	return rise
}

// reach returns how far from what is cast and from wires the fill is warmer than before by
// each rise, mm: a temperature is taken as linear between neighbours.
func (s *state) reach(before []float64, rises []float64) []float64 {
	far := make([]float64, len(rises))
	fill := s.g.fill()
	for i := range s.links {
		l := &s.links[i]
		a, b := &s.g.parts[l.a], &s.g.parts[l.b]
		if a.body != fill || b.body != fill {
			continue
		}
		ta, tb := s.temperature[l.a]-before[l.a], s.temperature[l.b]-before[l.b]
		da, db := a.fromHot, b.fromHot
		if da > db {
			ta, tb, da, db = tb, ta, db, da
		}
		for k, rise := range rises {
			switch {
			case tb >= rise:
				far[k] = math.Max(far[k], db)
			case ta >= rise:
				far[k] = math.Max(far[k], da+(db-da)*(ta-rise)/(ta-tb))
			}
		}
	}
	return far
}
