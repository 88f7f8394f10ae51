package geom_test

import (
	"context"
	"math"
	"math/rand"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// What a mesh that crosses itself winds round is inside, as by the solid angle of all
// its triangles (van Oosterom & Strackee 1983, from memory); also where a line along an
// axis runs through its corners and edges.
func TestSidesOfACrossedMesh(t *testing.T) {
	m := geomtest.FigureEight(8, 2, 9)
	s, err := geom.NewCrossedMeshSolid(m)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewSource(1))
	inside := 0
	for i := range 3000 {
		p := geom.Vec{X: 20*rng.Float64() - 10, Y: 12*rng.Float64() - 6, Z: 5*rng.Float64() - 2.5}
		a, b, c := m.Corners(rng.Intn(len(m.Triangles)))
		switch i % 3 {
		case 1: // under a corner
			p.X, p.Y = a.X, a.Y
		case 2: // under an edge or a face
			q := a.Lerp(b, 0.5).Lerp(c, 0.25*float64(i%2))
			p.X, p.Y = q.X, q.Y
		}
		rounds := 0.0
		for k := range m.Triangles {
			a, b, c := m.Corners(k)
			a, b, c = a.Sub(p), b.Sub(p), c.Sub(p)
			x, y, z := a.Norm(), b.Norm(), c.Norm()
			rounds += math.Atan2(a.Dot(b.Cross(c)), x*y*z+a.Dot(b)*z+b.Dot(c)*x+c.Dot(a)*y) / (2 * math.Pi)
		}
		v := s.Evaluate(p)
		if math.Abs(v) < 1e-9 {
			continue
		}
		if v < 0 {
			inside++
		}
		if (v < 0) != (rounds > 0.5) {
			t.Errorf("at %v: %g mm, wound round %g times", p, v, rounds)
		}
	}
	if inside < 500 {
		t.Errorf("%d points inside", inside)
	}
}

// BenchmarkIntegrateCrossed measures a mesh of 180 facets that crosses itself, as a
// check does.
func BenchmarkIntegrateCrossed(b *testing.B) {
	s, err := geom.NewCrossedMeshSolid(geomtest.FigureEight(8, 2, 9))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := geom.Integrate(context.Background(), s, geom.IntegrateOptions{RelTol: 4e-4}); err != nil {
			b.Fatal(err)
		}
	}
}
