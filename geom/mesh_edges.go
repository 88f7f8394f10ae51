package geom

import (
	"cmp"
	"fmt"
	"slices"

	"halfpour/geom/unionfind"
)

// meshEdges knows which triangles of a mesh meet at each edge.
type meshEdges struct {
	// across holds, for edge k of triangle t, the triangle on the other side:
	// itself at an edge that more than two triangles share. See findEdges.
	across [][3]int32

	// first is the least of the edges that leave a vertex, by findEdges.
	first []int32

	// start and runs list, for each vertex, the edges that leave it: run v is
	// runs[start[v]:start[v+1]], in the order of their far ends and of their
	// numbers. Collapsed triangles have none.
	start []int32
	runs  []outEdge
}

// outEdge is a triangle's edge seen from the vertex that it leaves.
type outEdge struct {
	to   int32 // vertex at the far end
	edge int32 // 3*triangle + k
}

// findEdges pairs the edges of m. It returns an error that counts and places
// the unpaired ones. Indices must be in range.
func findEdges(m *TriMesh) (*meshEdges, error) {
	e := listEdges(m)
	e.across, e.first = make([][3]int32, len(m.Triangles)), make([]int32, len(m.Vertices))
	odd := make([]oddEdges, chunksOf(len(m.Vertices)))
	inChunks(len(m.Vertices), func(chunk, from, to int) {
		for v := from; v < to; v++ {
			e.first[v] = firstEdge(e.runs[e.start[v]:e.start[v+1]])
			e.visit(int32(v), func(_ int32, there, back []outEdge) {
				if open := unpaired(there, back); len(open) > 0 {
					odd[chunk].merge(oddEdges{1, open[0].edge})
				}
				e.setAcross(there, back)
				e.setAcross(back, there)
			})
		}
	})
	all := oddEdges{}
	for _, o := range odd {
		all.merge(o)
	}
	if all.count > 0 {
		a, b := m.edgeEnds(all.first)
		return nil, fmt.Errorf("not closed: %d open %s; first at triangle %d near (%.4g, %.4g, %.4g) mm",
			all.count, plural(all.count, "edge", "edges"), all.first/3, (a.X+b.X)/2, (a.Y+b.Y)/2, (a.Z+b.Z)/2)
	}
	return e, nil
}

// firstEdge returns the least edge of a run, or -1.
func firstEdge(run []outEdge) int32 {
	first := int32(-1)
	for _, x := range run {
		if first < 0 || x.edge < first {
			first = x.edge
		}
	}
	return first
}

