package pourplan

import (
	"math"

	"halfpour/moldbox"
)

// FrozenPlan is how one head freezes, as a shot was computed.
type FrozenPlan struct {
	SolidS     float64    `json:"solid_s"`      // until all of the head is solid
	SolidMostS float64    `json:"solid_most_s"` // the same with all that is not known at the slow end
	GateS      float64    `json:"gate_s"`       // until the gate is solid
	GateMostS  float64    `json:"gate_most_s"`  // the same at the slow end
	CutOffS    float64    `json:"cut_off_s"`    // when no more melt can flow on into the head
	FlowS      float64    `json:"flow_s"`       // until when melt could flow into all of it
	FlowAtMM   [3]float64 `json:"flow_at_mm"`   // what it no longer reaches first, mold coordinates
	FedPercent float64    `json:"fed_percent"`  // of the head that was solid where and when feeding ended
	LastAtMM   [3]float64 `json:"last_at_mm"`   // what freezes last, mold coordinates
	VoidMM3    float64    `json:"void_mm3"`     // to expect of the most melt that freezes without feed in one place; 0: none, or the metal grows
	VoidAtMM   [3]float64 `json:"void_at_mm"`   // where that melt ends, mold coordinates
}

// takeShot puts the figures of a computed shot in the place of rough ones.
func (f *Filling) takeShot(h FrozenPlan, reach float64) {
	f.GateFreezesS, f.FreezesLowS, f.FreezesHighS, f.HeatReachesMM = h.CutOffS, h.SolidS, h.SolidMostS, reach
}

// planFrozen is nil when no shot was computed, or when some metal was not solid
// in time.
func planFrozen(cast *moldbox.MeasuredCast, i int, m Metal) *FrozenPlan {
	if cast == nil || i >= len(cast.Best.Heads) || math.IsInf(cast.Best.Solid, 0) || math.IsInf(cast.Slow.Solid, 0) {
		return nil
	}
	best, slow := cast.Best.Heads[i], cast.Slow.Heads[i]
	f := &FrozenPlan{SolidS: best.Solid, SolidMostS: math.Max(best.Solid, slow.Solid), GateS: best.Gate, GateMostS: math.Max(best.Gate, slow.Gate), CutOffS: best.Shut, FlowS: best.Flow.Latest, FlowAtMM: xyz(best.Flow.At),
		FedPercent: 100 * best.Fed, LastAtMM: xyz(best.Last), VoidAtMM: xyz(best.CutOffAt)}
	f.VoidMM3 = math.Max(0, best.CutOff*m.shrinks())
	return f
}
