package column

import (
	"context"
	"fmt"
	"math"
	"testing"

	"halfpour/geom"
)

func pocketsOf(t testing.TB, hollow geom.Solid, p Pour) []Pocket {
	t.Helper()
	found, err := Pockets(context.Background(), hollow, p)
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// bar is a block 5 mm deep between x0 and x1, z0 and z1.
func bar(x0, x1, z0, z1 float64) geom.Solid {
	return geom.Block(geom.Box{Min: geom.Vec{X: x0, Y: 0, Z: z0}, Max: geom.Vec{X: x1, Y: 5, Z: z1}})
}

// above is all over a height.
func above(z float64) geom.Solid { return geom.HalfSpace(geom.Vec{Z: -1}, -z) }

// halfSegment is half the area of the part of a disc of radius r beyond a
// chord at distance d.
func halfSegment(r, d float64) float64 {
	return (r*r*math.Acos(d/r) - d*math.Sqrt(r*r-d*d)) / 2
}

// halfRing is half a ring of a section 3 x 5 mm: the upper or the lower half.
func halfRing(x, inner float64, upper bool) geom.Solid {
	tube := func(r float64) geom.Solid {
		return geom.Frustum(geom.Vec{X: x, Y: -1, Z: 0}, geom.Vec{X: x, Y: 6, Z: 0}, r, r)
	}
	z0, z1 := -30.0, 1e-3 // the halves run into each other
	if upper {
		z0, z1 = -1e-3, 30
	}
	return geom.Intersect(geom.Subtract(tube(inner+3), tube(inner)), bar(-40, 40, z0, z1))
}

// Closed forms of the air that stays, all derived here.
func TestPocketVolumes(t *testing.T) {
	// Metal comes down a riser on the left and enters each hollow at its foot,
	// through a passage 3 mm high.
	riser := geom.Union(bar(-10, -6, 0, 40), bar(-7, 1, 0, 3))
	u := geom.Union(riser, bar(0, 4, 0, 24), bar(0, 14, 20, 24), bar(10, 14, 1, 24))
	spiral := geom.Union(
		bar(-21.5, -18.5, -1e-3, 30), halfRing(0, 18.5, false), halfRing(2, 16.5, true), halfRing(0, 14.5, false))
	for _, c := range []struct {
		name          string
		hollow, open  geom.Solid
		source        geom.Vec
		volume, spill float64
		top           geom.Vec // NaN: any
		topWithin     float64
	}{
		// The left leg over the passage, the bridge, and all of the right leg,
		// to which metal never comes.
		{"inverted U", u, above(39), geom.Vec{X: -8, Y: 2, Z: 39},
			5 * (4*(24-3) + 6*4 + 4*(24-1)), 3, geom.Vec{X: 7, Y: 2.5, Z: 24}, 0.3},
		// With a way out at the right foot, 6 mm high, metal runs over the sill
		// at 20 and fills the right leg up to 6 before it cuts off the rest.
		{"inverted U with a way out beyond", geom.Union(u, bar(13, 20, 1, 6), bar(18, 22, 1, 40)), above(39), geom.Vec{X: -8, Y: 2, Z: 39},
			5 * (14*4 + 4*(20-6)), 6, geom.Vec{X: 7, Y: 2.5, Z: 24}, 0.3},
		// The same hollow with its vent on top of the bridge holds nothing back.
		{"vented U", geom.Union(u, bar(6, 7, 22, 40)), above(39), geom.Vec{X: -8, Y: 2, Z: 39}, 0, 0, geom.Vec{}, 0},
		{"dome", geom.Union(riser, bar(0, 20, 0, 6), geom.Intersect(geom.Ball(geom.Vec{X: 10, Y: 2.5, Z: 6}, 2.4), above(5))), above(39), geom.Vec{X: -8, Y: 2, Z: 39},
			2.0/3*math.Pi*2.4*2.4*2.4 + 5*20*3, 3, geom.Vec{X: 10, Y: 2.5, Z: 8.4}, 0.1},
		{"dome on a roof with a vent", geom.Union(riser, bar(0, 20, 0, 6), geom.Ball(geom.Vec{X: 10, Y: 2.5, Z: 6}, 2.4), bar(19, 20, 5, 40)), above(39), geom.Vec{X: -8, Y: 2, Z: 39},
			2.0 / 3 * math.Pi * 2.4 * 2.4 * 2.4, 6, geom.Vec{X: 10, Y: 2.5, Z: 8.4}, 0.1},
		// Gate in the flank of a ball: what is over its roof stays.
		{"ball gated in its flank", geom.Union(bar(-10, -6, 0, 40), bar(-7, 3, 0, 2), geom.Ball(geom.Vec{X: 3, Y: 2.5, Z: 0}, 6)), above(39), geom.Vec{X: -8, Y: 2, Z: 39},
			math.Pi * 16 * (3*6 - 4) / 3, 2, geom.Vec{X: 3, Y: 2.5, Z: 6}, 0.1},
		// A shallow cap of 0.6 mm, half a cubic millimetre over the limit.
		{"shallow cap", geom.Union(riser, bar(0, 20, 0, 6), geom.Ball(geom.Vec{X: 10, Y: 2.5, Z: 4}, 2.6), bar(19, 20, 5, 40)), above(39), geom.Vec{X: -8, Y: 2, Z: 39},
			math.Pi * 0.36 * (3*2.6 - 0.6) / 3, 6, geom.Vec{X: 10, Y: 2.5, Z: 6.6}, 0.1},
		// Down, over the crest at 16.5, and up to the roof of the inner bottom
		// at -14.5: the air over the crest, and down its far side, stays.
		{"spiral", spiral, geom.Union(above(29), bar(14, 18, -0.5, 1)), geom.Vec{X: -20, Y: 2, Z: 29},
			5 * (halfSegment(19.5, 16.5) + math.Pi/4*(19.5*19.5-16.5*16.5) +
				math.Pi/4*(17.5*17.5-14.5*14.5) - halfSegment(17.5, 14.5)), -14.5, geom.Vec{X: 2, Y: 2.5, Z: 19.5}, 0.3},
		{"without any way out", bar(0, 10, 0, 3), nil, geom.Vec{X: 1, Y: 1, Z: 1}, 150, 0, geom.Vec{X: 5, Y: 2.5, Z: 3}, 0.3},
	} {
		found := pocketsOf(t, c.hollow, Pour{Source: c.source, Open: c.open})
		if c.volume == 0 {
			if len(found) != 0 {
				t.Errorf("%s: air stays: %+v", c.name, found[0].Volume)
			}
			continue
		}
		if len(found) != 1 {
			t.Errorf("%s: %d pockets, want 1", c.name, len(found))
			continue
		}
		p := found[0]
		if math.Abs(p.Volume-c.volume) > 0.01*c.volume {
			t.Errorf("%s: %.3f mm³, want %.3f (%+.2f %%)", c.name, p.Volume, c.volume, 100*(p.Volume/c.volume-1))
		}
		if math.Abs(p.Spill-c.spill) > 0.02 {
			t.Errorf("%s: cut off at %.3f, want %.3f", c.name, p.Spill, c.spill)
		}
		if d := p.Top.Dist(c.top); d > c.topWithin {
			t.Errorf("%s: top at %.2f, want %.2f", c.name, p.Top, c.top)
		}
	}
}

// The limit divides what is told from what is not.
func TestPocketsBelowLeast(t *testing.T) {
	hollow := geom.Union(bar(-10, -6, 0, 40), bar(-7, 1, 0, 3), bar(0, 20, 0, 6), geom.Ball(geom.Vec{X: 10, Y: 2.5, Z: 4}, 2.6), bar(19, 20, 5, 40))
	p := Pour{Source: geom.Vec{X: -8, Y: 2, Z: 39}, Open: above(39), Least: 4}
	if found := pocketsOf(t, hollow, p); len(found) != 0 {
		t.Errorf("a pocket of %.2f mm³ is told, least is 4", found[0].Volume)
	}
}

// Up may be any direction, and workers change nothing.
func TestPocketsTurned(t *testing.T) {
	hollow := geom.Union(bar(-10, -6, 0, 40), bar(-7, 3, 0, 2), geom.Ball(geom.Vec{X: 3, Y: 2.5, Z: 0}, 6))
	want := pocketsOf(t, hollow, Pour{Source: geom.Vec{X: -8, Y: 2, Z: 39}, Open: above(39)})[0]
	for _, turn := range []geom.Transform{
		geom.Rotate(geom.Vec{X: 1}, math.Pi/2), geom.Rotate(geom.Vec{Y: 1}, -math.Pi/2), geom.Rotate(geom.Vec{X: 1, Y: 2, Z: 0}, 0.7), geom.MirrorZ(),
	} {
		for _, workers := range []int{1, 3} {
			p := Pour{Up: turn.Direction(geom.Vec{Z: 1}), Source: turn.Point(geom.Vec{X: -8, Y: 2, Z: 39}), Open: turn.Solid(above(39)), Workers: workers}
			found := pocketsOf(t, turn.Solid(hollow), p)
			if len(found) != 1 {
				t.Fatalf("%v: %d pockets, want 1", turn, len(found))
			}
			got := found[0]
			if math.Abs(got.Volume-want.Volume) > 0.01*want.Volume || got.Top.Dist(turn.Point(want.Top)) > 0.3 {
				t.Errorf("%v: %.2f mm³ at %.2f, want %.2f at %.2f", turn, got.Volume, got.Top, want.Volume, turn.Point(want.Top))
			}
		}
	}
}

func ExamplePockets() {
	// A ball gated in its flank, with a vent or without.
	mold := geom.Union(geom.Ball(geom.Vec{}, 6), geom.Block(geom.Box{Min: geom.Vec{X: -10, Y: -1, Z: -1}, Max: geom.Vec{X: -5, Y: 1, Z: 1}}), geom.Block(geom.Box{Min: geom.Vec{X: -10, Y: -1, Z: -1}, Max: geom.Vec{X: -8, Y: 1, Z: 20}}))
	top := geom.HalfSpace(geom.Vec{Z: -1}, -19.9) // all over z = 19.9
	pour := Pour{Source: geom.Vec{X: -9, Y: 0, Z: 19}, Open: top}
	found, _ := Pockets(context.Background(), mold, pour)
	fmt.Printf("%.0f mm³ stay at %.1f\n", found[0].Volume, found[0].Top.Z)
	vented := geom.Union(mold, geom.Capsule(geom.Vec{Z: 5}, geom.Vec{Z: 20}, 0.5))
	found, _ = Pockets(context.Background(), vented, pour)
	fmt.Println(len(found), "pockets with a vent")
	// Output:
	// 340 mm³ stay at 6.0
	// 0 pockets with a vent
}
