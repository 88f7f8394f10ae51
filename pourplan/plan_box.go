package pourplan

import (
	"slices"

	"halfpour/moldbox"
)

// NewBoxPlan computes the plan of a job with [box]: rubber, times and what to buy.
// There are no heads and no metal in it. It is pure arithmetic. An error says which
// key of the job or which measurement does not allow one.
func NewBoxPlan(job *Job, in moldbox.Measured) (*Plan, error) {
	rubber, err := job.Rubber.resolve()
	if err != nil {
		return nil, err
	}
	plastic, err := job.Plastic.resolve()
	if err != nil {
		return nil, err
	}
	if err := checkMeasured(in); err != nil {
		return nil, err
	}
	p := &Plan{
		Schema:  PlanSchema,
		Title:   job.Title,
		Rubber:  planRubber(rubber, job.Evening, in),
		Heads:   []HeadPlan{},
		Swaps:   []SwapPlan{},
		Frames:  []FramePlan{planFrame("left", in.Left), planFrame("right", in.Right)},
		SealMM:  float64(job.Finish.SealCoat),
		Typical: slices.Concat([]string{}, rubber.Typical, plastic.Typical),
	}
	p.Times = planTimes(job.Evening, rubber, p.Rubber.OneMix.Advised)
	if p.Buying, err = planBuying(job, rubber, max(1, job.Buying.Molds), p.Rubber.TotalG); err != nil {
		return nil, err
	}
	p.Cautions = cautionsOfRubber(p, rubber, plastic)
	p.Findings = PlanFindings(slices.Concat(in.Findings, typicalFindings(p), cautionFindings(p.Cautions)))
	return p, nil
}

// OfBox reports whether the plan is of frames that somebody else has drawn.
func (p *Plan) OfBox() bool { return len(p.Heads) == 0 }
