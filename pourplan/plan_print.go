package pourplan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"halfpour/moldbox"
)

// PrintPlan is how the frames are printed.
type PrintPlan struct {
	Frames   []PrintFrame `json:"frames"`             // left, right
	LimitDeg float64      `json:"overhang_limit_deg"` // checks.overhang: steeper places need supports; 0: nothing was looked for
	Supports bool         `json:"supports"`           // some part of a frame needs them; hanging, or a finding, says where
	Layers   []PrintLayer `json:"layers"`             // what layer heights leave on the castings
	WantedMM float64      `json:"wanted_step_mm"`     // the highest steps wanted, print.step
	AskedMM  float64      `json:"asked_layer_mm"`     // the thickest of layers that leaves no higher steps; 0: all leave higher ones
	LayerMM  float64      `json:"advised_layer_mm"`   // to print with: print.layer, or else asked_layer_mm, or the thinnest of layers
	Bed      BedPlan      `json:"bed"`                // where the frames lie on it
	RoughMin float64      `json:"least_time_s"`       // both frames: rough
	RoughMax float64      `json:"most_time_s"`        // both frames: rough
}

// PrintFrame is one frame's plastic, and how it is printed.
type PrintFrame struct {
	Half       string         `json:"half"`                  // "left" or "right"
	WayUp      string         `json:"way_up"`                // "floor down": what the rubber sees is printed on the floor, and the plate is under all of it
	Supports   bool           `json:"supports"`              // some of hanging needs them
	Hanging    []PrintHanging `json:"hanging,omitempty"`     // places of the frame's mesh that hang over too steeply, the largest first; left out when there are none
	PlasticML  float64        `json:"plastic_ml"`            // in it
	PlasticG   float64        `json:"plastic_g,omitempty"`   // the same; left out when the job names no plastic
	FilamentMM float64        `json:"filament_mm,omitempty"` // the same as filament of plastic.filament; left out for resin
}

