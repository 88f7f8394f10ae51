package geomtest

import (
	"strings"
	"testing"

	"halfpour/geom"
)

func TestCheckMesh(t *testing.T) {
	tetra := func(x, size float64) *geom.TriMesh {
		return &geom.TriMesh{
			Vertices:  []geom.Vec{{X: x}, {X: x + size}, {X: x, Y: size}, {X: x, Z: size}},
			Triangles: [][3]int32{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}},
		}
	}
	two := func(a, b *geom.TriMesh) *geom.TriMesh {
		m := &geom.TriMesh{Vertices: append(a.Vertices, b.Vertices...), Triangles: a.Triangles}
		for _, t := range b.Triangles {
			m.Triangles = append(m.Triangles, [3]int32{t[0] + 4, t[1] + 4, t[2] + 4})
		}
		return m
	}
	open := tetra(0, 1)
	open.Triangles = open.Triangles[:3]
	for _, tt := range []struct {
		name string
		mesh *geom.TriMesh
		want string // in the first report; "" for a sound mesh
	}{
		{"sound", tetra(0, 1), ""},
		{"two shells", two(tetra(0, 1), tetra(2, 1)), ""},
		{"open", open, "mesh: 3 open edges"},
		{"smaller than a float32 tells", tetra(1000, 1e-5), "rounded to float32: 2 triangles with two equal corners"},
		{"crossing", two(tetra(0, 1), tetra(0.25, 1)), "cross near"},
	} {
		l := &recorder{TB: t}
		CheckMesh(l, tt.mesh)
		if got := strings.Join(l.faults, "\n"); (got == "") != (tt.want == "") || !strings.Contains(got, tt.want) {
			t.Errorf("%s: reported %q, want %q", tt.name, got, tt.want)
		}
	}
}
