package geom

import "math"

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
