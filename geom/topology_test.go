package geom_test

import (
	"context"
	"testing"

	"halfpour/geom"
)

func TestTopology(t *testing.T) {
	ring, err := geom.Mesh(context.Background(), geom.Torus(geom.Vec{}, geom.Vec{Z: 1}, 3, 1), geom.MeshOptions{Tolerance: 0.2})
	if err != nil {
		t.Fatal(err)
	}
	cube, small := blockAt(-2, -2, -2, 2, 2, 2), blockAt(-1, -1, -1, 1, 1, 1)
	beside := small.Transform(func(p geom.Vec) geom.Vec { return p.Add(geom.Vec{X: 9}) }, false)
	for _, c := range []struct {
		name                     string
		mesh                     *geom.TriMesh
		shells, hollows, handles int
	}{
		{"cube", cube, 1, 0, 0},
		{"ring", ring, 1, 0, 1},
		{"hollow cube", together(cube, turned(small)), 1, 1, 0},
		{"ring and cube", together(ring, beside), 2, 0, 1},
	} {
		got := geom.TopologyOf(c.mesh)
		if got.Shells != c.shells || got.Hollows != c.hollows || got.Handles != c.handles {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}
