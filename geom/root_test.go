package geom

import (
	"math"
	"testing"
)

func TestRoot(t *testing.T) {
	for _, c := range []struct {
		name string
		f    func(float64) float64
		a, b float64
		want float64
	}{
		{"a line", func(x float64) float64 { return 3*x - 1 }, 0, 1, 1.0 / 3},
		{"falling", func(x float64) float64 { return 2 - x*x }, 0, 9, math.Sqrt2},
		{"flat on one side", func(x float64) float64 { return math.Exp(20*x) - math.E }, -1, 1, 0.05},
		{"a kink", func(x float64) float64 { return math.Max(0.1*(x-0.7), 5*(x-0.7)) }, 0, 1, 0.7},
		{"a jump", func(x float64) float64 { return math.Copysign(1, x-0.3) }, 0, 1, 0.3},
		{"at an end", func(x float64) float64 { return x }, 0, 1, 0},
		{"a jump between infinities", func(x float64) float64 { return math.Copysign(math.Inf(1), x-0.3) }, 0, 1, 0.3},
		{"flat on the other side", func(x float64) float64 { return math.E - math.Exp(-20*x) }, -1, 1, -0.05},
	} {
		f := func(x float64) float64 {
			if x < c.a || x > c.b {
				t.Errorf("%s: asked at %g, outside", c.name, x)
			}
			return c.f(x)
		}
		got := Root(f, c.a, c.b, c.f(c.a), c.f(c.b), 1e-9, 1e-12)
		if math.Abs(got-c.want) > 1e-8 {
			t.Errorf("%s: root %.12g, want %.12g", c.name, got, c.want)
		}
	}
}

// A value of exactly 0 is the root, also when no other value would do.
func TestRootHit(t *testing.T) {
	f := func(x float64) float64 { return 0.4*x - 0.2 }
	if got := Root(f, 0, 1, f(0), f(1), 1e-9, 0); got != 0.5 {
		t.Errorf("root %g, want 0.5", got)
	}
}
