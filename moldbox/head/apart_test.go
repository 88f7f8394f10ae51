package head

import (
	"context"
	"errors"
	"strings"
	"testing"

	"halfpour/examples/heads"
	"halfpour/geom"
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
	for _, c := range []struct {
		name  string
		mesh  *geom.TriMesh
		head  float64 // volume
		hooks int
	}{
		{"a head", ball, ball.Volume(), 0},
		{"a head and its hook", joined(ball, hook), ball.Volume(), 1},
		{"a hook and its head", joined(hook, ball), ball.Volume(), 1},
		{"a hook alone", hook, hook.Volume(), 0},
		{"a head with a pin", joined(ball, pin), ball.Volume() + pin.Volume(), 0},
		{"a head with a ring", joined(ball, ring), ball.Volume() + ring.Volume(), 0},
	} {
		h, err := Read(context.Background(), "head.stl", loosen(c.mesh).binary(t))
		if err != nil {
			t.Fatal(c.name, err)
		}
		if len(h.Hooks) != c.hooks || h.Mesh.Volume() < c.head-0.01 || h.Mesh.Volume() > c.head+0.01 {
			t.Errorf("%s: %d hooks, head of %.2f mm³, want %.2f", c.name, len(h.Hooks), h.Mesh.Volume(), c.head)
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
