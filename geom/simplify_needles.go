package geom

import "slices"

const (
	needle     = 2e-5 // mm: facets less high are for no program to reckon with, once rounded
	needleMove = 1e-3 // mm: how far a corner moves to be rid of one
)

// blunt collapses the short edges of needles: facets of next to no height, which crossings
// with the faces of cells leave. Their normals are noise, and other programs that compute
// them in 32 bits find them wrong. Unlike other vertices the ends of such an edge may leave
// their planes where facets are not gentle: by less than a printer or the tolerance shows.
func (s *simplifier) blunt() {
	for c := int32(0); int(c) < len(s.vertex); c += 3 {
		if s.vertex[c] < 0 || !s.isNeedle(c) {
			continue
		}
		end := c
		for _, d := range [2]int32{c + 1, c + 2} {
			if s.edge(d) < s.edge(end) {
				end = d
			}
		}
		v, u := s.vertex[end], s.vertex[nextCorner(end)]
		_ = s.collapseShort(v, u) || s.collapseShort(u, v)
	}
}

// edge is how long the edge is that begins at a corner, squared.
func (s *simplifier) edge(c int32) float64 {
	e := s.at[s.vertex[nextCorner(c)]].Sub(s.at[s.vertex[c]])
	return e.Dot(e)
}

// isNeedle tells of the triangle with the corner c as its first.
func (s *simplifier) isNeedle(c int32) bool {
	p, q, r := s.at[s.vertex[c]], s.at[s.vertex[c+1]], s.at[s.vertex[c+2]]
	n := q.Sub(p).Cross(r.Sub(p))
	return n.Dot(n) < needle*needle*max(s.edge(c), s.edge(c+1), s.edge(c+2))
}

// collapseShort moves v onto u where that bends no facet but slivers, and reports whether
// it did.
func (s *simplifier) collapseShort(v, u int32) bool {
	if s.open[v] > 0 || !s.gather(v) || len(s.ring) < 3 {
		return false
	}
	spent, floor := 0.0, leastExact
	for i := range s.ring {
		f := &s.ring[i]
		spent = max(spent, float64(s.spent[f.corner/3]))
		if f.low >= needle {
			floor = min(floor, f.good)
		}
	}
	j := slices.IndexFunc(s.ring, func(f ringFacet) bool { return f.a == u })
	if j < 0 {
		return false
	}
	cost, _, ok := s.tryCollapse(v, j, min(needleMove, s.budget-spent), floor, -1)
	if !ok || !s.linked(v, u) {
		return false
	}
	s.collapse(v, j, float32(spent+cost))
	return true
}
