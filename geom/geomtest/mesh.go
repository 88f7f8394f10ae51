package geomtest

import "halfpour/geom"

// BlockMesh is the surface of a box, two triangles a side.
func BlockMesh(b geom.Box) *geom.TriMesh {
	m := &geom.TriMesh{}
	for i := range 8 {
		m.Vertices = append(m.Vertices, b.Corner(i))
	}
	for _, q := range [6][4]int32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Triangles = append(m.Triangles, [3]int32{q[0], q[1], q[2]}, [3]int32{q[0], q[2], q[3]})
	}
	return m
}
