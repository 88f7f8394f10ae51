package pourplan

import (
	"fmt"

	"halfpour/moldbox"
)

// typicalPowder is the density of a baked powder coat in g/cm³: 1.2 clear to
// 1.8 with white pigment (common practice, no source).
const typicalPowder = 1.5

// typicalBake is an oven for powder coats, °C: most bake at 160 to 200 (common
// practice, no source). The hottest of these stands here, which is on the safe
// side for metals that melt low.
const typicalBake = 200.0

func (t FinishTable) bake() float64 {
	if t.Bake != nil {
		return float64(*t.Bake)
	}
	return typicalBake
}

// baked says how hot the heads get in an oven, and whether they do: a job that
// gives a bake has a coat to bake, even without its thickness.
func (t FinishTable) baked() (float64, bool) { return t.bake(), t.Powder > 0 || t.Bake != nil }

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

// leavesOpen asks for the hook's eye not to be closed by powder.
func (t FinishTable) leavesOpen(h moldbox.Hook) error {
	if t.Powder == 0 || h.EyeInside == 0 || 2*float64(t.Powder) < h.EyeInside {
		return nil
	}
	return &keyError{"finish.powder", RuleRange, "use a thinner coat",
		fmt.Errorf("must leave the hook's eye of %.4g mm open, got %.4g mm on all sides", h.EyeInside, float64(t.Powder))}
}

// planCoat is the powder coat of a head; nil without one, or as long as the
// head's surface is not measured.
func planCoat(t FinishTable, c CavityTable, m moldbox.MeasuredCavity, finished Range) *CoatPlan {
	if t.Powder == 0 || !(m.Area > 0) || !(m.Shrink > 0) {
		return nil
	}
	p := &CoatPlan{ThicknessMM: float64(t.Powder), DensityGCM3: t.powderDensity(), BakeC: t.bake()}
	p.AddsG = p.ThicknessMM * p.DensityGCM3 * m.Area / (m.Shrink * m.Shrink) * 1e-3
	p.CoatedG = Range{finished.Low + p.AddsG, finished.Best + p.AddsG, finished.High + p.AddsG}
	if c.Hook != nil {
		p.HookEyeMM = c.Hook.eyeInside(m) - 2*p.ThicknessMM
	}
	if t.Socket > 0 {
		p.SocketMM = m.Scale*float64(t.Socket) - 2*p.ThicknessMM
		p.SocketPlayMM = p.SocketMM - float64(t.StickEye)
		p.StickEyeFits = p.SocketPlayMM >= 0
	}
	return p
}
