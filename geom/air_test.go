package geom

import (
	"context"
	"fmt"
	"math"
	"testing"
)

func pocketsOf(t testing.TB, hollow Solid, p Pour) []Pocket {
	t.Helper()
	found, err := Pockets(context.Background(), hollow, p)
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// bar is a block 5 mm deep between x0 and x1, z0 and z1.
func bar(x0, x1, z0, z1 float64) Solid {
	return Block(Box{Vec{x0, 0, z0}, Vec{x1, 5, z1}})
}

// above is all over a height.
func above(z float64) Solid { return HalfSpace(Vec{Z: -1}, -z) }

// halfSegment is half the area of the part of a disc of radius r beyond a
// chord at distance d.
func halfSegment(r, d float64) float64 {
	return (r*r*math.Acos(d/r) - d*math.Sqrt(r*r-d*d)) / 2
}

// halfRing is half a ring of a section 3 x 5 mm: the upper or the lower half.
func halfRing(x, inner float64, upper bool) Solid {
	tube := func(r float64) Solid { return Frustum(Vec{x, -1, 0}, Vec{x, 6, 0}, r, r) }
	z0, z1 := -30.0, 1e-3 // the halves run into each other
	if upper {
		z0, z1 = -1e-3, 30
	}
	return Intersect(Subtract(tube(inner+3), tube(inner)), bar(-40, 40, z0, z1))
}

// Closed forms of the air that stays, all derived here.
func TestPocketVolumes(t *testing.T) {
	// Metal comes down a riser on the left and enters each hollow at its foot,
	// through a passage 3 mm high.
	riser := Union(bar(-10, -6, 0, 40), bar(-7, 1, 0, 3))
	u := Union(riser, bar(0, 4, 0, 24), bar(0, 14, 20, 24), bar(10, 14, 1, 24))
	spiral := Union(
		bar(-21.5, -18.5, -1e-3, 30), halfRing(0, 18.5, false), halfRing(2, 16.5, true), halfRing(0, 14.5, false))
	for _, c := range []struct {
		name          string
		hollow, open  Solid
		source        Vec
		volume, spill float64
		top           Vec // NaN: any
		topWithin     float64
	}{
		// The left leg over the passage, the bridge, and all of the right leg,
		// to which metal never comes.
		{"inverted U", u, above(39), Vec{-8, 2, 39},
			5 * (4*(24-3) + 6*4 + 4*(24-1)), 3, Vec{7, 2.5, 24}, 0.3},
		// With a way out at the right foot, 6 mm high, metal runs over the sill
		// at 20 and fills the right leg up to 6 before it cuts off the rest.
		{"inverted U with a way out beyond", Union(u, bar(13, 20, 1, 6), bar(18, 22, 1, 40)), above(39), Vec{-8, 2, 39},
			5 * (14*4 + 4*(20-6)), 6, Vec{7, 2.5, 24}, 0.3},
		// The same hollow with its vent on top of the bridge holds nothing back.
		{"vented U", Union(u, bar(6, 7, 22, 40)), above(39), Vec{-8, 2, 39}, 0, 0, Vec{}, 0},
		{"dome", Union(riser, bar(0, 20, 0, 6), Intersect(Ball(Vec{10, 2.5, 6}, 2.4), above(5))), above(39), Vec{-8, 2, 39},
			2.0/3*math.Pi*2.4*2.4*2.4 + 5*20*3, 3, Vec{10, 2.5, 8.4}, 0.1},
		{"dome on a roof with a vent", Union(riser, bar(0, 20, 0, 6), Ball(Vec{10, 2.5, 6}, 2.4), bar(19, 20, 5, 40)), above(39), Vec{-8, 2, 39},
			2.0 / 3 * math.Pi * 2.4 * 2.4 * 2.4, 6, Vec{10, 2.5, 8.4}, 0.1},
		// Gate in the flank of a ball: what is over its roof stays.
		{"ball gated in its flank", Union(bar(-10, -6, 0, 40), bar(-7, 3, 0, 2), Ball(Vec{3, 2.5, 0}, 6)), above(39), Vec{-8, 2, 39},
			math.Pi * 16 * (3*6 - 4) / 3, 2, Vec{3, 2.5, 6}, 0.1},
		// A shallow cap of 0.6 mm, half a cubic millimetre over the limit.
		{"shallow cap", Union(riser, bar(0, 20, 0, 6), Ball(Vec{10, 2.5, 4}, 2.6), bar(19, 20, 5, 40)), above(39), Vec{-8, 2, 39},
			math.Pi * 0.36 * (3*2.6 - 0.6) / 3, 6, Vec{10, 2.5, 6.6}, 0.1},
		// Down, over the crest at 16.5, and up to the roof of the inner bottom
		// at -14.5: the air over the crest, and down its far side, stays.
		{"spiral", spiral, Union(above(29), bar(14, 18, -0.5, 1)), Vec{-20, 2, 29},
			5 * (halfSegment(19.5, 16.5) + math.Pi/4*(19.5*19.5-16.5*16.5) +
				math.Pi/4*(17.5*17.5-14.5*14.5) - halfSegment(17.5, 14.5)), -14.5, Vec{2, 2.5, 19.5}, 0.3},
		{"without any way out", bar(0, 10, 0, 3), nil, Vec{1, 1, 1}, 150, 0, Vec{5, 2.5, 3}, 0.3},
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
	hollow := Union(bar(-10, -6, 0, 40), bar(-7, 1, 0, 3), bar(0, 20, 0, 6), Ball(Vec{10, 2.5, 4}, 2.6), bar(19, 20, 5, 40))
	p := Pour{Source: Vec{-8, 2, 39}, Open: above(39), Least: 4}
	if found := pocketsOf(t, hollow, p); len(found) != 0 {
		t.Errorf("a pocket of %.2f mm³ is told, least is 4", found[0].Volume)
	}
}

// Up may be any direction, and workers change nothing.
func TestPocketsTurned(t *testing.T) {
	hollow := Union(bar(-10, -6, 0, 40), bar(-7, 3, 0, 2), Ball(Vec{3, 2.5, 0}, 6))
	want := pocketsOf(t, hollow, Pour{Source: Vec{-8, 2, 39}, Open: above(39)})[0]
	for _, turn := range []Placement{
		Turn(Vec{X: 1}, math.Pi/2), Turn(Vec{Y: 1}, -math.Pi/2), Turn(Vec{1, 2, 0}, 0.7), MirrorZ(),
	} {
		for _, workers := range []int{1, 3} {
			p := Pour{Up: turn.Direction(Vec{Z: 1}), Source: turn.Point(Vec{-8, 2, 39}), Open: turn.Solid(above(39)), Workers: workers}
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
	mold := Union(Ball(Vec{}, 6), Block(Box{Vec{-10, -1, -1}, Vec{-5, 1, 1}}), Block(Box{Vec{-10, -1, -1}, Vec{-8, 1, 20}}))
	top := HalfSpace(Vec{Z: -1}, -19.9) // all over z = 19.9
	pour := Pour{Source: Vec{-9, 0, 19}, Open: top}
	found, _ := Pockets(context.Background(), mold, pour)
	fmt.Printf("%.0f mm³ stay at %.1f\n", found[0].Volume, found[0].Top.Z)
	vented := Union(mold, Capsule(Vec{Z: 5}, Vec{Z: 20}, 0.5))
	found, _ = Pockets(context.Background(), vented, pour)
	fmt.Println(len(found), "pockets with a vent")
	// Output:
	// 340 mm³ stay at 6.0
	// 0 pockets with a vent
}
