package head

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"halfpour/examples/heads"
	"halfpour/geom"
	"halfpour/moldbox"
)

func demoHook(t *testing.T, kind heads.HookKind) *geom.TriMesh {
	t.Helper()
	m, err := heads.Hook(context.Background(), kind, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Of head and hook in one file the wire with an eye is the hook, whichever comes
// first; what only looks like one stays with the head.
func TestHookApart(t *testing.T) {
	ball := heads.Ball(10, 8)
	hook := demoHook(t, heads.HookKind{Barbed: true}).Transform(geom.Move(geom.Vec{X: -1, Y: 9}).Point, false)
	pin, err := geom.Mesh(context.Background(), geom.Capsule(geom.Vec{X: 3}, geom.Vec{X: 30}, 0.5), geom.MeshOptions{Tolerance: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	ring, err := geom.Mesh(context.Background(), geom.Torus(geom.Vec{}, geom.Vec{X: 1}, 8, 0.5), geom.MeshOptions{Tolerance: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	fin := heads.Ball(1, 8).Transform(func(v geom.Vec) geom.Vec { return geom.Vec{X: 12 * v.X, Y: 20 + 8*v.Y, Z: 0.4 * v.Z} }, false)
	bored, err := geom.Mesh(context.Background(), geom.Subtract(geom.Frustum(geom.Vec{X: -8}, geom.Vec{X: 8}, 3, 3),
		geom.Capsule(geom.Vec{X: -4}, geom.Vec{X: -4, Y: 9}, 1.2), geom.Capsule(geom.Vec{X: -4}, geom.Vec{X: 20}, 1.2)), geom.MeshOptions{Tolerance: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	if !moldbox.LikeWire(bored) {
		t.Fatal("the head with a bore is to pass for a wire")
	}
	for _, c := range []struct {
		name  string
		mesh  *geom.TriMesh
		head  float64 // volume
		hooks int
		long  float64 // of the wire without an eye in it, a fifth off at most; 0: none
	}{
		{"a head", ball, ball.Volume(), 0, 0},
		{"a head and its hook", joined(ball, hook), ball.Volume(), 1, 0},
		{"a hook and its head", joined(hook, ball), ball.Volume(), 1, 0},
		{"a head with a bore, and its hook", joined(bored, hook), bored.Volume(), 1, 0},
		{"a hook alone", hook, hook.Volume(), 0, 0},
		{"a head with a pin", joined(ball, pin), ball.Volume() + pin.Volume(), 0, 28},
		{"a head with a ring", joined(ball, ring), ball.Volume() + ring.Volume(), 0, 0},
		{"a head with a fin", joined(ball, fin), ball.Volume() + fin.Volume(), 0, 0},
	} {
		h, err := Read(context.Background(), "head.stl", loosen(c.mesh).binary(t))
		if err != nil {
			t.Fatal(c.name, err)
		}
		if len(h.Hooks) != c.hooks || h.Mesh.Volume() < c.head-0.01 || h.Mesh.Volume() > c.head+0.01 {
			t.Errorf("%s: %d hooks, head of %.2f mm³, want %.2f", c.name, len(h.Hooks), h.Mesh.Volume(), c.head)
		}
		long := 0.0
		for _, w := range h.Wires {
			long += w.Long
		}
		if math.Abs(long-c.long) > c.long/5 {
			t.Errorf("%s: a wire %.3g times as long as it is thick, want %g", c.name, long, c.long)
		}
		used := map[int32]bool{}
		for _, triangle := range h.Mesh.Triangles {
			used[triangle[0]], used[triangle[1]], used[triangle[2]] = true, true, true
		}
		if len(used) != len(h.Mesh.Vertices) {
			t.Errorf("%s: %d vertices, %d of the head", c.name, len(h.Mesh.Vertices), len(used))
		}
	}
}

// Hook measures the hook beside a head or alone, in mm, and says what is no hook.
func TestMeasuredHookOfAFile(t *testing.T) {
	hook := demoHook(t, heads.HookKind{}).Transform(geom.Move(geom.Vec{X: -1, Y: 9}).Point, false)
	inch := hook.Transform(func(v geom.Vec) geom.Vec { return v.Mul(1 / 25.4) }, false)
	cut, err := geom.Mesh(context.Background(), geom.Capsule(geom.Vec{X: -3}, geom.Vec{X: 30}, 0.5), geom.MeshOptions{Tolerance: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name   string
		mesh   *geom.TriMesh
		unit   float64
		reason string
	}{
		{"alone", hook, 1, ""},
		{"in inches", inch, 25.4, ""},
		{"beside a head", joined(heads.Ball(10, 8), hook), 1, ""},
		{"no hook", heads.Ball(10, 8), 1, "is no wire"},
		{"no eye", cut, 1, "has no eye"},
		{"two hooks", joined(joined(heads.Ball(10, 8), hook), hook.Transform(geom.Move(geom.Vec{Z: 20}).Point, false)), 1, "2 bodies look like hooks"},
	} {
		h, err := Read(context.Background(), "hook.stl", loosen(c.mesh).binary(t))
		if err != nil {
			t.Fatal(c.name, err)
		}
		b, err := h.Hook(context.Background(), c.unit)
		var refused *Error
		switch {
		case c.reason != "":
			if !errors.As(err, &refused) || refused.Problems[0].Rule != "not-a-hook" || !strings.Contains(refused.Problems[0].Message, c.reason) || len(refused.Problems[0].Hints) == 0 {
				t.Errorf("%s: %v", c.name, err)
			}
		case err != nil:
			t.Errorf("%s: %v", c.name, err)
		case b.Eye.Dist(geom.Vec{X: -1, Y: 9}) > 0.03 || b.Wire < 1 || b.Wire > 1.15:
			t.Errorf("%s: eye at %v, wire %.3f", c.name, b.Eye, b.Wire)
		}
	}
}

// A hook whose eye, shank and point are shells of their own, that overlap or only touch, is
// one hook, alone in its file as beside a head; a ring that lies apart stays with the head.
func TestHookOfSeveralShells(t *testing.T) {
	const r, leg, gape = 0.55, 8.95, 10.0
	mesh := func(s geom.Solid) *geom.TriMesh {
		m, err := geom.Mesh(context.Background(), s, geom.MeshOptions{Tolerance: 0.03})
		if err != nil {
			t.Fatal(err)
		}
		return m.Transform(geom.Move(geom.Vec{X: -1, Y: 9}).Point, false)
	}
	eye := mesh(geom.Torus(geom.Vec{}, geom.Vec{Z: 1}, 1.55, r))
	bend := geom.Vec{X: 26, Y: -leg + gape/2}
	wire := []geom.Solid{geom.Capsule(geom.Vec{Y: -1.6}, geom.Vec{Y: 2 - leg}, r), geom.TubeArc(geom.Vec{X: 2, Y: 2 - leg}, geom.Vec{Z: 1}, geom.Vec{Y: 2 - leg}, math.Pi/2, r),
		geom.Capsule(geom.Vec{X: 2, Y: -leg}, geom.Vec{X: 26, Y: -leg}, r), geom.TubeArc(bend, geom.Vec{Z: 1}, geom.Vec{X: 26, Y: -leg}, math.Pi, r)}
	end := geom.Vec{X: 22, Y: -leg + gape}
	shank := mesh(geom.Union(append(wire, geom.Capsule(geom.Vec{X: 26, Y: end.Y}, end, r))...))
	flat := mesh(geom.Union(append(wire, geom.Frustum(geom.Vec{X: 26, Y: end.Y}, end, r, r))...)) // ends in a flat
	way := geom.Vec{X: -1}
	over := mesh(geom.Frustum(end.Sub(way), end.Add(way.Mul(4)), r, 0.08))
	touching := mesh(geom.Frustum(end, end.Add(way.Mul(4)), r, 0.08))
	ball := heads.Ball(10, 8)
	ring := mesh(geom.Torus(geom.Vec{X: 2, Z: 12}, geom.Vec{X: 1}, 3, 0.4))
	for _, c := range []struct {
		name  string
		parts []*geom.TriMesh
		head  float64 // volume; 0 for none
	}{
		{"the point touches", []*geom.TriMesh{touching, flat, eye}, 0},
		{"beside a head with a ring", []*geom.TriMesh{eye, ball, ring, shank, over}, ball.Volume() + ring.Volume()},
	} {
		m := c.parts[0]
		for _, p := range c.parts[1:] {
			m = joined(m, p)
		}
		h, err := Read(context.Background(), "hook.stl", loosen(m).binary(t))
		if err != nil {
			t.Fatal(c.name, err)
		}
		if c.head > 0 && (len(h.Hooks) != 1 || h.Mesh.Volume() < c.head-0.01 || h.Mesh.Volume() > c.head+0.01) {
			t.Errorf("%s: %d hooks, head of %.2f mm³, want %.2f", c.name, len(h.Hooks), h.Mesh.Volume(), c.head)
		}
		b, err := h.Hook(context.Background(), 1)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if b.Eye.Dist(geom.Vec{X: -1, Y: 9}) > 0.03 || b.Wire < 1.05 || b.Wire > 1.15 || b.Leg < 8.85 || b.Leg > 9.05 || b.Barbs > 0 {
			t.Errorf("%s: %s, eye at %v", c.name, b, b.Eye)
		}
	}
}
