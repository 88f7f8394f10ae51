package pourplan

import (
	"math"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
)

// By hand: 10 cm³ of plastic of 1.24 g/cm³ are 12.4 g and 10000/(π/4·1.75²) = 4158 mm
// of filament.
func TestPlanPrint(t *testing.T) {
	half := moldbox.MeasuredHalf{Mesh: &moldbox.HalfProof{SolidVolume: 10000}}
	in := moldbox.Measured{Left: half, Right: half, Cavities: []moldbox.MeasuredCavity{
		{Slopes: moldbox.Slopes{Mean: 0.5, Wider: []float64{0, 0.01, 0.01, 0.02, 0.04}}},
		{Slopes: moldbox.Slopes{Mean: 0.3, Wider: []float64{0, 0.1, 0.1, 0.1, 0.1}}},
	}}
	job := Default()
	if p := planPrint(moldbox.Measured{Left: half}, Plastic{Solid: 1}, job); p != nil {
		t.Error("a plan for one frame")
	}
	job.Plastic.Name = "PLA"
	p := planPrint(in, Plastic{Name: "PLA", Density: 1.24, Solid: 1}, job)
	f := p.Frames[0]
	if math.Abs(f.PlasticG-12.4) > 1e-9 || math.Abs(f.FilamentMM-4158) > 1 {
		t.Errorf("%g g, %g mm", f.PlasticG, f.FilamentMM)
	}
	if l := p.Layers[1]; p.LayerMM != 0.16 || math.Abs(l.StepMM-0.06) > 1e-12 || math.Abs(l.WidePercent-10) > 1e-9 {
		t.Errorf("advised %g mm; at 0.12 mm %+v", p.LayerMM, l)
	}
	if got, want := p.Text(), "floor down, no supports; plastic 12 g, 4.2 m and 12 g, 4.2 m; about 42 min to 2.8 h for both (rough)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := p.LayerText(), "0.16 mm leave steps of 0.08 mm on the castings, 0.28 mm leave 0.14 mm (averages)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	in.Findings = []moldbox.Finding{{Code: "overhang"}}
	if p = planPrint(in, Plastic{Name: "resin", Density: 1.18, Solid: 1}, job); !p.Supports || p.Frames[0].FilamentMM != 0 {
		t.Errorf("resin: %+v", p)
	}
	if p = planPrint(in, Plastic{Solid: 1}, job); p.Frames[0].PlasticG != 0 {
		t.Errorf("a plastic that is not known weighs %g g", p.Frames[0].PlasticG)
	}
}

// What hangs over in a frame needs supports, but a short bridge; without a limit nothing
// was looked for.
func TestPlanSupports(t *testing.T) {
	in := twoFrames(30, 40)
	in.Right.Hanging = []moldbox.Hanging{
		{At: geom.Vec{X: 31, Y: 12, Z: 8}, Area: 12, Steepest: 1.4, Cavity: "cavity 2"},
		{At: geom.Vec{X: 1, Y: 2, Z: 3}, Area: 6, Steepest: math.Pi / 2, Bridge: moldbox.MostBridge},
	}
	job := Default()
	p := planPrint(in, Plastic{Solid: 1}, job)
	places := p.SupportPlaces()
	want := "right frame, cavity 2: 31 mm from its left edge, 12 mm from its near edge, 8.0 mm up; 12 mm² hang over by up to 80°"
	if len(places) != 1 || places[0] != want || !p.Supports || p.Frames[0].Supports || !p.Frames[1].Supports {
		t.Errorf("%q of %+v", places, p.Frames)
	}
	in.Right.Hanging = in.Right.Hanging[1:]
	if p := planPrint(in, Plastic{Solid: 1}, job); p.Supports || p.SupportText() != "no supports" {
		t.Errorf("a short bridge: %s", p.SupportText())
	}
	job.Checks.Overhang = 0
	if p := planPrint(in, Plastic{Solid: 1}, job); p.SupportText() != "overhangs not looked for (checks.overhang is 0)" {
		t.Error(p.SupportText())
	}
}

// The job's own layer is told and printed; one that leaves too high steps says so.
func TestPlanLayersOfTheJob(t *testing.T) {
	in := twoFrames(30, 40)
	in.Cavities = []moldbox.MeasuredCavity{{Slopes: moldbox.Slopes{Mean: 0.5}}}
	for _, c := range []struct {
		layer, step, nozzle float64
		plastic, want       string
	}{
		{0, 0.08, 0.4, "", "0.16 mm leave steps of 0.08 mm on the castings, 0.28 mm leave 0.14 mm (averages)"},
		{0.24, 0.08, 0.4, "", "0.24 mm leave steps of 0.12 mm on the castings, 0.28 mm leave 0.14 mm (averages); for steps of 0.08 mm print 0.16 mm"},
		{0, 0.02, 0.4, "", "0.08 mm leave steps of 0.04 mm on the castings, 0.28 mm leave 0.14 mm (averages); no usual layer leaves as little as 0.02 mm"},
		{0, 0.15, 0.8, "", "0.24 mm leave steps of 0.12 mm on the castings, 0.56 mm leave 0.28 mm (averages)"},
		{0, 0.08, 0.4, "resin", "0.10 mm leave steps of 0.05 mm on the castings (average)"},
	} {
		job := Default()
		job.Print.Layer, job.Print.Step, job.Print.Nozzle, job.Plastic.Name = MM(c.layer), MM(c.step), c.nozzle, c.plastic
		if got := planPrint(in, Plastic{Solid: 1}, job).LayerText(); got != c.want {
			t.Errorf("%+v: %q", c, got)
		}
	}
}

func twoFrames(x, y float64) moldbox.Measured {
	half := moldbox.MeasuredHalf{Mesh: &moldbox.HalfProof{SolidVolume: 10000}, Outside: geom.Vec{X: x, Y: y, Z: 20}}
	return moldbox.Measured{Left: half, Right: half}
}
