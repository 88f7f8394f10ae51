package moldbox

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"halfpour/geom"
)

// Two balls of 5 and 3 mm, the second 6 mm higher: their middles must be the
// radii and the gap apart.
func TestApproachOfBalls(t *testing.T) {
	l, r := geom.Ball(geom.Vec{X: 1}, 5), geom.Ball(geom.Vec{X: -2, Y: 6}, 3)
	for _, gap := range []float64{0.5, 2, 7} {
		for _, tol := range []float64{0.3, 0.1, 0.02} {
			want := 1 + 2 + math.Sqrt((8+gap)*(8+gap)-36)
			if got := approach(context.Background(), l, r, gap, tol); got < want-1e-9 || got > want+tol+2e-3 {
				t.Errorf("gap %g, tolerance %g: %.4f, want %.4f", gap, tol, got, want)
			}
		}
	}
}

// A bar that would fit into a fork stays out of it when it cannot pass the
// prongs, and goes in when it can.
func TestApproachPastProngs(t *testing.T) {
	prong := func(y float64) geom.Solid {
		return geom.Block(geom.Box{Min: geom.Vec{X: 0, Y: y, Z: -2}, Max: geom.Vec{X: 10, Y: y + 1, Z: 2}})
	}
	wall := geom.Block(geom.Box{Min: geom.Vec{X: -1, Y: 0, Z: -2}, Max: geom.Vec{Y: 9, Z: 2}})
	bar := geom.Capsule(geom.Vec{Y: 4.5}, geom.Vec{X: 20, Y: 4.5}, 1)
	hooked := geom.Union(bar, geom.Ball(geom.Vec{Y: 4.5}, 3))
	for _, c := range []struct {
		name string
		r    geom.Solid
		want float64
	}{
		{"bar", bar, 1 + 1.5}, // up to the wall
		// The ball's middle is 3.5 mm off the prongs' corners and must be its
		// radius and the gap away from them.
		{"hooked", hooked, 10 + math.Sqrt(4.5*4.5-3.5*3.5)},
	} {
		if got := approach(context.Background(), geom.Union(wall, prong(0), prong(8)), c.r, 1.5, 0.05); got < c.want-1e-9 || got > c.want+0.06 {
			t.Errorf("%s: %.4f, want %.4f", c.name, got, c.want)
		}
	}
}

// However solids lie, the gap is left from there on and not a little before.
func TestApproachLeavesTheGap(t *testing.T) {
	const seed, tol = 71, 0.05
	r := rand.New(rand.NewPCG(seed, 1))
	some := func() geom.Solid {
		var parts []geom.Solid
		for range 3 {
			at := geom.Vec{X: 8 * r.Float64(), Y: 12 * r.Float64(), Z: 3 * r.Float64()}
			to := at.Add(geom.Vec{X: 9 * r.Float64(), Y: 9 * r.Float64()})
			parts = append(parts, geom.Capsule(at, to, 0.5+r.Float64()))
		}
		return geom.Rotate(geom.Vec{Z: 1}, r.Float64()).Solid(geom.Union(parts...))
	}
	for n := range 30 {
		a, b, gap := some(), some(), 0.5+4*r.Float64()
		x := approach(context.Background(), a, b, gap, tol)
		between := func(x float64) float64 {
			g, near := geom.Narrowest(a, geom.Move(geom.Vec{X: x}).Solid(b), gap+3, 0.01)
			if !near {
				return gap + 3
			}
			return g.Width - g.Overlap
		}
		for _, more := range []float64{0, 0.3, 1, 2, 4, 8, 16} {
			if got := between(x + more); got < gap-0.01 {
				t.Errorf("seed %d, pair %d: %.3f mm between them %.1f mm from the answer, want %.3f", seed, n, got, more, gap)
			}
		}
		if got := between(x - tol - 0.02); got > gap+0.01 {
			t.Errorf("seed %d, pair %d: still %.3f mm between them a little nearer, want less than %.3f", seed, n, got, gap)
		}
	}
}
