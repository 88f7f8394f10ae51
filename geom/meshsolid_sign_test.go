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

// Two blocks that cut through each other, in one mesh: what is inside both counts once,
// by closed form, also placed, mirrored and taken out of another solid.
func TestMeasuresOfACrossedMesh(t *testing.T) {
	crossed, err := geom.NewCrossedMeshSolid(together(blockAt(0, 0, 0, 2, 2, 2), blockAt(1, 0.5, -1, 3, 1.5, 3)))
	if err != nil {
		t.Fatal(err)
	}
	turn := geom.Rotate(geom.Vec{X: 1, Y: 2, Z: 3}, 0.7)
	for _, c := range []struct {
		name         string
		solid        geom.Solid
		volume, area float64
	}{
		{"as it is", crossed, 14, 0}, // 8 + 8 - 2, and 24 + 28 - 4 - 6
		{"turned and mirrored", geom.MirrorY().Then(turn).Then(geom.Scale(2)).Solid(crossed), 8 * 14, 4 * 42},
		{"a hollow", geom.Subtract(geom.Block(geom.Box{Min: geom.Vec{X: -5, Y: -5, Z: -5}, Max: geom.Vec{X: 5, Y: 5, Z: 5}}), crossed), 986, 0},
	} {
		v, err := geom.Integrate(context.Background(), c.solid, geom.IntegrateOptions{Moments: true})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(v.Best-c.volume) > 1e-6*c.volume || v.Lo > c.volume || v.Hi < c.volume || v.Hi-v.Lo > 1e-6*c.volume {
			t.Errorf("%s: %.9g mm³ in [%.9g, %.9g], want %g", c.name, v.Best, v.Lo, v.Hi, c.volume)
		}
		if c.area > 0 && math.Abs(v.Area-c.area) > 1e-5*c.area { // of faces flush with the box, none
			t.Errorf("%s: area %.9g mm², want %g", c.name, v.Area, c.area)
		}
	}
	// The blocks' middles are (1, 1, 1) and (2, 1, 1), that of what is common (1.5, 1, 1).
	v, err := geom.Integrate(context.Background(), crossed, geom.IntegrateOptions{Moments: true})
	if want := (geom.Vec{X: (8*1 + 8*2 - 2*1.5) / 14., Y: 1, Z: 1}); err != nil || v.Centroid.Dist(want) > 1e-6 {
		t.Errorf("centroid %v, want %v: %v", v.Centroid, want, err)
	}
}

// Shells that lie upon each other, and one turned inside out that cuts through
// another, by closed form.
func TestMeasuresOfShellsUponEachOther(t *testing.T) {
	for _, c := range []struct {
		name   string
		mesh   *geom.TriMesh
		volume float64
	}{
		{"faces in one plane", together(blockAt(0, 0, 0, 2, 2, 2), blockAt(1, 1, 0, 3, 3, 1)), 8 + 4 - 1},
		{"twice the same", together(blockAt(0, 0, 0, 2, 2, 2), blockAt(0, 0, 0, 2, 2, 2)), 8},
		{"a shell turned over", together(blockAt(0, 0, 0, 2, 2, 2), turned(blockAt(1, 0.5, -1, 3, 1.5, 1))), 8 - 1},
	} {
		s, err := geom.NewCrossedMeshSolid(c.mesh)
		if err != nil {
			t.Fatal(err)
		}
		v, err := geom.Integrate(context.Background(), s, geom.IntegrateOptions{})
		if err != nil || math.Abs(v.Best-c.volume) > 1e-6*c.volume || v.Lo > c.volume || v.Hi < c.volume {
			t.Errorf("%s: %.6g mm³ in [%.6g, %.6g], want %g: %v", c.name, v.Best, v.Lo, v.Hi, c.volume, err)
		}
	}
}

// BenchmarkIntegrateCrossed measures a mesh of 180 facets that crosses itself, as a
// check does.
func BenchmarkIntegrateCrossed(b *testing.B) {
	m := geom.Rounded32(geomtest.FigureEight(8, 2, 9))
	for b.Loop() {
		s, err := geom.NewCrossedMeshSolid(m)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := geom.Integrate(context.Background(), s, geom.IntegrateOptions{RelTol: 4e-4}); err != nil {
			b.Fatal(err)
		}
	}
}
