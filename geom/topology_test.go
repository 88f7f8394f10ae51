package geom_test

import (
	"context"
	"slices"
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

// Of several shells the place named is on the second, and a hollow's on the first.
func TestTopologySaysWhere(t *testing.T) {
	at := func(x float64) *geom.TriMesh { return blockAt(x, 0, 0, x+1, 1, 1) }
	got := geom.TopologyOf(together(blockAt(-9, -9, -9, -1, 9, 9), at(10), at(20), at(30), turned(at(-4)), turned(at(-7))))
	if got.Shells != 4 || got.Hollows != 2 || got.ShellAt.X < 10 || got.ShellAt.X > 11 || got.HollowAt.X < -4 || got.HollowAt.X > -3 {
		t.Errorf("%+v", got)
	}
}

// A cup closed at its rim holds what a block does; a closed mesh has no rim.
func TestCloseLevel(t *testing.T) {
	cup := blockAt(0, 0, 0, 2, 4, 3)
	cup.CloseLevel(3)
	if n := len(cup.Triangles); n != 12 {
		t.Errorf("a closed mesh gets %d more triangles", n-12)
	}
	cup.Triangles = slices.DeleteFunc(cup.Triangles, func(t [3]int32) bool {
		return cup.Vertices[t[0]].Z+cup.Vertices[t[1]].Z+cup.Vertices[t[2]].Z == 9
	})
	cup.CloseLevel(3)
	if v := cup.Volume(); v != 24 || len(geom.Audit(cup)) > 0 || cup.Vertices[len(cup.Vertices)-1] != (geom.Vec{X: 1, Y: 2, Z: 3}) {
		t.Errorf("%v mm³ with %d triangles, %v, middle %v", v, len(cup.Triangles), geom.Audit(cup), cup.Vertices[len(cup.Vertices)-1])
	}
}
