package geomtest

import "halfpour/geom"

// WithNeedle returns m with a needle on a triangle, of so large a part of its
// foot, up to tip: what exporters leave on heads.
func WithNeedle(m *geom.TriMesh, triangle int, part float64, tip geom.Vec) *geom.TriMesh {
	out := &geom.TriMesh{Vertices: append([]geom.Vec(nil), m.Vertices...), Triangles: append([][3]int32(nil), m.Triangles...)}
	f := m.Triangles[triangle]
	a, b, c := m.Corners(triangle)
	mid := a.Add(b).Add(c).Mul(1.0 / 3)
	n := int32(len(m.Vertices))
	for _, p := range [3]geom.Vec{a, b, c} {
		out.Vertices = append(out.Vertices, mid.Lerp(p, part))
	}
	out.Vertices = append(out.Vertices, tip)
	out.Triangles[triangle] = [3]int32{n, n + 1, n + 3}
	out.Triangles = append(out.Triangles, [3]int32{n + 1, n + 2, n + 3}, [3]int32{n + 2, n, n + 3})
	for k := range int32(3) {
		j := (k + 1) % 3
		out.Triangles = append(out.Triangles, [3]int32{f[k], f[j], n + j}, [3]int32{f[k], n + j, n + k})
	}
	return out
}
