package geom_test

import (
	"math/rand"
	"testing"

	"halfpour/geom"
)

// Narrowing keeps the sign at every point of the box, however often it is
// done, and its interval holds the values.
func TestNarrowKeepsTheSign(t *testing.T) {
	const seed = 21
	rng := rand.New(rand.NewSource(seed))
	mesh, err := geom.Mesh(t.Context(), randomSolid(rng, 5), geom.MeshOptions{Tolerance: 0.3})
	if err != nil {
		t.Fatal(err)
	}
	head, err := geom.NewMeshSolid(mesh)
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i < 60; i++ {
		s := randomSolid(rng, 1+rng.Intn(20))
		switch i % 3 {
		case 1:
			place := geom.Turn(randomPoint(rng, inBlock), 5*rng.Float64()).Then(geom.Scale(0.5 + rng.Float64()))
			s = geom.Union(s, place.Solid(head), geom.Ball(geom.Vec{}, 2))
		case 2:
			s = geom.Subtract(geom.Block(inBlock), s, head)
		}
		for j := 0; j < 40; j++ {
			narrowed, b := s, inBlock.Grow(5)
			for depth := 0; depth < 7; depth++ {
				b = geom.BoxOf(b.Corner(rng.Intn(8)), b.Centre())
				var r geom.Interval
				narrowed, r = geom.Narrow(narrowed, b)
				for k := 0; k < 12; k++ {
					p := randomPoint(rng, b)
					if k < 8 {
						p = b.Corner(k)
					}
					v, w := s.Evaluate(p), narrowed.Evaluate(p)
					if (v < 0) != (w < 0) {
						t.Fatalf("seed %d solid %d: at %v the solid says %g, narrowed to %v it says %g", seed, i, p, v, b, w)
					}
					if w < r.Lo-1e-9 || w > r.Hi+1e-9 {
						t.Fatalf("seed %d solid %d: %g at %v is outside %v on %v", seed, i, w, p, r, b)
					}
				}
			}
		}
	}
}
