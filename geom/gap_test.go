package geom

import (
	"math"
	"testing"
)

// Closed forms, and both ends of the bracket about them.
func TestNarrowest(t *testing.T) {
	box := func(x0, y0, z0, x1, y1, z1 float64) Solid { return Block(Box{Vec{x0, y0, z0}, Vec{x1, y1, z1}}) }
	tilted := Rotate(Vec{1, 1, 1}, 0.4)
	for _, c := range []struct {
		name string
		a, b Solid
		want float64
		at   Vec // the middle; NaN in x: many places
	}{
		{"two balls", Ball(Vec{}, 3), Ball(Vec{X: 7, Y: 2, Z: 1}, 2.2), math.Sqrt(54) - 5.2,
			Vec{7, 2, 1}.Unit().Mul((3 + math.Sqrt(54) - 2.2) / 2)},
		{"cylinder and wall", Frustum(Vec{0, 0, -4}, Vec{0, 0, 4}, 3, 3), box(5.5, -9, -9, 8, 9, 9), 2.5, Vec{X: math.NaN()}},
		{"crossing wires", Capsule(Vec{-9, 0, 0}, Vec{9, 0, 0}, 0.5), Capsule(Vec{1, -9, 2.2}, Vec{1, 9, 2.2}, 0.6), 1.1, Vec{1, 0, 1.05}},
		{"parallel walls", box(-9, -9, -9, 0, 9, 9), box(1.5, -9, -9, 8, 9, 9), 1.5, Vec{X: math.NaN()}},
		{"tilted walls", tilted.Solid(box(-9, -5, -5, 0, 5, 5)), tilted.Solid(box(1.5, -5, -5, 8, 5, 5)), 1.5, Vec{X: math.NaN()}},
		{"corner and ball", box(-5, -5, -5, 0, 0, 0), Ball(Vec{2, 2, 2}, 1), math.Sqrt(12) - 1, Vec{1, 1, 1}.Unit().Mul((math.Sqrt(12) - 1) / 2)},
		{"two meshes", mustSolid(t, auditBlock(Box{Vec{-3, -3, -3}, Vec{-1, 3, 3}})),
			tilted.Solid(mustSolid(t, auditBlock(Box{Vec{2, 2, 2}, Vec{5, 5, 5}}))), math.NaN(), Vec{X: math.NaN()}},
	} {
		g, ok := Narrowest(c.a, c.b, 10, 0)
		if !ok {
			t.Errorf("%s: none found", c.name)
			continue
		}
		if math.IsNaN(c.want) {
			c.want = g.Width // known by no formula: only the bracket counts
		}
		if math.Abs(g.Width-c.want) > 0.01*c.want || g.Lo > c.want || g.Lo < 0.88*c.want-0.05 {
			t.Errorf("%s: [%.4f, %.4f], want %.4f", c.name, g.Lo, g.Width, c.want)
		}
		if d := g.Middle().Dist(c.at); !math.IsNaN(c.at.X) && d > 0.1 {
			t.Errorf("%s: at %.3f, want %.3f", c.name, g.Middle(), c.at)
		}
		if va, vb := c.a.Evaluate(g.A), c.b.Evaluate(g.B); math.Abs(va) > 1e-3 || math.Abs(vb) > 1e-3 {
			t.Errorf("%s: places %.4f and %.4f mm off the surfaces", c.name, va, vb)
		}
	}
}

func TestNarrowestFarAndOverlapping(t *testing.T) {
	if _, ok := Narrowest(Ball(Vec{}, 3), Ball(Vec{X: 12}, 3), 5, 0); ok {
		t.Error("a gap of 6 mm found within 5")
	}
	g, ok := Narrowest(Ball(Vec{}, 3), Ball(Vec{X: 5}, 3), 5, 0)
	if !ok || math.Abs(g.Overlap-1) > 0.06 || g.Width != 0 || g.A.Dist(Vec{X: 2.5}) > 0.2 {
		t.Errorf("balls that overlap by 1 mm: %+v", g)
	}
}

// A ball within another, of which the surface is far: either way round.
func TestNarrowestOneWithinTheOther(t *testing.T) {
	small, large := Ball(Vec{X: 2}, 1), Ball(Vec{}, 9)
	for _, pair := range [][2]Solid{{small, large}, {large, small}} {
		g, ok := Narrowest(pair[0], pair[1], 3, 0)
		if !ok || math.Abs(g.Overlap-2) > 0.1 {
			t.Errorf("%+v, %v: want an overlap of 2", g, ok)
		}
	}
}

// What is asked of the bracket is kept, also where surfaces run side by side and
// where the values are only bounds of distances.
func TestNarrowestIsAsCertainAsAsked(t *testing.T) {
	ring := Rotate(Vec{X: 1}, 0.3).Solid(Subtract(Frustum(Vec{Z: -2}, Vec{Z: 2}, 5, 5), Frustum(Vec{Z: -3}, Vec{Z: 3}, 3, 3)))
	for _, other := range []Solid{Capsule(Vec{-9, 8, 0}, Vec{9, 8, 0}, 1), Move(Vec{X: 14}).Solid(ring)} {
		for _, tol := range []float64{0.5, 0.1, 0.02} {
			for _, pair := range [][2]Solid{{ring, other}, {other, ring}} {
				g, ok := Narrowest(pair[0], pair[1], 9, tol)
				if !ok || g.Width-g.Lo > tol+1e-4 || g.Lo > g.Width {
					t.Errorf("[%.4f, %.4f], %v at a tolerance of %.2f", g.Lo, g.Width, ok, tol)
				}
			}
		}
	}
}

// A gap is certain to 0.02 mm or 4 %, an overlap's half to half of that.
func TestGapSlack(t *testing.T) {
	for _, c := range []struct{ tol, bar, gap, depth float64 }{
		{0, 0.1, 0.02, 0.01}, {0, 0.24, 0.02, 0.01}, {0, 1, 0.04, 0.04}, {0, 10, 0.4, 0.4},
		{0.3, 0.1, 0.3, 0.3}, {0.001, 10, 0.001, 0.001},
	} {
		if got := (&surfaceSearch{tol: c.tol, bar: c.bar}).slack(); math.Abs(got-c.gap) > 1e-15 {
			t.Errorf("tol %g, gap %g: %g, want %g", c.tol, c.bar, got, c.gap)
		}
		if got := (&depthSearch{tol: c.tol, bar: -c.bar}).slack(); math.Abs(got-c.depth) > 1e-15 {
			t.Errorf("tol %g, depth %g: %g, want %g", c.tol, c.bar, got, c.depth)
		}
	}
}
