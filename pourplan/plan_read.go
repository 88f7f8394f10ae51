package pourplan

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
)

// MaxPlanBytes is far beyond any plan: one of 64 cavities has about 100 kB.
const MaxPlanBytes = 8 << 20

// ReadPlan reads a plan as JSON wrote it. The error says what is no plan of
// this version, or which figure is out of all bounds.
func ReadPlan(data []byte) (*Plan, error) {
	if len(data) > MaxPlanBytes {
		return nil, fmt.Errorf("too long for a plan: %d bytes, at most %d", len(data), MaxPlanBytes)
	}
	var p Plan
	dec := json.NewDecoder(bytes.NewReader(data))
	if err := dec.Decode(&p); err != nil {
		return nil, fmt.Errorf("is no plan: %w", err)
	}
	if dec.More() {
		return nil, errors.New("is no plan: something follows it")
	}
	if p.Schema != PlanSchema {
		return nil, fmt.Errorf("plan schema must be %d, got %d", PlanSchema, p.Schema)
	}
	return &p, p.checkRead()
}

// checkRead asks for what account, mix and comparison count with.
func (p *Plan) checkRead() error {
	if r := p.Rubber; p.OfBox() && p.Metal == (MetalPlan{}) && len(r.Halves) > 0 && r.RatioA > 0 && r.RatioB > 0 && r.ScaleStepG > 0 {
		return nil
	}
	if len(p.Heads) == 0 || len(p.Rubber.Halves) == 0 {
		return fmt.Errorf("plan must have heads and halves, got %d and %d", len(p.Heads), len(p.Rubber.Halves))
	}
	for _, h := range p.Heads {
		f := h.FinishedG
		if !(h.MetalMM3 > 0) || !(h.SteelG >= 0) || !(f.Low > 0 && f.Low <= f.Best && f.Best <= f.High) {
			return fmt.Errorf("plan's head %q must hold metal and weigh something, got %g mm³ and %g to %g g", h.Name, h.MetalMM3, f.Low, f.High)
		}
	}
	d := p.Metal.DensityGCM3.Best
	if r := p.Rubber; !(r.RatioA > 0 && r.RatioB > 0 && r.ScaleStepG > 0 && d > 0) || math.IsInf(d, 0) {
		return fmt.Errorf("plan must have a ratio, a scale's step and a density, got %g:%g, %g g, %g g/cm³", r.RatioA, r.RatioB, r.ScaleStepG, d)
	}
	return nil
}
