package pourplan

import (
	"fmt"
	"math"
	"strings"

	"halfpour/moldbox"
)

// PrintPlan is how the frames are printed: floor down, each on its own.
type PrintPlan struct {
	Frames   []PrintFrame `json:"frames"`           // left, right
	Supports bool         `json:"supports"`         // some part of a frame needs them; a finding says where
	Layers   []PrintLayer `json:"layers"`           // what layer heights leave on the castings
	LayerMM  float64      `json:"advised_layer_mm"` // the thickest of them whose steps sand off easily
	RoughMin float64      `json:"least_time_s"`     // both frames: rough
	RoughMax float64      `json:"most_time_s"`      // both frames: rough
}

// PrintFrame is one frame's plastic.
type PrintFrame struct {
	Half       string  `json:"half"`                  // "left" or "right"
	PlasticML  float64 `json:"plastic_ml"`            // in it
	PlasticG   float64 `json:"plastic_g,omitempty"`   // the same; left out when the job names no plastic
	FilamentMM float64 `json:"filament_mm,omitempty"` // the same as filament of plastic.filament; left out for resin
}

// PrintLayer is what a layer height leaves on the castings.
type PrintLayer struct {
	LayerMM     float64 `json:"layer_mm"`           // height of a layer
	StepMM      float64 `json:"step_mm"`            // square to the surface, on average over the head that has the highest
	WidePercent float64 `json:"wide_steps_percent"` // of that head's surface in steps wider than 1 mm
}

// easySteps is how high steps may be on average and still sand off a casting with a
// few strokes, mm (common practice, no source).
const easySteps = 0.08

// planPrint is nil as long as nothing was meshed.
func planPrint(in moldbox.Measured, plastic Plastic, t PlasticTable) *PrintPlan {
	if in.Left.Mesh == nil || in.Right.Mesh == nil {
		return nil
	}
	p := &PrintPlan{}
	total := 0.0
	for _, h := range []struct {
		name string
		half moldbox.MeasuredHalf
	}{{"left", in.Left}, {"right", in.Right}} {
		volume := h.half.Mesh.SolidVolume * plastic.Solid
		total += volume
		f := PrintFrame{Half: h.name, PlasticML: volume * 1e-3, PlasticG: volume * 1e-3 * plastic.Density}
		if !strings.EqualFold(plastic.Name, "resin") {
			f.FilamentMM = volume / (math.Pi / 4 * float64(t.Filament) * float64(t.Filament))
		}
		p.Frames = append(p.Frames, f)
	}
	p.RoughMin, p.RoughMax = PrintTime(total)
	for _, f := range in.Findings {
		p.Supports = p.Supports || f.Code == "overhang" || f.Code == "gate-overhangs"
	}
	for i, layer := range moldbox.LayerHeights {
		l := PrintLayer{LayerMM: layer}
		for _, c := range in.Cavities {
			l.StepMM, l.WidePercent = max(l.StepMM, layer*c.Slopes.Mean), max(l.WidePercent, 100*c.Slopes.Wider[i])
		}
		p.Layers = append(p.Layers, l)
		if i == 0 || l.StepMM <= easySteps {
			p.LayerMM = layer
		}
	}
	return p
}

// Text says it in a line.
func (p *PrintPlan) Text() string {
	amount := func(f PrintFrame) string {
		switch {
		case f.PlasticG > 0 && f.FilamentMM > 0:
			return fmt.Sprintf("%.0f g, %.1f m", f.PlasticG, f.FilamentMM/1000)
		case f.PlasticG > 0:
			return fmt.Sprintf("%.0f g", f.PlasticG)
		}
		return fmt.Sprintf("%.0f ml", f.PlasticML)
	}
	supports := "no supports"
	if p.Supports {
		supports = "supports where a finding says"
	}
	low, high := p.Times()
	return fmt.Sprintf("floor down, %s; plastic %s and %s; about %s to %s for both (rough)", supports, amount(p.Frames[0]), amount(p.Frames[1]), low, high)
}

// Times are how long both frames take, rough, in words.
func (p *PrintPlan) Times() (low, high string) {
	return FormatDuration(wholeMinutes(p.RoughMin)), FormatDuration(wholeMinutes(p.RoughMax))
}

// LayerText says what the advised layers and the thickest ones leave.
func (p *PrintPlan) LayerText() string {
	last := p.Layers[len(p.Layers)-1]
	for _, l := range p.Layers {
		if l.LayerMM == p.LayerMM && l.LayerMM != last.LayerMM {
			return fmt.Sprintf("%.2f mm leave steps of %.2f mm on the castings, %.2f mm leave %.2f mm (averages)", l.LayerMM, l.StepMM, last.LayerMM, last.StepMM)
		}
	}
	return fmt.Sprintf("%.2f mm leave steps of %.2f mm on the castings (average)", last.LayerMM, last.StepMM)
}
