package main

import (
	"context"

	"github.com/urfave/cli/v2"

	"halfpour/moldbox"
	"halfpour/pourplan"
)

// checkShare is how well check measures the rubber; build measures to
// rubberShare.
const checkShare = 1e-2

func checkCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name:      "check",
		Usage:     "weights, rubber and warnings of a job; writes nothing",
		ArgsUsage: jobArgument,
		Description: `Reads a job, scales the heads, lays out the mold, measures rubber to 1 % and
checks it, without making frames. What the checks found comes as a table, worst
first, each with the remedy; "halfpour explain CODE" says more of one. The exit
code is 6 when they say stop. Of a job with sizes it prints a table of all, and
one buying list.`,
		UsageText: `  halfpour check job.toml
  halfpour check job.toml --weighed    with the fill factor of heads you weighed
  halfpour check job.toml --json | jq .plan.rubber.total_g`,
		Flags: []cli.Flag{weighedFlag(), jsonFlag(), quietFlag()},
		Action: func(c *cli.Context) error {
			if err := begin(t, c, 1, 1); err != nil {
				return err
			}
			w, err := readWork(c.Context, t, c.Args().First())
			if err != nil {
				return err
			}
			w.weighed = c.Bool("weighed")
			if len(w.job.Size) > 0 {
				return checkSizes(c.Context, t, w)
			}
			bar := newProgress(t)
			plan, err := w.check(c.Context, bar.part(1))
			bar.clear()
			if err != nil {
				return err
			}
			if t.json {
				if err := writeJSON(t, checkReport{Schema: reportSchema, Job: w.path, Plan: plan}); err != nil {
					return err
				}
			}
			w.sayPlan(t, plan, checkShare)
			w.sayNotes(t, plan)
			return w.stopError(t.json || !t.quiet)
		},
	}
}

// check builds the mold's solids and measures them roughly.
func (w *work) check(ctx context.Context, report func(string, float64)) (*pourplan.Plan, error) {
	return w.checkTo(ctx, checkShare, report)
}

// checkTo builds the mold's solids and measures the rubber to a share of it.
func (w *work) checkTo(ctx context.Context, share float64, report func(string, float64)) (*pourplan.Plan, error) {
	report("reading and laying out", 0)
	if err := w.open(ctx); err != nil {
		return nil, err
	}
	report("measuring rubber", 0.85)
	v, err := w.mold.Measure(ctx, share, w.cavityHeads())
	if err != nil {
		return nil, err
	}
	if err := w.measurePlastic(ctx, &v); err != nil {
		return nil, err
	}
	plan, err := w.newPlan(v)
	report("measured", 1)
	return plan, err
}

// rubberShare is how well a build measures the rubber, which is bought by it.
const rubberShare = 1e-4

// measurePlastic adds the volume of the frames, if the job has a price for it.
func (w *work) measurePlastic(ctx context.Context, in *moldbox.Measured) error {
	if w.job.Cost.Plastic == nil {
		return nil
	}
	return w.mold.MeasurePlastic(ctx, in)
}

// newPlan computes the figures, with the findings of the heads and the mold.
func (w *work) newPlan(in moldbox.Measured) (*pourplan.Plan, error) {
	in.Findings = w.findings
	return pourplan.NewPlan(w.job, in)
}

// checkReport is what "check --json" prints.
type checkReport struct {
	Schema int            `json:"schema"` // reportSchema
	Job    string         `json:"job"`    // path as the user named it
	Plan   *pourplan.Plan `json:"plan"`   // every figure, without what only a build can measure
}

// writeJSON prints a document.
func writeJSON(t *terminal, document any) error {
	return encode(t.out, document, "  ")
}
