package pourplan

import (
	"errors"
	"fmt"

	"halfpour/moldbox"
)

// FinishTable is [finish]: what goes on the printed trays and on the castings.
type FinishTable struct {
	SealCoat      MM       `toml:"seal_coat"`      // paint or primer on the inside of the print; the print is thinner by it
	Powder        MM       `toml:"powder"`         // thickness of the baked coat on the heads; 0: none
	PowderDensity *Density `toml:"powder_density"` // of the coat, baked
	Socket        MM       `toml:"socket"`         // width of an eye socket of the head, as drawn; 0: none to look at
	StickEye      MM       `toml:"stick_eye"`      // diameter of the eye that is glued into it
}

// typicalPowder is the density of a baked powder coat in g/cm³: 1.2 clear to
// 1.8 with white pigment (common practice, no source).
const typicalPowder = 1.5

const powderKey = "finish.powder_density"

func (t FinishTable) powderDensity() float64 {
	if t.PowderDensity != nil {
		return float64(*t.PowderDensity)
	}
	return typicalPowder
}

// typical are the keys whose figures the job did not state.
func (t FinishTable) typical() []string {
	if t.Powder > 0 && t.PowderDensity == nil {
		return []string{powderKey}
	}
	return nil
}

func (j *Job) checkFinish(l *limits) {
	f := j.Finish
	l.within("finish.powder", float64(f.Powder), 0, 1, "mm", "a baked coat has some 0.05 to 0.15 mm")
	if f.PowderDensity != nil {
		l.within(powderKey, f.powderDensity(), 0.8, 4, "g/cm3", "1.2 to 1.8 is usual")
	}
	l.within("finish.socket", float64(f.Socket), 0, 50, "mm", "")
	l.within("finish.stick_eye", float64(f.StickEye), 0, 50, "mm", "")
	if (f.Socket > 0) != (f.StickEye > 0) {
		l.errs = append(l.errs, &keyError{"finish.stick_eye", RuleMissing, "give both or neither",
			errors.New("goes with finish.socket")})
	}
}

// leavesOpen asks for the hook's eye not to be closed by powder.
func (t FinishTable) leavesOpen(c CavityTable) error {
	if t.Powder == 0 || c.Hook == nil || c.Hook.EyeInside == 0 || 2*t.Powder < c.Hook.EyeInside {
		return nil
	}
	return &keyError{"finish.powder", RuleRange, "take a thinner coat",
		fmt.Errorf("must leave the hook's eye of %.4g mm open, got %.4g mm on all sides", float64(c.Hook.EyeInside), float64(t.Powder))}
}

// planCoat is the powder coat of a head; nil without one, or as long as the
// head's skin is not measured.
func planCoat(t FinishTable, c CavityTable, m moldbox.MeasuredCavity, finished Range) *CoatPlan {
	if t.Powder == 0 || !(m.Area > 0) || !(m.Shrink > 0) {
		return nil
	}
	p := &CoatPlan{ThicknessMM: float64(t.Powder), DensityGCM3: t.powderDensity()}
	p.AddsG = p.ThicknessMM * p.DensityGCM3 * m.Area / (m.Shrink * m.Shrink) * 1e-3
	p.CoatedG = Range{finished.Low + p.AddsG, finished.Best + p.AddsG, finished.High + p.AddsG}
	if c.Hook != nil {
		p.HookEyeMM = float64(c.Hook.EyeInside) - 2*p.ThicknessMM
	}
	if t.Socket > 0 {
		p.SocketMM = m.Scale*float64(t.Socket) - 2*p.ThicknessMM
		p.SocketPlayMM = p.SocketMM - float64(t.StickEye)
		p.StickEyeFits = p.SocketPlayMM >= 0
	}
	return p
}
