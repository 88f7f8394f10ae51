package column

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
)

func floodOf(t testing.TB, room geom.Solid, from geom.Vec, opt FloodOptions) *Flooded {
	t.Helper()
	f, err := Flood(context.Background(), room, from, opt)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Two chambers joined by a slit: liquid passes when the slit is wider than the
// gap that it takes.
func TestFloodThroughSlits(t *testing.T) {
	chambers := geom.Union(geom.Block(geom.Box{Min: geom.Vec{X: 0, Y: 0, Z: 0}, Max: geom.Vec{X: 4, Y: 4, Z: 4}}), geom.Block(geom.Box{Min: geom.Vec{X: 6, Y: 0, Z: 0}, Max: geom.Vec{X: 10, Y: 4, Z: 4}}))
	far := geom.Ball(geom.Vec{X: 8, Y: 2, Z: 2}, 1)
	for _, c := range []struct {
		slit, gap float64
		passes    bool
	}{{0, 0, false}, {0.3, 0, true}, {0.3, 0.25, true}, {0.3, 0.35, false}, {0.1, 0.15, false}, {1, 0.9, true}} {
		room := chambers
		if c.slit > 0 {
			room = geom.Union(room, geom.Block(geom.Box{Min: geom.Vec{X: 3, Y: 0, Z: 1}, Max: geom.Vec{X: 7, Y: 4, Z: 1 + c.slit}}))
		}
		for _, up := range []geom.Vec{{Z: 1}, {X: 1}} {
			f := floodOf(t, room, geom.Vec{X: 2, Y: 2, Z: 2}, FloodOptions{Gap: c.gap, Up: up, Step: 0.05})
			if _, ok := f.into(far); ok != c.passes {
				t.Errorf("slit %.2f, gap %.2f, lines along %v: comes through %v", c.slit, c.gap, up, ok)
			}
		}
	}
}

// Metal round a wire in a bed that is too wide runs along it to the end.
func TestFloodAlongWire(t *testing.T) {
	head := geom.Ball(geom.Vec{}, 3)
	wire := geom.Capsule(geom.Vec{}, geom.Vec{X: 12}, 0.5)
	for _, c := range []struct {
		fit  float64
		want float64 // how far along x
	}{{0.4, 12.9}, {0.1, 2.85}} {
		room := geom.Subtract(geom.Union(head, geom.Capsule(geom.Vec{}, geom.Vec{X: 12}, 0.5+c.fit)), wire)
		f := floodOf(t, room, geom.Vec{X: -2}, FloodOptions{Gap: 0.3, Step: 0.1})
		_, far, ok := f.Farthest(func(p geom.Vec) float64 { return p.X })
		// A ball of the gap's width stays half of it from the surface.
		if !ok || math.Abs(far-(c.want-0.15)) > 0.12 {
			t.Errorf("fit %.2f: metal comes to x = %.2f, want %.2f", c.fit, far, c.want-0.15)
		}
	}
}

func TestFloodOfNothing(t *testing.T) {
	f := floodOf(t, geom.Union(), geom.Vec{}, FloodOptions{})
	if _, ok := f.into(geom.Ball(geom.Vec{}, 1)); ok {
		t.Error("liquid in an empty room")
	}
}

// into returns the place reached that is deepest within a solid, if any is.
func (f *Flooded) into(s geom.Solid) (geom.Vec, bool) {
	at, far, ok := f.Farthest(func(p geom.Vec) float64 { return -s.Evaluate(p) })
	return at, ok && far > 0
}
