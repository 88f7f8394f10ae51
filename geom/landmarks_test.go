package geom

import (
	"context"
	"math"
	"testing"
)

// Of a mesh that cuts through itself the surface is not taken facet by facet but
// sampled cell by cell. Its corners, which samples miss, are landmarks: they keep
// within the tolerance.
func TestCornersOfDrawnMeshAreKept(t *testing.T) {
	for _, c := range []struct {
		n         int
		deep, tol float64
	}{{2, 0.3, 0.2}, {3, 0.2, 0.1}} {
		m := bumpy(icosphere(4, c.n), c.deep)
		for i, v := range m.Vertices {
			if i%7 == 0 {
				m.Vertices[i] = v.Mul(1.15)
			}
		}
		s, err := NewCrossedMeshSolid(m)
		if err != nil {
			t.Fatal(err)
		}
		out, err := Mesh(context.Background(), s, MeshOptions{Tolerance: c.tol})
		if err != nil {
			t.Fatal(err)
		}
		made := mustSolid(t, out)
		for _, v := range m.Vertices {
			if d := math.Abs(made.Evaluate(v)); d > c.tol {
				t.Errorf("the corner at %v is %.3f mm off the mesh, want %g at most", v, d, c.tol)
			}
		}
	}
}
