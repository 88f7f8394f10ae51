package geom

import (
	"context"
	"math"
)

// keptRun is how many whole facets of a leaf go into one box at most, copiedRun how many
// triangles of a copy.
const keptRun, copiedRun = 8, 32

// crossings lists crossings in m, which complete has made of what is sampled and the whole
// facets, those of leaf i from triangle start[i] on; open are the edges at which the two
// join.
//
// Two facets of one mesh are not looked at again. They do not come to cross where they are
// put elsewhere and rounded to 32 bits, unless they are so close that a wobble could do it,
// and which ones are is known of their mesh (see closePairs): equal corners move alike, a
// turn and a scale leave a plane between two triangles one, and rounding moves no corner by
// more than wobble. Facets without an area, of which nothing is known, are never taken whole.
//
// Nor is what is in one copy, by its number in copies: it is exactly as it is at home.
func (k *surface) crossings(ctx context.Context, m *TriMesh, sampled *thinned, start []int, copies, open []int32) ([]Crossing, error) {
	kin := make([]int32, len(m.Triangles))
	var close []Crossing
	for i, set := range k.sets {
		known, err := set.body.knownCrossings(ctx)
		if err != nil {
			return nil, err
		}
		place := k.placesOf(set, sampled, start)
		if known.many || max(wobbles(set.at), k.finest())/set.to.k > wobble {
			continue
		}
		for _, t := range place {
			if t > 0 {
				kin[t-1] = int32(i) + 1
			}
		}
		close = append(close, m.crossingsAmong(known.close, place)...)
	}
	runs := runsOf(nil, kin, 0, len(sampled.Triangles), keptRun)
	for l := range k.whole {
		runs = runsOf(runs, kin, start[l], start[l+1], keptRun)
	}
	for t, n := range copies {
		if n > 0 {
			kin[t] = int32(len(k.sets)) + n
		}
	}
	runs = runsOf(runs, kin, start[len(k.whole)], len(kin), copiedRun)
	fans, err := sampled.soundFans(ctx, open, 0)
	if err != nil {
		return nil, err
	}
	found, err := crossingsOf(ctx, m, runs, fans, mostCrossings)
	return append(found, close...), err
}

// placesOf returns where in the mesh that complete has made the facets of a set are, plus 1; 0
// for those that are not there.
func (k *surface) placesOf(set *facets, sampled *thinned, start []int) []int32 {
	place := make([]int32, len(set.body.mesh.Triangles))
	for t := range sampled.Triangles {
		if facet := sampled.facetAgain(set, int32(t)); facet >= 0 && place[facet] == 0 {
			place[facet] = int32(t) + 1
		}
	}
	for l, f := range k.whole {
		if f.set != set {
			continue
		}
		for i, facet := range f.whole {
			if place[facet] == 0 {
				place[facet] = int32(start[l]+i) + 1
			}
		}
	}
	return place
}

// wobbles returns how far rounding to 32 bits moves a corner, in mm: half a unit of the
// last of 24 bits each way, with room for a transform's own rounding.
func wobbles(at []Vec) float64 {
	most := 0.0
	for _, p := range at {
		most = max(most, math.Abs(p.X), math.Abs(p.Y), math.Abs(p.Z))
	}
	return 0x1p-23 * most
}

// runsOf adds runs, of at most so many, of the triangles from one on up to but not another; kin
// is what each is of.
func runsOf(runs []triangleRun, kin []int32, from, to, most int) []triangleRun {
	for t := from; t < to; {
		end := t + 1
		for kin[t] > 0 && end < to && end < t+most && kin[end] == kin[t] {
			end++
		}
		runs = append(runs, triangleRun{int32(t), int32(end - t), kin[t]})
		t = end
	}
	return runs
}

// facetAgain returns the facet of a mesh that thinning has put together again of its
// pieces, -1 for none.
func (s *thinned) facetAgain(set *facets, t int32) int32 {
	facet := s.facet[t]
	if facet < 0 {
		return -1
	}
	var got [3]int32
	for i, v := range s.Triangles[t] {
		got[i] = s.corner[v] - 1 - int32(set.first)
		if got[i] < 0 || int(got[i]) >= len(set.at) {
			return -1
		}
	}
	if want := set.corners(facet); got != want && got != [3]int32{want[1], want[2], want[0]} && got != [3]int32{want[2], want[0], want[1]} {
		return -1
	}
	return facet
}

// crossingsAmong returns the pairs of facets that cross where they are in m.
func (m *TriMesh) crossingsAmong(pairs [][2]int32, place []int32) (list []Crossing) {
	for _, pair := range pairs {
		a, b := place[pair[0]]-1, place[pair[1]]-1
		if a < 0 || b < 0 || !m.hasArea(a) || !m.hasArea(b) {
			continue
		}
		p, q := m.cornersOf(a), m.cornersOf(b)
		if shared, ok := trianglesCross(p, q); ok {
			list = append(list, crossingOf(a, b, shared, &p, &q))
		}
	}
	return list
}
