package geom

import (
	"math/rand/v2"
	"testing"
)

// A rough value is never under the true one, and over it by no more than asked.
func TestRoughIsNearlyTheValue(t *testing.T) {
	const seed = 19
	rng := rand.New(rand.NewPCG(seed, 0))
	mesh := mustSolid(t, auditBlock(Box{Vec{-3, -3, -3}, Vec{-1, 3, 3}}))
	solids := []Solid{
		mesh,
		Turn(Vec{1, 2, 3}, 0.7).Then(Scale(1.7)).Then(Move(Vec{X: 4})).Solid(mesh),
		Union(Move(Vec{Y: 8}).Solid(mesh), Ball(Vec{2, 2, 2}, 2), MirrorX().Solid(mesh)),
		Subtract(Ball(Vec{}, 5), mesh),
	}
	for i, s := range solids {
		for range 2000 {
			p, eps := randomIn(rng, Box{Vec{-20, -20, -20}, Vec{20, 20, 20}}), 3*rng.Float64()
			want, got := s.Evaluate(p), Rough(s, p, eps)
			if got < want-1e-12 || got > want+eps+1e-12 {
				t.Fatalf("seed %d, solid %d at %v: %.6f, want %.6f to %.6f", seed, i, p, got, want, want+eps)
			}
		}
	}
}
