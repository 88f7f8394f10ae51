package pourplan

import (
	"fmt"
	"math"
)

// Correction is what to do about a cup that holds a g of part A and some of
// part B. Masses are in g; AddA or AddB is 0.
type Correction struct {
	AddA       float64 // that brings the ratio back when there is too much B
	AddB       float64 // that is still missing
	OffPercent float64 // of B from what belongs to A, if the cup is left as it is
}

// Correct returns what to add to a cup with a g of A and b g of B, both above
// 0, to come to the ratio.
func (r Ratio) Correct(a, b float64) Correction {
	want := BFor(a, r)
	c := Correction{OffPercent: 100 * (b/want - 1)}
	if b > want {
		c.AddA = AFor(b, r) - a
	} else {
		c.AddB = want - b
	}
	return c
}

// Within reports whether a cup may be left as it is where the data sheet
// allows B to be off by so many percent. The limit itself is allowed.
func (c Correction) Within(tolerance float64) bool {
	return math.Abs(c.OffPercent) <= tolerance*(1+1e-9)
}

// Batch is the rubber that one cup is mixed for, as planned; masses in g.
type Batch struct {
	Half   string  // "left", "right" or "both"
	AG, BG float64 // to weigh
	LeastG float64 // that fills the frames and stays in cup and brush; what is above it is spare
}

// Batch returns the plan's figures for the mix of one half, or of both in one
// cup, of which the rest that stays behind counts once.
func (p *Plan) Batch(half string) (Batch, error) {
	b := Batch{Half: half}
	for _, h := range p.Rubber.Halves {
		switch half {
		case h.Half:
			return Batch{half, h.AG, h.BG, h.FrameMassG + h.ResidueG}, nil
		case "both":
			one := p.Rubber.OneMix
			b.AG, b.BG, b.LeastG = one.AG, one.BG, b.LeastG+h.FrameMassG
		}
	}
	if half != "both" || len(p.Rubber.Halves) == 0 {
		return b, fmt.Errorf("half must be left, right or both, got %q", half)
	}
	b.LeastG += p.Rubber.Halves[0].ResidueG
	return b, nil
}

// Spare returns by how much a mix of so many g is more than the batch takes;
// below 0 it does not fill the frame.
func (b Batch) Spare(mix float64) float64 { return mix - b.LeastG }

// Tolerance returns how far B may be off by the job, in percent; false when it
// does not say.
func (j *Job) Tolerance() (percent float64, known bool) {
	if j.Rubber.BTolerance == nil {
		return 0, false
	}
	return float64(*j.Rubber.BTolerance), true
}

// ReadMass reads a mass as a job file would: a bare number is in g.
func ReadMass(text string) (float64, error) { return readBare(massDim, text) }

// ReadPercent reads a percentage: "5", "5 %".
func ReadPercent(text string) (float64, error) { return readBare(percentDim, text) }

// readBare reads text in which a unit may be left out.
func readBare(d dimension, text string) (float64, error) {
	x, rest, ok := cutNumber(text)
	if ok && rest == "" {
		return d.read(x)
	}
	return d.read(text)
}
