package geom

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// meshEdges knows which triangles of a mesh meet at each edge.
type meshEdges struct {
	// across holds, for edge k of triangle t, the triangle on the other side:
	// itself at an edge that more than two triangles share, and for collapsed
	// triangles.
	across [][3]int32

	// start and runs list, for each vertex, the edges that leave it: run v is
	// runs[start[v]:start[v+1]], in the order of their far ends. They serve
	// the making alone.
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
	e.across = make([][3]int32, len(m.Triangles))
	n := len(m.Vertices)
	odd := make([]oddEdges, chunksOf(n))
	inChunks(n, func(_, from, to int) {
		for v := from; v < to; v++ {
			sortRun(e.runs[e.start[v]:e.start[v+1]])
		}
	})
	inChunks(n, func(chunk, from, to int) {
		for v := from; v < to; v++ {
			e.pair(m, int32(v), &odd[chunk])
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

// listEdges sorts all edges by the vertex that they leave.
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

// pair joins the edges that leave v with those that run back.
func (e *meshEdges) pair(m *TriMesh, v int32, odd *oddEdges) {
	run := e.runs[e.start[v]:e.start[v+1]]
	for i := 0; i < len(run); {
		j := i + 1
		for j < len(run) && run[j].to == run[i].to {
			j++
		}
		there, back := run[i:j], e.between(run[i].to, v)
		i = j
		if len(there) > len(back) {
			odd.merge(oddEdges{1, there[len(back)].edge})
		}
		for _, x := range there {
			across := x.edge / 3
			if len(there) == 1 && len(back) == 1 {
				across = back[0].edge / 3
			}
			e.across[x.edge/3][x.edge%3] = across
		}
	}
}

// vertexNormals returns for every vertex the sum of the unit normals of its
// triangles weighted by their angles there (Thürmer & Wüthrich, J. Graphics
// Tools 3(1), 1998), not scaled; zero where that tells nothing about the
// inside: triangles that are not one closed fan, or flat ones.
func (e *meshEdges) vertexNormals(m *TriMesh) []Vec {
	normals := make([]Vec, len(m.Vertices))
	inChunks(len(normals), func(_, from, to int) {
		for v := from; v < to; v++ {
			normals[v] = e.vertexNormal(m, int32(v))
		}
	})
	return normals
}

func (e *meshEdges) vertexNormal(m *TriMesh, v int32) Vec {
	run := e.runs[e.start[v]:e.start[v+1]]
	if len(run) == 0 || !e.isFan(m, v, len(run), run[0].edge/3) {
		return Vec{}
	}
	var sum Vec
	for _, x := range run {
		t, k := m.Triangles[x.edge/3], x.edge%3
		at := m.Vertices[v]
		p, q := m.Vertices[t[(k+1)%3]].Sub(at), m.Vertices[t[(k+2)%3]].Sub(at)
		n := p.Cross(q)
		area := n.Norm()
		if area <= flatness*p.Norm()*q.Norm() {
			return Vec{}
		}
		sum = sum.Add(n.Mul(math.Atan2(area, p.Dot(q)) / area))
	}
	return sum
}

func (e *meshEdges) dropRuns() { e.start, e.runs = nil, nil }

// isFan reports whether the n triangles at v make one closed fan.
func (e *meshEdges) isFan(m *TriMesh, v int32, n int, first int32) bool {
	t := first
	for step := 1; ; step++ {
		k := 0
		for m.Triangles[t][k] != v {
			k++
		}
		next := e.across[t][k]
		if next == t || step > n {
			return false
		}
		if next == first {
			return step == n
		}
		t = next
	}
}
