package geom_test

import (
	"context"
	"math"
	"math/rand"
	"testing"

	"halfpour/geom"
)

// Narrowing keeps the sign at every point of the box, however often it is
// done, and its interval holds the values.
func TestPruneBySignKeepsTheSign(t *testing.T) {
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
			place := geom.Rotate(randomPoint(rng, inBlock), 5*rng.Float64()).Then(geom.Scale(0.5 + rng.Float64()))
			s = geom.Union(s, place.Solid(head), geom.Ball(geom.Vec{}, 2))
		case 2:
			s = geom.Subtract(geom.Block(inBlock), s, head)
		}
		for j := 0; j < 40; j++ {
			pruned, b := s, inBlock.Grow(5)
			for depth := 0; depth < 7; depth++ {
				b = geom.BoxOf(b.Corner(rng.Intn(8)), b.Centre())
				var r geom.Interval
				pruned, r = geom.PruneBySign(pruned, b)
				for k := 0; k < 12; k++ {
					p := randomPoint(rng, b)
					if k < 8 {
						p = b.Corner(k)
					}
					v, w := s.Evaluate(p), pruned.Evaluate(p)
					if (v < 0) != (w < 0) {
						t.Fatalf("seed %d solid %d: at %v the solid says %g, pruned to %v it says %g", seed, i, p, v, b, w)
					}
					if w < r.Lo-1e-9 || w > r.Hi+1e-9 {
						t.Fatalf("seed %d solid %d: %g at %v is outside %v on %v", seed, i, w, p, r, b)
					}
				}
			}
		}
	}
}

// A mesh united with itself is itself, and with all that is outside it is
// everything; what lies on its surface is no surface then.
func TestPruneBySignOfAMeshWithItself(t *testing.T) {
	m, err := geom.Mesh(context.Background(), geom.Ball(geom.Vec{}, 3), geom.MeshOptions{Tolerance: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	ball, err := geom.NewMeshSolid(m)
	if err != nil {
		t.Fatal(err)
	}
	far := geom.Block(geom.Box{Min: geom.Vec{X: 8, Y: -1, Z: -1}, Max: geom.Vec{X: 9, Y: 1, Z: 1}})
	for _, c := range []struct {
		name string
		s    geom.Solid
		want float64
	}{
		{"twice", geom.Union(ball, ball), m.Volume()},
		{"less itself", geom.Union(far, geom.Subtract(ball, ball)), 4},
		{"common with itself", geom.Intersect(ball, ball), m.Volume()},
		{"filled again", geom.Union(geom.Subtract(geom.Block(geom.Box{Min: geom.Vec{X: -4, Y: -4, Z: -4}, Max: geom.Vec{X: 4, Y: 4, Z: 4}}), ball), ball), 512},
	} {
		got, err := geom.Integrate(context.Background(), c.s, geom.IntegrateOptions{})
		if err != nil || math.Abs(got.Best-c.want) > 1e-5*c.want || got.Cells > 5000 {
			t.Errorf("%s: got %+v, %v, want %g mm³ of few cells", c.name, got, err, c.want)
		}
		mesh, err := geom.Mesh(context.Background(), c.s, geom.MeshOptions{Tolerance: 0.1})
		if err != nil || math.Abs(mesh.Volume()-c.want) > 1e-2*c.want {
			t.Errorf("%s: meshed to %v", c.name, err)
		}
	}
}

// A solid three times as large has three times the values on a box three times as
// large, and is pruned to as much.
func TestPruneBySignScales(t *testing.T) {
	s := geom.Prism(geom.Outline{geom.Circle(geom.Vec2{}, 5)}, -1, 1) // knows no image of its own
	large := geom.Scale(3).Solid(s)
	for _, at := range []geom.Vec{{X: 5}, {X: 4.5}, {X: 8}, {}, {Z: 1}} {
		b := geom.Box{Min: at, Max: at}.Grow(0.3)
		part, r := geom.PruneBySign(s, b)
		largePart, got := geom.PruneBySign(large, geom.Scale(3).Box(b))
		if math.Abs(got.Lo-3*r.Lo) > 1e-9 || math.Abs(got.Hi-3*r.Hi) > 1e-9 {
			t.Errorf("about %v: %v, want three times %v", at, got, r)
		}
		// Of 48 sides but few are in the box: the part that is left is another solid,
		// or where no surface is the whole.
		if lighter := part != s; lighter != (r.Sign() == 0) || (largePart != large) != lighter {
			t.Errorf("about %v, values %v: pruned %v, at three times the size %v", at, r, lighter, largePart != large)
		}
	}
}

// What goes a little way into a floor is not cut off there for the floor's union with
// it, but is where the floor does not reach.
func TestPruneBySignForgetsWhatIsHidden(t *testing.T) {
	ball, cone := geom.Ball(geom.Vec{}, 3), geom.Frustum(geom.Vec{Z: -4}, geom.Vec{Z: 4}, 2.5, 0.5)
	up := geom.Vec{Z: 1}
	b := geom.Box{Min: geom.Vec{X: 1, Y: 1, Z: -1}, Max: geom.Vec{X: 3, Y: 3, Z: 1}}
	for name, c := range map[string]struct{ s, want geom.Solid }{
		"one":        {geom.Union(geom.HalfSpace(up, 0), geom.Intersect(ball, geom.HalfSpace(up.Neg(), 0.2))), geom.Union(geom.HalfSpace(up, 0), ball)},
		"two":        {geom.Union(geom.HalfSpace(up, 0), geom.Intersect(ball, cone, geom.HalfSpace(up.Neg(), 0.2))), geom.Union(geom.HalfSpace(up, 0), geom.Intersect(ball, cone))},
		"beside":     {geom.Union(geom.HalfSpace(up, -0.3), geom.Intersect(ball, geom.HalfSpace(up.Neg(), 0.2))), nil},
		"no surface": {geom.Union(geom.HalfSpace(up, 0), geom.Intersect(geom.HalfSpace(up.Neg(), 0.2), geom.HalfSpace(up.Neg(), 0.1))), geom.Subtract(geom.Block(b.Grow(9)))},
	} {
		pruned, _ := geom.PruneBySign(c.s, b)
		freed := c.want != nil
		rng := rand.New(rand.NewSource(3))
		for range 500 {
			p := randomPoint(rng, b)
			if geom.Inside(c.s, p) != geom.Inside(pruned, p) {
				t.Fatalf("%s: at %v %g, pruned %g", name, p, c.s.Evaluate(p), pruned.Evaluate(p))
			}
			freed = freed && (name == "no surface" || pruned.Evaluate(p) == c.want.Evaluate(p))
		}
		if freed != (c.want != nil) {
			t.Errorf("%s: not pruned to what shows", name)
		}
	}
}
