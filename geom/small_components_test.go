package geom

import (
	"math"
	"slices"
	"testing"
)

// tetrahedronAt appends a small closed piece to the mesh.
func tetrahedronAt(m *TriMesh, at Vec, size float64) {
	n := int32(len(m.Vertices))
	m.Vertices = append(m.Vertices, at, at.Add(Vec{X: size}), at.Add(Vec{Y: size}), at.Add(Vec{Z: size}))
	m.Triangles = append(m.Triangles, [3]int32{n, n + 2, n + 1}, [3]int32{n, n + 1, n + 3},
		[3]int32{n, n + 3, n + 2}, [3]int32{n + 1, n + 2, n + 3})
}

func sampledSurface(m *TriMesh) *surface {
	n := len(m.Triangles)
	return &surface{sampled: m, gentle: make([]bool, n), facet: slices.Repeat([]int32{-1}, n), corner: make([]int32, len(m.Vertices))}
}

func TestDropSmallComponents(t *testing.T) {
	m := &TriMesh{}
	tetrahedronAt(m, Vec{}, 5)
	tetrahedronAt(m, Vec{X: 1, Y: 1, Z: 1}, 0.02)
	tetrahedronAt(m, Vec{X: 20}, 0.5)
	tetrahedronAt(m, Vec{X: 30}, 0.099/math.Sqrt(3)) // the diagonal of its box is 0.099 mm
	tetrahedronAt(m, Vec{X: 40}, 0.101/math.Sqrt(3))
	k := sampledSurface(m)
	k.drop(k.smallComponents(0.1, 0.001))
	if len(k.sampled.Triangles) != 12 || len(k.gentle) != 12 {
		t.Errorf("kept %d triangles and %d marks, want 12 of each", len(k.sampled.Triangles), len(k.gentle))
	}
	if v := k.sampled.Volume(); v < 125.0/6 {
		t.Errorf("kept %.3f mm³: the crumb should be gone, not the piece of 0.5 mm", v)
	}
	small := &TriMesh{}
	tetrahedronAt(small, Vec{}, 0.02)
	k = sampledSurface(small)
	k.drop(k.smallComponents(0.1, 0.001))
	if len(k.sampled.Triangles) != 4 {
		t.Error("a solid that is small as a whole must stay")
	}
	k = sampledSurface(m)
	k.corner[5] = 1 // of the small component: it has cuts of facets
	k.drop(k.smallComponents(0.1, 0.001))
	if len(k.sampled.Triangles) != 16 {
		t.Error("a piece with cuts of facets that is not thin must stay")
	}
	k = sampledSurface(m)
	k.corner[5] = 1
	k.drop(k.smallComponents(0.1, 0.01))
	if len(k.sampled.Triangles) != 12 {
		t.Error("a thin piece with cuts of facets should be gone")
	}
	m.Triangles = append(m.Triangles[:4:4], m.Triangles[5:]...) // whole facets close it
	k = sampledSurface(m)
	k.corner[5] = 1
	k.drop(k.smallComponents(0.1, 0.01))
	if len(k.sampled.Triangles) != 15 {
		t.Error("what whole facets join must stay")
	}
}
