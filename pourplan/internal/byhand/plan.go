// Package byhand computes every figure of one plan a second time, as in a
// spreadsheet: from the figures of a job and of a measured mold, by arithmetic
// written out here and with constants typed in here, none of them the
// program's. Tests hold the plan and the sheets against it.
//
//	plan.go   the job's plan and the mold that was measured
//	cells.go, cells_more.go   its figures, by their paths in plan.json
package byhand

import (
	"math"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/pourplan"
	"halfpour/pourplan/internal/plantest"
)

// Plan is the program's own plan of the job.
func Plan(t testing.TB) *pourplan.Plan {
	t.Helper()
	job, err := pourplan.ReadJob("job.toml", []byte(plantest.ByHand))
	if err != nil {
		t.Fatal(err)
	}
	p, err := pourplan.NewPlan(job, Measured())
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Measured is a mold with round numbers.
func Measured() moldbox.Measured {
	cavity := func(name string, head, area, runner, funnel float64) moldbox.MeasuredCavity {
		return moldbox.MeasuredCavity{Name: name, Scale: 1.02, Shrink: 1.01, Head: head, WireInHead: 14, Area: area, Slopes: moldbox.Slopes{Mean: 0.38, Wider: []float64{0, 0.01, 0.02, 0.03, 0.05}}, Runner: runner, Funnel: funnel,
			Wires: []moldbox.PlacedWire{
				{Name: "demo hook", Keeper: -1, Diameter: 1, Volume: 50, InHead: 12, Length: 63,
					Cut: []moldbox.Stretch{{Straight: 20, Bend: math.Pi / 2, Inside: 2}, {Straight: 38}}},
				{Name: "spike", Keeper: 0, Diameter: 0.8, Volume: 5, InHead: 2, Length: 10, Cut: []moldbox.Stretch{{Straight: 10}}},
			}}
	}
	at := geom.Vec{X: 1, Y: 2, Z: 3}
	return moldbox.Measured{
		Left: moldbox.MeasuredHalf{Rubber: geom.Integral{Lo: 99900, Best: 100000, Hi: 100200}, FillHeight: 14, RimHeight: 17, Floor: 2.4,
			Inside: geom.Vec{X: 80, Y: 70, Z: 14}, Outside: geom.Vec{X: 86, Y: 76, Z: 19.4},
			Hanging: []moldbox.Hanging{{At: geom.Vec{X: 20, Y: 30, Z: 4}, Area: 2.5, Steepest: math.Pi / 2, Bridge: 6, Cavity: "a"}},
			Mesh:    &moldbox.HalfProof{MeshVolume: 30009, SolidLeast: 29990, SolidVolume: 30000, SolidMost: 30010, Triangles: 5000}},
		Right: moldbox.MeasuredHalf{Rubber: geom.Integral{Lo: 89900, Best: 90000, Hi: 90100}, FillHeight: 15, RimHeight: 18, Floor: 2.6,
			Inside: geom.Vec{X: 80, Y: 70, Z: 15}, Outside: geom.Vec{X: 86, Y: 76, Z: 20.6},
			Mesh: &moldbox.HalfProof{MeshVolume: 31969, SolidLeast: 31990, SolidVolume: 32000, SolidMost: 32010, Triangles: 6000}},
		Lumps: []moldbox.Lump{{Modulus: 2.5, Depth: 2.5}, {Modulus: 1, Depth: 2}},
		Layout: moldbox.MeasuredLayout{Rows: 2, Runner: 5, Down: 6,
			Search: &moldbox.Search{Turned: math.Pi / 2, Alternate: true, Tried: 12, Plain: 200000, Rubber: 190000}},
		Cavities: []moldbox.MeasuredCavity{cavity("large", 980, 480, 700, 20), cavity("small", 680, 380, 600, 22)},
		Findings: []moldbox.Finding{{Severity: moldbox.Warn, Code: "thin", At: &at, HeadAt: &at, Message: "thin rubber", Value: 2, Limit: 3, Unit: "mm"}},
	}
}
