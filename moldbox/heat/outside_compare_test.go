package heat_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox/heat"
)

// moments at which skins are compared, s: from when on the heat has gone deeper than
// the other program's elements.
func moments(from, until float64) (out []float64) {
	for _, t := range []float64{0.5, 1, 2, 5, 10, 20, 40, 80, 120, 160} {
		if t >= from && t < until {
			out = append(out, t)
		}
	}
	return out
}

// compare solves the same by halfpour and compares.
func compare(t *testing.T, p pouring, scene heat.Scene, theirs course, cell, from, patch float64, at []geom.Vec) {
	t.Helper()
	last := theirs.times[len(theirs.times)-1]
	ours, err := heat.Solve(context.Background(), scene, heat.Options{Cell: cell, Least: last, Snapshots: moments(from, last)})
	if err != nil {
		t.Fatal(err)
	}
	shot := ours.Shots[0]
	t.Logf("cells of %g mm: %d unknowns, %d steps, heat off by %.2g, symmetric %v", cell, ours.Unknowns, ours.Steps, ours.HeatError, ours.Symmetric)
	if ours.HeatError > 1e-9 || !ours.Symmetric {
		t.Error("heat is not kept, or what is its own mirror image was not halved")
	}
	within(t, "head solid", shot.Bodies[0].Solid, theirs.solid[0], 0.03)
	within(t, "funnel solid", shot.Bodies[1].Solid, math.Max(theirs.solid[1], theirs.solid[2]), 0.03)
	for _, moment := range ours.Snapshots {
		other := theirs.at(moment.Time)
		for n, q := range at {
			c := moment.Skin(q, patch)
			t.Logf("%5.1f s at %.1f: %.1f °C, by the other %.1f (%+.1f)", moment.Time, q, c, other[n], c-other[n])
			if math.Abs(c-other[n]) > 3 {
				t.Errorf("%g s at %v: skin %.1f °C, by the other %.1f", moment.Time, q, c, other[n])
			}
		}
	}
}

var lead = line("lead-antimony 4", 25, [2]float64{0, 0}, [2]float64{251.5, 0.3707}, [2]float64{252.5, 0.4685}, [2]float64{300, 0.7185}, [2]float64{400, 0.8813})

// A ball of 11 mm under a funnel, round an axis: two dimensions for the other
// program, so that it is fine enough to be the truth.
func TestFiniteElementsBallUnderFunnel(t *testing.T) {
	needFreeFem(t)
	t.Parallel()
	p := pouring{metal: lead, rubber: rubber, board: wood, pour: 370, mold: 60, air: 20, loss: 8, until: 40}
	at := []geom.Vec{{X: 5.5}, {Y: -5.5}, {X: 1.5, Y: 6.5}, {X: 4, Y: 15.5}}
	solve := func(fine float64, options ...string) course {
		shape := fmt.Sprintf("5.5 1.5 2 6 7.5 23.5 17 -17 %g 4 5.5 0 0 -5.5 1.5 6.5 4 15.5\n", fine)
		return finiteElements(t, "round.edp", p, map[string]string{"shape.txt": shape}, options...)
	}
	coarse, theirs := solve(0.2, "-share", "0.08"), solve(0.1)
	for zone := range theirs.solid {
		within(t, "with elements and steps of double width solid", coarse.solid[zone], theirs.solid[zone], 0.01)
	}
	y := func(h float64) geom.Vec { return geom.Vec{Y: h} }
	scene := heat.Scene{
		Box:  geom.Box{Min: geom.Vec{X: -17, Y: -17, Z: -17}, Max: geom.Vec{X: 17, Y: 23.5, Z: 17}},
		Fill: p.rubber, FillC: p.mold, AirC: p.air, Air: [3]float64{0, p.loss, 0},
		Bodies: []heat.Body{
			{Role: heat.Head, Solid: geom.Ball(geom.Vec{}, 5.5), Substance: p.metal, Start: p.pour},
			{Role: heat.Funnel, Solid: geom.Union(geom.Frustum(y(4), y(7.6), 1.5, 1.5), geom.Frustum(y(7.5), y(23.5), 2, 6)), Substance: p.metal, Start: p.pour},
		},
	}
	compare(t, p, scene, theirs, 0.5, 0.5, 0, at)
}
