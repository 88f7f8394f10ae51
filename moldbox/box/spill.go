package box

import (
	"slices"

	"halfpour/geom"
	"halfpour/geom/unionfind"
)

// spill is where liquid that stands in the frame's room runs out.
type spill struct {
	level  float64
	at     geom.Vec
	lowest int32 // vertex of the room's surface
}

// below are the parts that a mesh's surface falls into below a level: two
// vertices are of one part when edges below the level lead from one to the other.
// Where a surface is flat between its vertices, that is exact.
func below(m *geom.TriMesh, level float64) unionfind.Sets {
	parts := unionfind.New(len(m.Vertices))
	for _, t := range m.Triangles {
		for i, v := range t {
			if w := t[(i+1)%3]; m.Vertices[v].Z < level && m.Vertices[w].Z < level {
				parts.Join(v, w)
			}
		}
	}
	return parts
}

// findSpill lets the level rise and sees which parts of the surface meet. Inside
// and outside of a wall are parts of their own until the level is at its top.
// Of all rooms that meet the outside, it returns the one with the greatest
// content by floor and depth; false where no part is a room.
func findSpill(m *geom.TriMesh) (spill, bool) {
	order := make([]int32, len(m.Vertices))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortFunc(order, func(v, w int32) int {
		if higher(m, v, w) {
			return 1
		}
		return -1
	})
	z := func(v int32) float64 { return m.Vertices[v].Z }
	edges, facets := byHighest(m)
	parts := unionfind.New(len(m.Vertices))
	area := make([]float64, len(m.Vertices)) // seen from above, less that seen from below, by root
	lowest := make([]int32, len(m.Vertices)) // by root
	for i := range lowest {
		lowest[i] = int32(i)
	}
	outside := order[0]
	var best spill
	most := 0.0
	join := func(v, w int32) { // v is the higher
		at := m.Vertices[v]
		v, w = parts.Root(v), parts.Root(w)
		if v == w {
			return
		}
		for _, side := range [2][2]int32{{v, w}, {w, v}} {
			room, other := side[0], side[1]
			if other != parts.Root(outside) || room == other {
				continue
			}
			if content := area[room] * (at.Z - z(lowest[room])); content > most {
				most, best = content, spill{at.Z, at, lowest[room]}
			}
		}
		sum, low := area[v]+area[w], lowest[v]
		if z(lowest[w]) < z(low) {
			low = lowest[w]
		}
		parts.Join(v, w)
		root := parts.Root(v)
		area[root], lowest[root] = sum, low
	}
	for _, v := range order {
		for _, w := range edges.of(v) {
			join(v, w)
		}
		for _, t := range facets.of(v) {
			area[parts.Root(v)] += levelArea(m, t)
		}
	}
	return best, most > 0
}

// levelArea is the area of a facet as seen from above, negative where it faces down.
func levelArea(m *geom.TriMesh, t int32) float64 {
	a, b, c := m.Corners(int(t))
	return b.Sub(a).Cross(c.Sub(a)).Z / 2
}

// higher reports whether corner v is higher than w, as if no two had one height.
func higher(m *geom.TriMesh, v, w int32) bool {
	zv, zw := m.Vertices[v].Z, m.Vertices[w].Z
	return zv > zw || zv == zw && v > w
}

// lists holds a list of numbers for each vertex.
type lists struct{ start, all []int32 }

func (l lists) of(v int32) []int32 { return l.all[l.start[v]:l.start[v+1]] }

// newLists sorts pairs of a vertex and a number by the vertex.
func newLists(vertices int, pairs [][2]int32) lists {
	l := lists{make([]int32, vertices+1), make([]int32, len(pairs))}
	for _, p := range pairs {
		l.start[p[0]+1]++
	}
	for v := range vertices {
		l.start[v+1] += l.start[v]
	}
	next := slices.Clone(l.start)
	for _, p := range pairs {
		l.all[next[p[0]]] = p[1]
		next[p[0]]++
	}
	return l
}

// byHighest lists for each vertex its neighbours that are lower, and the facets of
// which it is the highest corner.
func byHighest(m *geom.TriMesh) (edges, facets lists) {
	var down, top [][2]int32
	for i, t := range m.Triangles {
		high := t[0]
		for k, v := range t {
			w := t[(k+1)%3]
			if higher(m, v, w) { // of an edge's two facets the one that runs down it
				down = append(down, [2]int32{v, w})
			}
			if higher(m, v, high) {
				high = v
			}
		}
		top = append(top, [2]int32{high, int32(i)})
	}
	return newLists(len(m.Vertices), down), newLists(len(m.Vertices), top)
}
