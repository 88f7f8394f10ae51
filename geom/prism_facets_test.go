package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A prism as a mesh is the same solid: its volume is area times height, and every point is as
// far from it.
func TestPrismAsFacets(t *testing.T) {
	text, _, err := Text("B8o&i", 5)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(5, 17))
	for name, o := range map[string]Outline{
		"letters": text, "mirrored": text.Mirror(),
		"two that overlap": Outline{Circle(Vec2{}, 2), Circle(Vec2{3, 0}, 2)},
	} {
		s := Prism(o, -0.3, 0.8).(*prism)
		body, ok := s.facets()
		if !ok {
			t.Errorf("%s: no facets", name)
			continue
		}
		if got, want := body.mesh.Volume(), 1.1*o.Area(); math.Abs(got-want) > 1e-9*want {
			t.Errorf("%s: %.9f mm³, not %.9f", name, got, want)
		}
		if crossings, err := SelfCrossings(t.Context(), body.mesh, 1); err != nil || len(crossings) > 0 {
			t.Errorf("%s: %v, %v", name, crossings, err)
		}
		near := s.BoundingBox().Grow(1)
		for range 500 {
			size := near.Size()
			p := near.Min.Add(Vec{size.X * rng.Float64(), size.Y * rng.Float64(), size.Z * rng.Float64()})
			if got, want := body.Evaluate(p), s.Evaluate(p); math.Abs(got-want) > 1e-9 {
				t.Fatalf("%s: %v is at %g, not %g", name, p, got, want)
			}
		}
	}
	corner := append(Polygon(Vec2{}, Vec2{1, 0}, Vec2{1, 1}, Vec2{0, 1}), []Vec2{{1, 1}, {2, 1}, {2, 2}, {1, 2}})
	for name, o := range map[string]Outline{"two that touch in a corner": corner, "nothing": nil} {
		if _, ok := Prism(o, 0, 1).(*prism).facets(); ok {
			t.Errorf("%s has facets", name)
		}
	}
}

// Letters on a floor come out as the few facets that they are.
func TestLettersKeepTheirFacets(t *testing.T) {
	text, width, err := Text("Pike", 5)
	if err != nil {
		t.Fatal(err)
	}
	floor := Block(Box{Vec{-2, -3, -2}, Vec{width + 2, 7, 0}})
	s := Union(floor, Prism(text, -0.2, 0.5))
	m, err := Mesh(t.Context(), s, MeshOptions{Tolerance: 0.01})
	if err != nil {
		t.Fatal(err)
	}
	want := floor.BoundingBox().Volume() + 0.5*text.Area()
	if got := m.Volume(); math.Abs(got-want) > 1e-5*want {
		t.Errorf("%.5f mm³, not %.5f", got, want)
	}
	edges := len(text.boundary())
	if n := len(m.Triangles); n > 25*edges {
		t.Errorf("%d triangles for %d edges of letters", n, edges)
	}
}
