package pourplan

import (
	"fmt"
	"slices"

	"halfpour/moldbox"
)

// What finish.powder has where the job says nothing: see usualCoats.
const (
	typicalPowder = 1.5   // g/cm³, baked
	typicalBake   = 200.0 // °C
)

// coatSpread is how far a coat by hand is off its thickness, as a share (common
// practice, no source).
const coatSpread = 1.0 / 3

func (t FinishTable) bake() float64 {
	if t.Bake != nil {
		return float64(*t.Bake)
	}
	return typicalBake
}

func (t FinishTable) powderDensity() float64 {
	if t.PowderDensity != nil {
		return float64(*t.PowderDensity)
	}
	return typicalPowder
}

// typical are the keys whose figures the job did not state.
func (t FinishTable) typical() []string {
	var keys []string
	if t.Powder > 0 && t.PowderDensity == nil {
		keys = append(keys, "finish.powder_density")
	}
	if t.Powder > 0 && t.Bake == nil {
		keys = append(keys, "finish.bake")
	}
	return keys
}

// typicalCoats are the keys of all coats whose figures the job did not state, each
// once.
func (j *Job) typicalCoats() []string {
	var keys []string
	for _, c := range j.coats() {
		for _, k := range c.typical {
			if !slices.Contains(keys, k) {
				keys = append(keys, k)
			}
		}
	}
	return keys
}

// coatsLeaveOpen asks for the hook's eye not to be closed by all coats together.
func (j *Job) coatsLeaveOpen(h moldbox.Hook) error {
	thick := j.coatThickness(false)
	if thick == 0 || h.EyeInside == 0 || 2*thick < h.EyeInside {
		return nil
	}
	at := "finish.powder"
	if len(j.Coat) > 0 {
		at = "coat[0].thickness"
	}
	return &keyError{at, RuleRange, "use thinner coats, or fewer",
		fmt.Errorf("must leave the hook's eye of %.4g mm open, got %.4g mm on all sides", h.EyeInside, thick)}
}

// planCoat is what all coats do to a head; nil without any, or as long as the head's
// surface is not measured.
func planCoat(j *Job, c CavityTable, m moldbox.MeasuredCavity, h HeadPlan) *CoatPlan {
	coats := j.coats()
	if j.coatThickness(false) == 0 || !(m.Area > 0) || !(m.Shrink > 0) {
		return nil
	}
	p := &CoatPlan{ThicknessMM: j.coatThickness(false), BakeC: j.hottestBake(), CoatedG: h.FinishedG}
	area := m.Area / (m.Shrink * m.Shrink)
	for _, k := range coats {
		adds := k.total() * k.density * area * 1e-3
		p.AddsG += adds
		p.CoatedG = Range{p.CoatedG.Low + (1-coatSpread)*adds, p.CoatedG.Best + adds, p.CoatedG.High + (1+coatSpread)*adds}
		p.Coats = append(p.Coats, CoatStep{Kind: k.kind, Count: k.count, EachMM: k.thickness, DensityGCM3: k.density, BakeC: k.bake, BakeS: k.bakeS,
			AfterEyes: k.afterEyes, AddsG: adds, CoatedG: p.CoatedG})
	}
	p.DensityGCM3 = p.AddsG / (p.ThicknessMM * area * 1e-3)
	if h.TargetG > 0 && h.TargetOf == "finished" {
		p.TargetG = h.TargetG - p.AddsG
	}
	if c.Hook != nil {
		p.HookEyeMM = c.Hook.eyeInside(m) - 2*p.ThicknessMM
	}
	if t := j.Finish; t.Socket > 0 {
		p.SocketMM = m.Scale*float64(t.Socket) - 2*j.coatThickness(true)
		p.SocketPlayMM = p.SocketMM - float64(t.StickEye)
		p.StickEyeFits = p.SocketPlayMM >= 0
	}
	return p
}
