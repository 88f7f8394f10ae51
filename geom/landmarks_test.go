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

// What is made of two meshes has the corners of both for landmarks, those in the box
// alone.
func TestLandmarksOfCombinations(t *testing.T) {
	a, b := mustSolid(t, cubeMesh(1, Vec{})), mustSolid(t, cubeMesh(1, Vec{X: 1.5}))
	for name, s := range map[string]Solid{
		"union":        Union(a, b),
		"intersection": Intersect(a, b),
		"difference":   Subtract(a, b),
		"fillet":       SmoothUnion(0.2, a, b),
		"turned":       Rotate(Vec{X: 1}, math.Pi/2).Solid(Union(a, b)),
	} {
		for x, want := range map[float64]int{9: 16, 0.6: 8, 0: 4} { // corners are at -1, 0.5, 1, 2.5
			seen := map[Vec]bool{}
			Landmarks(s, Box{Vec{-9, -9, -9}, Vec{x, 9, 9}}, func(p Vec) { seen[p] = true })
			if len(seen) != want {
				t.Errorf("%s, up to x = %g: %d landmarks, want %d", name, x, len(seen), want)
			}
		}
	}
}
