package geom_test

import (
	"context"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// Of a mesh that cuts through itself no facets are taken as they are: Mesh refuses it.
func TestMeshRefusesFacetsThatCross(t *testing.T) {
	ctx := context.Background()
	m := geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -4, Y: -4, Z: -4}, Max: geom.Vec{X: 4, Y: 4, Z: 4}})
	for i, v := range m.Vertices {
		if v.X > 0 && v.Y > 0 && v.Z > 0 { // one corner goes down through the bottom
			m.Vertices[i].Z = -7
		}
	}
	plain, err := geom.NewMeshSolid(m)
	if err != nil {
		t.Fatal(err)
	}
	if cuts, err := plain.CutsItself(ctx); err != nil || !cuts {
		t.Errorf("cuts itself: %v, %v", cuts, err)
	}
	if _, err := geom.Mesh(ctx, plain, geom.MeshOptions{Tolerance: 0.1}); err == nil || !strings.Contains(err.Error(), "a mesh that the solid is made of crosses itself near (") {
		t.Errorf("got %v", err)
	}
}