func (e *meshEdges) setAcross(there, back []outEdge) {
	for _, x := range there {
		across := x.edge / 3
		if len(there) == 1 && len(back) == 1 {
			across = back[0].edge / 3
		}
		e.across[x.edge/3][x.edge%3] = across
	}
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// oddEdges counts edges that are not run along equally often both ways.
type oddEdges struct {
	count int
	first int32 // the least; only with count > 0
}

func (o *oddEdges) merge(p oddEdges) {
	if o.count == 0 || p.count > 0 && p.first < o.first {
		o.first = p.first
	}
	o.count += p.count
}

// edgeEnds returns the two ends of edge 3*triangle + k.
func (m *TriMesh) edgeEnds(edge int32) (a, b Vec) {
	t, k := m.Triangles[edge/3], edge%3
	return m.Vertices[t[k]], m.Vertices[t[(k+1)%3]]
}

// listEdges sorts all edges by the vertex that they leave and by their far end.
func listEdges(m *TriMesh) *meshEdges {
	e := &meshEdges{start: make([]int32, len(m.Vertices)+2)}
	for _, t := range m.Triangles {
		if !isCollapsed(t) {
			e.start[t[0]+2]++
			e.start[t[1]+2]++
			e.start[t[2]+2]++
		}
	}
	for v := 2; v < len(e.start); v++ {
		e.start[v] += e.start[v-1]
	}
	e.runs = make([]outEdge, e.start[len(e.start)-1])
	// start[v+1] is where the next edge of v goes, and ends as the run's end.
	for i, t := range m.Triangles {
		if isCollapsed(t) {
			continue
		}
		for k, v := range t {
			at := &e.start[v+1]
			e.runs[*at] = outEdge{t[(k+1)%3], int32(3*i + k)}
			*at++
		}
	}
	e.start = e.start[:len(m.Vertices)+1]
	inChunks(len(m.Vertices), func(_, from, to int) {
		for v := from; v < to; v++ {
			sortRun(e.runs[e.start[v]:e.start[v+1]])
		}
	})
	return e
}

func sortRun(run []outEdge) {
	if len(run) > 24 {
		slices.SortFunc(run, func(a, b outEdge) int {
			return cmp.Or(cmp.Compare(a.to, b.to), cmp.Compare(a.edge, b.edge))
		})
		return
	}
	for i := 1; i < len(run); i++ { // edges come in by rising number: stable suffices
		x, j := run[i], i
		for ; j > 0 && run[j-1].to > x.to; j-- {
			run[j] = run[j-1]
		}
		run[j] = x
	}
}

// between returns the edges from v to u.
func (e *meshEdges) between(v, u int32) []outEdge {
	run := e.runs[e.start[v]:e.start[v+1]]
	lo := 0
	if len(run) > 24 {
		lo, _ = slices.BinarySearchFunc(run, u, func(x outEdge, u int32) int { return cmp.Compare(x.to, u) })
	} else {
		for lo < len(run) && run[lo].to < u {
			lo++
		}
	}
	hi := lo
	for hi < len(run) && run[hi].to == u {
		hi++
	}
	return run[lo:hi]
}

// visit calls f with what runs from v to a vertex u and back. Over all v each
// pair of vertices with an edge between them comes once.
func (e *meshEdges) visit(v int32, f func(u int32, there, back []outEdge)) {
	run := e.runs[e.start[v]:e.start[v+1]]
	for len(run) > 0 {
		u, n := run[0].to, 1
		for n < len(run) && run[n].to == u {
			n++
		}
		if back := e.between(u, v); v < u || len(back) == 0 {
			f(u, run[:n], back)
		}
		run = run[n:]
	}
}

// unpaired returns those of the edges between two vertices that none runs back
// along.
func unpaired(there, back []outEdge) []outEdge {
	if len(there) >= len(back) {
		return there[len(back):]
	}
	return back[len(there):]
}

// openEdges returns the edges that no neighbour runs back along, each as
// 3·triangle + k, in rising order.
func (m *TriMesh) openEdges() []int32 {
	e := listEdges(m)
	found := make([][]int32, chunksOf(len(m.Vertices)))
	inChunks(len(m.Vertices), func(chunk, from, to int) {
		for v := from; v < to; v++ {
			e.visit(int32(v), func(_ int32, there, back []outEdge) {
				for _, x := range unpaired(there, back) {
					found[chunk] = append(found[chunk], x.edge)
				}
			})
		}
	})
	open := slices.Concat(found...)
	slices.Sort(open)
	return open
}

// oppositeCorners returns, for each corner of the mesh, the corner that faces it over
// its opposite edge, -1 for none; and one edge, 3·triangle + k, wherever more than
// two triangles meet.
func oppositeCorners(m *TriMesh) (across, crowded []int32) {
	across = slices.Repeat([]int32{-1}, 3*len(m.Triangles))
	e := listEdges(m)
	found := make([][]int32, chunksOf(len(m.Vertices)))
	inChunks(len(m.Vertices), func(chunk, from, to int) {
		for v := from; v < to; v++ {
			e.visit(int32(v), func(_ int32, there, back []outEdge) {
				if len(there) > 1 || len(back) > 1 {
					found[chunk] = append(found[chunk], there[0].edge)
				}
				for i := range min(len(there), len(back)) {
					c, d := prevCorner(there[i].edge), prevCorner(back[i].edge)
					across[c], across[d] = d, c
				}
			})
		}
	})
	return across, slices.Concat(found...)
}

// Shells deals the triangles into shells that hang together by their edges, in
// the order of their first triangles.
func (m *TriMesh) Shells() [][]int32 {
	sets := unionfind.New(len(m.Triangles))
	e := listEdges(m)
	for v := range m.Vertices {
		e.visit(int32(v), func(_ int32, there, back []outEdge) {
			for _, run := range [2][]outEdge{there, back} {
				for _, x := range run {
					sets.Join(there[0].edge/3, x.edge/3)
				}
			}
		})
	}
	number := make([]int, len(m.Triangles)) // of the shell, by root
	var shells [][]int32
	for t := range m.Triangles {
		root := sets.Root(int32(t))
		if int(root) == t {
			number[t], shells = len(shells), append(shells, nil)
		}
		shells[number[root]] = append(shells[number[root]], int32(t))
	}
	return shells
}
