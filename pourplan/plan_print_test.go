package pourplan

import (
	"math"
	"testing"

	"halfpour/moldbox"
)

// By hand: 10 cm³ of plastic of 1.24 g/cm³ are 12.4 g and 10000/(π/4·1.75²) = 4158 mm
// of filament.
func TestPlanPrint(t *testing.T) {
	half := moldbox.MeasuredHalf{Mesh: &moldbox.HalfProof{SolidVolume: 10000}}
	in := moldbox.Measured{Left: half, Right: half, Cavities: []moldbox.MeasuredCavity{
		{Slopes: moldbox.Slopes{Mean: 0.5, Wider: [5]float64{0, 0.01, 0.01, 0.02, 0.04}}},
		{Slopes: moldbox.Slopes{Mean: 0.3, Wider: [5]float64{0, 0.1, 0.1, 0.1, 0.1}}},
	}}
	if p := planPrint(moldbox.Measured{Left: half}, Plastic{Solid: 1}, Default().Plastic); p != nil {
		t.Error("a plan for one frame")
	}
	p := planPrint(in, Plastic{Name: "PLA", Density: 1.24, Solid: 1}, Default().Plastic)
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
	if p = planPrint(in, Plastic{Name: "resin", Density: 1.18, Solid: 1}, Default().Plastic); !p.Supports || p.Frames[0].FilamentMM != 0 {
		t.Errorf("resin: %+v", p)
	}
	if p = planPrint(in, Plastic{Solid: 1}, Default().Plastic); p.Frames[0].PlasticG != 0 {
		t.Errorf("a plastic that is not known weighs %g g", p.Frames[0].PlasticG)
	}
}
