package moldbox

import (
	"math"
	"testing"

	"halfpour/geom"
)

// upright is a tray with upright walls round x by y mm, filled 8 mm high.
func upright(x, y float64) tray {
	spec := Default()
	spec.Frame.Draft = 0
	return newTray(spec, rectangle(x, y), 8)
}

// The tabs to pry at stand in the middle of the short sides, a thumb wide or half
// of a shorter side, and run a wall's width into the floor.
func TestTabsToPryAt(t *testing.T) {
	tab := func(x0, x1, y0, y1 float64) geom.Box {
		return geom.Box{Min: geom.Vec{X: x0, Y: y0, Z: -3.15}, Max: geom.Vec{X: x1, Y: y1}}
	}
	for _, c := range []struct {
		x, y float64 // inside the walls of 2 mm
		want [2]geom.Box
	}{
		{60, 50, [2]geom.Box{tab(-37, -30, -9, 9), tab(30, 37, -9, 9)}},
		{60, 20, [2]geom.Box{tab(-37, -30, -6, 6), tab(30, 37, -6, 6)}},
		{50, 60, [2]geom.Box{tab(-9, 9, -37, -30), tab(-9, 9, 30, 37)}},
		{16, 60, [2]geom.Box{tab(-5, 5, -37, -30), tab(-5, 5, 30, 37)}},
	} {
		boxes := upright(c.x, c.y).tabBoxes()
		if len(boxes) != 2 {
			t.Fatalf("%d tabs", len(boxes))
		}
		for i, b := range boxes {
			if b.Min.Dist(c.want[i].Min) > 1e-9 || b.Max.Dist(c.want[i].Max) > 1e-9 {
				t.Errorf("%g x %g: tab %v, want %v", c.x, c.y, b, c.want[i])
			}
		}
	}
}

// The fill ends in the middle of the wall, halfway in the floor under the keys,
// and at the fill line.
func TestFillOfATray(t *testing.T) {
	b := upright(60, 50).fillSolid().BoundingBox()
	want := geom.Box{Min: geom.Vec{X: -31, Y: -26, Z: -(3.15 - 0.4)}, Max: geom.Vec{X: 31, Y: 26, Z: 8}}
	if b.Min.Dist(want.Min) > 1e-6 || b.Max.Dist(want.Max) > 1e-6 {
		t.Errorf("fill %v, want %v", b, want)
	}
}

// The step at the fill line slopes outwards at 45° up to its width of 0.5 mm.
func TestStepOfATray(t *testing.T) {
	frame := upright(60, 50).solid(nil)
	for _, high := range []float64{0.1, 0.2, 0.3, 0.4, 1, 2} {
		out := math.Min(high, 0.5)
		for _, off := range []float64{-0.03, 0.03} {
			p := geom.Vec{X: 30 + out + off, Y: 4, Z: 8 + high}
			if geom.Inside(frame, p) != (off > 0) {
				t.Errorf("%g mm over the fill line, %g mm off the step: inside is %v", high, off, off <= 0)
			}
		}
	}
}