// PrintHanging is a place of a frame that hangs over.
type PrintHanging struct {
	AtMM        [3]float64 `json:"at_mm"`               // its steepest point: from the frame's left edge, from its near edge, over the plate, as the frame stands on the bed
	Cavity      string     `json:"cavity,omitempty"`    // whose head it is at; left out elsewhere
	AreaMM2     float64    `json:"area_mm2"`            // as seen from below
	SteepestDeg float64    `json:"steepest_deg"`        // from upright
	BridgeMM    float64    `json:"bridge_mm,omitempty"` // span of a level roof with a wall under both ends; left out otherwise
	Support     bool       `json:"support"`             // it needs one; a short bridge does not
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

// layers are the layer heights to tell about, mm: usual ones of the nozzle, or of resin
// (common practice, no source), and the job's own.
func (t PrintTable) layers(plastic string) []float64 {
	list := moldbox.UsualLayers(t.Nozzle)
	if strings.EqualFold(plastic, "resin") {
		list = []float64{0.025, 0.05, 0.1}
	}
	if own := float64(t.Layer); own > 0 && !slices.Contains(list, own) {
		list = append(list, own)
		slices.Sort(list)
	}
	return list
}

// planPrint is nil as long as nothing was meshed.
func planPrint(in moldbox.Measured, plastic Plastic, job *Job) *PrintPlan {
	if in.Left.Mesh == nil || in.Right.Mesh == nil {
		return nil
	}
	p := &PrintPlan{LimitDeg: job.Checks.Overhang * 180 / math.Pi}
	for _, f := range in.Findings {
		p.Supports = p.Supports || f.Code == "overhang"
	}
	for i, half := range []moldbox.MeasuredHalf{in.Left, in.Right} {
		f := planPrintFrame(half, plastic, job.Plastic)
		f.Half = [2]string{"left", "right"}[i]
		p.Frames, p.Supports = append(p.Frames, f), p.Supports || f.Supports
	}
	p.RoughMin, p.RoughMax = PrintTime(1000 * (p.Frames[0].PlasticML + p.Frames[1].PlasticML))
	p.planLayers(in.Cavities, job.Print, job.Plastic.Name)
	p.Bed = planBed(in, p, job.Print)
	return p
}

func planPrintFrame(half moldbox.MeasuredHalf, plastic Plastic, t PlasticTable) PrintFrame {
	volume := half.Mesh.SolidVolume * plastic.Solid
	f := PrintFrame{WayUp: "floor down", PlasticML: volume * 1e-3, PlasticG: volume * 1e-3 * plastic.Density}
	if !strings.EqualFold(plastic.Name, "resin") {
		f.FilamentMM = volume / (math.Pi / 4 * float64(t.Filament) * float64(t.Filament))
	}
	for _, h := range half.Hanging {
		f.Hanging = append(f.Hanging, PrintHanging{xyz(h.At), h.Cavity, h.Area, h.Steepest * 180 / math.Pi, h.Bridge, h.NeedsSupport()})
		f.Supports = f.Supports || h.NeedsSupport()
	}
	return f
}

// planLayers says what layers leave on the castings, and which to print.
func (p *PrintPlan) planLayers(cavities []moldbox.MeasuredCavity, t PrintTable, plastic string) {
	p.WantedMM = float64(t.Step)
	for i, layer := range t.layers(plastic) {
		l := PrintLayer{LayerMM: layer}
		for _, c := range cavities {
			l.StepMM = max(l.StepMM, layer*c.Slopes.Mean)
			if i < len(c.Slopes.Wider) {
				l.WidePercent = max(l.WidePercent, 100*c.Slopes.Wider[i])
			}
		}
		p.Layers = append(p.Layers, l)
		if l.StepMM <= p.WantedMM {
			p.AskedMM = layer
		}
	}
	for _, layer := range []float64{float64(t.Layer), p.AskedMM, p.Layers[0].LayerMM} {
		if layer > 0 {
			p.LayerMM = layer
			break
		}
	}
}

// Text says it in a line.
func (p *PrintPlan) Text() string {
	low, high := p.Times()
	return fmt.Sprintf("floor down, %s; plastic %s and %s; about %s to %s for both (rough)", p.SupportText(),
		p.Frames[0].amount(), p.Frames[1].amount(), low, high)
}

func (f PrintFrame) amount() string {
	switch {
	case f.PlasticG > 0 && f.FilamentMM > 0:
		return fmt.Sprintf("%.0f g, %.1f m", f.PlasticG, f.FilamentMM/1000)
	case f.PlasticG > 0:
		return fmt.Sprintf("%.0f g", f.PlasticG)
	}
	return fmt.Sprintf("%.0f ml", f.PlasticML)
}

// SupportText says whether the frames need supports.
func (p *PrintPlan) SupportText() string {
	switch {
	case p.LimitDeg == 0:
		return "overhangs not looked for (checks.overhang is 0)"
	case len(p.SupportPlaces()) > 0:
		return "supports where said below"
	case p.Supports:
		return "supports where a finding says"
	}
	return "no supports"
}

// SupportPlaces are the places that need supports, the largest of each frame first.
func (p *PrintPlan) SupportPlaces() (list []string) {
	for _, f := range p.Frames {
		for _, h := range f.Hanging {
			if !h.Support {
				continue
			}
			at := ""
			if h.Cavity != "" {
				at = ", " + h.Cavity
			}
			list = append(list, fmt.Sprintf("%s frame%s: %.0f mm from its left edge, %.0f mm from its near edge, %.1f mm up; %.0f mm² hang over by up to %.0f°",
				f.Half, at, h.AtMM[0], h.AtMM[1], h.AtMM[2], h.AreaMM2, h.SteepestDeg))
		}
	}
	return list
}

// Times are how long both frames take, rough, in words.
func (p *PrintPlan) Times() (low, high string) {
	return FormatDuration(wholeMinutes(p.RoughMin)), FormatDuration(wholeMinutes(p.RoughMax))
}

// LayerText says what the layers to print and the thickest ones leave.
func (p *PrintPlan) LayerText() string {
	last := p.Layers[len(p.Layers)-1]
	text := ""
	for _, l := range p.Layers {
		if l.LayerMM == p.LayerMM {
			text = fmt.Sprintf("%s leave steps of %.2f mm on the castings", LayerText(l.LayerMM), l.StepMM)
		}
	}
	if p.LayerMM == last.LayerMM {
		text += " (average)"
	} else {
		text += fmt.Sprintf(", %s leave %.2f mm (averages)", LayerText(last.LayerMM), last.StepMM)
	}
	return text + p.layerWish()
}

// layerWish says what the wanted steps ask for, where that is not printed.
func (p *PrintPlan) layerWish() string {
	switch {
	case p.AskedMM == 0:
		return fmt.Sprintf("; no usual layer leaves as little as %.4g mm", p.WantedMM)
	case p.LayerMM > p.AskedMM:
		return fmt.Sprintf("; for steps of %.4g mm print %s", p.WantedMM, LayerText(p.AskedMM))
	}
	return ""
}

// LayerText shows the height of a layer: "0.20 mm", "0.025 mm".
func LayerText(mm float64) string {
	return strings.TrimSuffix(fmt.Sprintf("%.3f", mm), "0") + " mm"
}
