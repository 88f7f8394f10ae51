package pourplan

import (
	"fmt"
	"math"
	"slices"
)

// WeighedFill is the fill factor by the scale: weighed over computed metal, the
// computed one as the density has it, summed up over all kinds of heads of one
// metal. The error is what the heads' scatter leaves open; what all heads of a
// mold have in common (its shrinkage, the alloy) is in the factor.
type WeighedFill struct {
	Metal         string  `json:"metal"`          // its name; weights of other metals do not count
	DensityGCM3   float64 `json:"density_g_cm3"`  // by which the account's volume of metal is computed to weigh
	Weights       int     `json:"weights"`        // how many
	Factor        float64 `json:"factor"`         // the mean
	StandardError float64 `json:"standard_error"` // of the mean, with what the scale's step hides
	Low           float64 `json:"low"`            // ends of its 95 % interval, by Student's t
	High          float64 `json:"high"`           // and the upper end
	scatter       float64 // of single heads
	hidden        float64 // error by the scale's step
}

// leastWeights is the fewest that a build counts with. The scatter of so few is
// itself a guess: of 2, 3 and 4 weights the 95 % interval reaches 9, 2.5 and
// 1.6 times the scatter to each side, of 5 only 1.2 times.
const leastWeights = 5

// widestFill is how far the 95 % interval may reach to each side. Hand castings
// scatter by about 1 to 2 % (common practice, no source), and the computed mass
// is itself known to about 2 %: a factor known less well mends nothing.
const widestFill = 0.02

// FillFactor returns what the weights of a metal say, when the account's volume
// of it is computed to weigh by a density in g/cm³ (see CastMetal); false with
// fewer than two.
func (a *Account) FillFactor(metal string, density float64) (WeighedFill, bool) {
	f := WeighedFill{Metal: metal, DensityGCM3: density}
	var factors, hidden []float64
	for _, c := range a.Castings {
		if len(c.Weights) == 0 || c.Metal != metal {
			continue
		}
		computed := density * c.MetalMM3 * 1e-3
		for _, w := range c.Weights {
			factors = append(factors, (w-c.SteelG)/computed)
		}
		// A reading is off by up to half a step, evenly: step/√12. Alike heads are
		// all off alike, so that it does not average out.
		hidden = append(hidden, scaleStep(c.Weights)/math.Sqrt(12)/computed)
	}
	f.Weights = len(factors)
	if f.Weights < 2 || !(density > 0) {
		return f, false
	}
	f.Factor, f.scatter = meanAndScatter(factors)
	f.hidden = slices.Max(hidden)
	f.StandardError = math.Hypot(f.scatter/math.Sqrt(float64(f.Weights)), f.hidden)
	reach := student(f.Weights-1) * f.StandardError
	f.Low, f.High = f.Factor-reach, f.Factor+reach
	return f, !math.IsNaN(reach) && !math.IsInf(reach, 0)
}

// Usable says why a build should not count with the factor yet; nil when it
// may.
func (f WeighedFill) Usable() error {
	switch reach := f.High - f.Factor; {
	case f.Weights < leastWeights:
		return fmt.Errorf("must have at least %d weighed heads of %s, got %d: too few to judge the scatter", leastWeights, f.Metal, f.Weights)
	case !(reach <= widestFill*f.Factor):
		return fmt.Errorf("must be known to ±%g %%, got ±%.1f %% from %d heads that scatter by %.1f %%: %s",
			100*widestFill, 100*reach/f.Factor, f.Weights, 100*f.scatter/f.Factor, f.remedy())
	}
	return nil
}

// remedy says how many heads would do: z²·(scatter²/n + hidden²) = limit².
func (f WeighedFill) remedy() string {
	limit := widestFill * f.Factor / normal975
	if room := limit*limit - f.hidden*f.hidden; room > 0 {
		return fmt.Sprintf("weigh about %.0f in all", math.Max(math.Ceil(f.scatter*f.scatter/room), float64(f.Weights+1)))
	}
	return "weigh on a finer scale"
}

// meanAndScatter returns the mean and the standard deviation of the sample.
func meanAndScatter(xs []float64) (mean, scatter float64) {
	n := float64(len(xs))
	for _, x := range xs {
		mean += x / n
	}
	for _, x := range xs {
		scatter += (x - mean) * (x - mean)
	}
	if len(xs) < 2 {
		return mean, 0
	}
	return mean, math.Sqrt(scatter / (n - 1))
}

// scaleStep is the coarsest decimal step that all readings stand on, g.
func scaleStep(readings []float64) float64 {
	step := 1.0
	for _, g := range readings {
		for step > 1.5e-4 && math.Abs(g/step-math.Round(g/step)) > 1e-6 {
			step /= 10
		}
	}
	return step
}

// CastMetal returns the name of the job's metal, and the density in g/cm³ by
// which the volume that stands in an account is computed to weigh.
func (j *Job) CastMetal() (name string, density float64, err error) {
	m, err := j.Metal.resolve()
	if err != nil {
		return m.Name, 0, err
	}
	r, err := j.Rubber.resolve()
	return m.Name, m.Density.Best * j.accountFactor(m, r), err
}

// accountFactor is what a head is computed to weigh over its density times the
// volume that stands in an account. That volume is of a cavity less the
// shrinkage of the rubber and coldMoldShrink, of which half is fed: a measure that
// stays the same however well the rest gets known, so that all lines of an
// account mean the same. Where a shot was computed, the volume is one that is
// computed to weigh as much (accountShare), so that what is left for the fill
// factor is what no computation tells.
func (j *Job) accountFactor(m Metal, r Rubber) float64 {
	grown := (1 - fraction(m.Shrink.Best)) * (1 + r.grown(float64(j.Casting.Mold)).Best) / (1 - fraction(j.Metal.coldMoldShrink(m)))
	return cube(grown) * m.fed().Best
}

// coldMoldShrink is the metal's shrinkage in an account, in percent: the job's,
// or that of each pure metal from its own melting point, mixed by volume.
func (t MetalTable) coldMoldShrink(m Metal) float64 {
	if t.Shrink != nil || m.Parts == nil {
		return m.Shrink.Best
	}
	return m.Parts.byVolume(func(e element) float64 { return e.shrink })
}

// accountFactor is the plan's; a plan of before it was there counted as an
// account does.
func (m MetalPlan) accountFactor() float64 {
	if m.AccountFactor == 0 {
		return 1
	}
	return m.AccountFactor
}

// accountShare is the volume that stands in an account over that of the head, by
// what is fed in the heads of this mold.
func (m MetalPlan) accountShare() float64 {
	if m.AccountFactor == 0 {
		return 1
	}
	return m.FedFactor.Best / m.AccountFactor
}

// WithFill returns the job with the fill factor of weighed heads, and its
// interval, instead of its own. An error says why the factor is not to be counted with.
func (j *Job) WithFill(f WeighedFill) (*Job, error) {
	if err := f.Usable(); err != nil {
		return nil, err
	}
	out := *j
	out.Metal.FillFactor, out.Metal.FillRange = f.Factor, &FactorRange{f.Low, f.High}
	k := keyNamed(&out.Metal, "fill_factor")
	if rule, _, err := k.within(k.field()); err != nil {
		return nil, &keyError{"fill factor", rule, "did you weigh whole heads?", err}
	}
	return &out, nil
}
