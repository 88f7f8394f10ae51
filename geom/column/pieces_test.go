package column

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
)

// A ring, a ball in its middle and a ball over it are three pieces, whatever is up;
// a bar makes ring and inner ball one.
func TestPieces(t *testing.T) {
	ring := geom.Torus(geom.Vec{}, geom.Vec{Z: 1}, 6, 1)
	inner, over := geom.Ball(geom.Vec{}, 1.5), geom.Ball(geom.Vec{X: 6, Z: 5}, 1)
	bar := geom.Capsule(geom.Vec{}, geom.Vec{X: 6}, 0.3)
	volumes := []float64{2 * math.Pi * math.Pi * 6, 4.0 / 3 * math.Pi * 1.5 * 1.5 * 1.5, 4.0 / 3 * math.Pi}
	for _, up := range []geom.Vec{{Z: 1}, {X: 1}, {Y: -1}} {
		for _, c := range []struct {
			solid geom.Solid
			want  []float64
		}{
			{geom.Union(ring, inner, over), volumes},
			{geom.Union(ring, inner, over, bar), []float64{volumes[0] + volumes[1] + math.Pi*0.09*3.5, volumes[2]}},
		} {
			grid, err := Cut(context.Background(), c.solid, Options{Up: up, Step: 0.1})
			if err != nil {
				t.Fatal(err)
			}
			pieces := grid.Pieces()
			if len(pieces) != len(c.want) {
				t.Fatalf("up %v: %d pieces, want %d", up, len(pieces), len(c.want))
			}
			for _, want := range c.want {
				found := false
				for _, p := range pieces {
					found = found || math.Abs(p.Volume-want) < 0.08*want && c.solid.Evaluate(p.Middle) < 0
				}
				if !found {
					t.Errorf("up %v: no piece of %.2f mm³", up, want)
				}
			}
			for _, p := range pieces {
				low, high := math.Inf(1), math.Inf(-1)
				p.Each(func(a, b geom.Vec) bool {
					low, high = min(low, grid.Height(a)), max(high, grid.Height(b))
					return true
				})
				if math.Abs(low-p.Low) > 1e-9 || math.Abs(high-p.High) > 1e-9 {
					t.Errorf("from %g to %g, its stretches from %g to %g", p.Low, p.High, low, high)
				}
			}
		}
	}
}
