package moldbox

import (
	"testing"

	"halfpour/geom"
	"halfpour/moldbox/heat"
)

// A cut of a ball of lead in rubber: metal where the ball is, liquid at first and hotter
// than the rubber, and a picture at each moment as Snapshot.At has it.
func TestHeatCut(t *testing.T) {
	h := hotLead()
	box := geom.BoxOf(geom.Vec{X: -12, Y: -12, Z: -12}, geom.Vec{X: 12, Y: 12, Z: 12})
	scene := heat.Scene{Box: box, Fill: h.Rubber, FillC: 60, AirC: 23, Bodies: []heat.Body{
		{Role: heat.Head, Solid: geom.Ball(geom.Vec{}, 5), Substance: h.Metal, Start: 357}}}
	r, err := heat.Solve(t.Context(), scene, heat.Options{Cell: 3, Snapshots: []float64{0.5, 2}})
	if err != nil {
		t.Fatal(err)
	}
	c := newHeatCut(box, r.Snapshots)
	if c.NX != 30 || c.NY != 30 || len(c.Times) != 2 || c.Times[0] != 0.5 {
		t.Fatalf("%d x %d at %v", c.NX, c.NY, c.Times)
	}
	middle, corner := 15*c.NX+15, 0
	if c.Solid[0][middle] < 0 || c.Solid[0][corner] != -1 || !(c.C[0][middle] > 300) || !(c.C[0][corner] < 70) {
		t.Errorf("middle %g °C, %g; corner %g °C, %g", c.C[0][middle], c.Solid[0][middle], c.C[0][corner], c.Solid[0][corner])
	}
	if !(c.Solid[1][middle] >= c.Solid[0][middle]) {
		t.Errorf("metal melts: %g, then %g", c.Solid[0][middle], c.Solid[1][middle])
	}
	s, _ := r.Snapshots[1].At(geom.Vec{X: 0.4, Y: 0.4, Z: 1e-3})
	if d := float64(c.C[1][middle]) - s.C; d > 0.51 || d < -0.51 {
		t.Errorf("cut %g °C, snapshot %g °C", c.C[1][middle], s.C)
	}
}
