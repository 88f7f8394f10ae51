package geom

import (
	"context"
	"math"
)

// keptRun is how many whole facets of a leaf go into one box at most.
const keptRun = 8

// crossings lists crossings in m, which complete has made of what is sampled and the whole
// facets, those of leaf i from triangle start[i] on; open are the edges at which the two
// join.
//
// Two facets of one mesh are not looked at again. They do not come to cross where they are
// put elsewhere and rounded to 32 bits, unless they are so close that a wobble could do it,
// and which ones are is known of their mesh (see closePairs): equal corners move alike, a
// turn and a scale leave a plane between two triangles one, and rounding moves no corner by
// more than wobble. Facets without an area, of which nothing is known, are never taken whole.
func (k *surface) crossings(ctx context.Context, m *TriMesh, sampled *simplified, start []int, open []int32) ([]Crossing, error) {
	n := len(sampled.Triangles)
	runs := make([]triangleRun, n, n+(len(m.Triangles)-n)/keptRun+len(k.whole))
	for t := range runs {
		runs[t] = triangleRun{int32(t), 1, 0}
	}
	corner := k.cornersLeft(sampled)
	var close []Crossing
	for i, set := range k.sets {
		known, err := set.body.knownCrossings(ctx)
		if err != nil {
			return nil, err
		}
		place := make([]int32, len(set.body.mesh.Triangles)) // of facets that are there, plus 1
		kin := int32(i) + 1
		if known.many || set.wobbles() > wobble {
			kin = 0
		}
		for t := range sampled.Triangles {
			if facet := k.facetAgain(set, sampled, int32(t), corner); facet >= 0 && place[facet] == 0 {
				place[facet], runs[t].kin = int32(t)+1, kin
			}
		}
		for l, f := range k.whole {
			if f.set == set {
				runs = addWhole(runs, f.whole, int32(start[l]), kin, place)
			}
		}
		if kin > 0 {
			close = append(close, m.crossingsAmong(known.close, place)...)
		}
	}
	fans, err := sampled.soundFans(ctx, open, 0)
	if err != nil {
		return nil, err
	}
	found, err := crossingsOf(ctx, m, runs, fans, mostCrossings)
	return append(found, close...), err
}

// wobbles returns how far rounding to 32 bits moves a corner, in mm of the mesh's own.
func (f *facets) wobbles() float64 {
	most := 0.0
	for _, p := range f.at {
		most = max(most, math.Abs(p.X), math.Abs(p.Y), math.Abs(p.Z))
	}
	return 0x1p-23 * most / f.to.k // half a unit of the last of 24 bits each way, with room for the transform's own rounding
}

// cornersLeft is corner for the vertices that are left of what is sampled.
func (k *surface) cornersLeft(sampled *simplified) []int32 {
	left := make([]int32, len(sampled.Vertices))
	for v, c := range k.corner {
		if n := sampled.number[v]; n >= 0 {
			left[n] = c
		}
	}
	return left
}

// facetAgain returns the facet of a mesh that thinning has put together again of its
// pieces, -1 for none.
func (k *surface) facetAgain(set *facets, sampled *simplified, t int32, corner []int32) int32 {
	facet := k.facet[sampled.from[t]]
	if facet < 0 {
		return -1
	}
	var got [3]int32
	for i, v := range sampled.Triangles[t] {
		got[i] = corner[v] - 1 - int32(set.first)
		if got[i] < 0 || int(got[i]) >= len(set.at) {
			return -1
		}
	}
	if want := set.corners(facet); got != want && got != [3]int32{want[1], want[2], want[0]} && got != [3]int32{want[2], want[0], want[1]} {
		return -1
	}
	return facet
}

// addWhole adds the whole facets of a leaf, of which the first is triangle t. One that is
// there already is no kin.
func addWhole(runs []triangleRun, facets []int32, t, kin int32, place []int32) []triangleRun {
	room := int32(0)
	for i, facet := range facets {
		t, kin := t+int32(i), kin
		if place[facet] > 0 {
			kin = 0
		} else {
			place[facet] = t + 1
		}
		if kin > 0 && room > 0 {
			runs[len(runs)-1].count++
			room--
			continue
		}
		runs, room = append(runs, triangleRun{t, 1, kin}), 0
		if kin > 0 {
			room = keptRun - 1
		}
	}
	return runs
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
