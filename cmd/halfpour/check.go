package main

import (
	"context"

	"github.com/urfave/cli/v2"

	"halfpour/pourplan"
	"halfpour/pourplan/making"
)

func checkCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name:      "check",
		Usage:     "weights, rubber and warnings of a job; writes nothing but --picture",
		ArgsUsage: jobArgument,
		Description: `Reads a job, scales the heads, lays out the mold, measures rubber to 1 % and
checks it, without making frames. It prints the findings as a table, worst
first, each with its remedy; "halfpour explain CODE" says more. The exit code
is 6 when the checks say stop. For a job with sizes it prints one table and
one buying list. A job with [box] names frames that you have drawn already; it
gets the rubber they take, and what is wrong with them.

How a shot freezes is rough here. With --heat it is computed as in a build, which
takes some seconds: when the mold may be opened, how warm the rubber gets, what is
fed into the heads, and what a warmer mold or wider gate would change.

With --picture it draws how the head, its hook, the parting plane and the gate
lie now, whatever is wrong with them.`,
		UsageText: `  halfpour check job.toml
  halfpour check job.toml --picture head.png   and how head, hook, plane and gate lie
  halfpour check job.toml --heat       with a shot computed as in a build
  halfpour check job.toml --weighed    with the fill factor of heads you weighed
  halfpour check job.toml --json | jq .plan.rubber.total_g`,
		Flags: []cli.Flag{pictureFlag(), heatFlag(), weighedFlag(), jsonFlag(), quietFlag()},
		Action: func(c *cli.Context) error {
			if err := begin(t, c, 1, 1); err != nil {
				return err
			}
			return check(c.Context, t, c.Args().First(), checkOptions{c.Bool("weighed"), c.Bool("heat"), c.String("picture")})
		},
	}
}

func heatFlag() cli.Flag {
	return &cli.BoolFlag{Name: "heat", Usage: "compute how a shot freezes, as a build does", DisableDefaultText: true}
}

type checkOptions struct {
	weighed bool   // with the fill factor of the account
	heat    bool   // with a computed shot
	picture string // file for a picture of how the head lies; "" for none
}

// check carries out "halfpour check".
func check(ctx context.Context, t *terminal, path string, opt checkOptions) error {
	f, err := readAnyJob(ctx, t, path)
	if err != nil {
		return err
	}
	if f.job.Box != nil {
		return f.checkBox(ctx, t, opt.picture)
	}
	if err := f.takesPicture(opt.picture); err != nil {
		return err
	}
	run, err := f.newRun(ctx, opt.weighed)
	if err != nil {
		return err
	}
	bar := newProgress(t)
	if opt.heat {
		err = checkAsBuilt(ctx, run, making.CheckShare, bar.ofCheck(run, 1))
	} else {
		err = run.Check(ctx, making.CheckShare, bar.ofCheck(run, 1))
	}
	bar.clear()
	if drawErr := f.drawLying(ctx, t, run, opt.picture); drawErr != nil {
		return drawErr
	}
	if err != nil {
		return f.fault(err)
	}
	if t.json {
		if err := writeJSON(t, f.checkReport(run)); err != nil {
			return err
		}
	}
	if m := run.Molds[0]; run.List == nil {
		f.sayPlan(t, m.Plan, making.CheckShare)
		sayFindings(t, m.Plan.Findings)
	} else {
		f.sayTable(t, run)
		sayList(t, run.List)
		sayAllNotes(t, run)
	}
	return f.stopFault(run.Molds, t.json || !t.quiet)
}

// checkAsBuilt is Check with heads of the size that a build makes them to.
func checkAsBuilt(ctx context.Context, run *making.Run, share float64, progress making.Progress) error {
	if err := run.Cast(ctx, progress); err != nil {
		return err
	}
	return run.Check(ctx, share, progress)
}

// checkReport is the document that "check --json" prints.
func (f *jobFile) checkReport(run *making.Run) any {
	if run.List == nil {
		return checkReport{Schema: reportSchema, Job: f.path, Plan: run.Molds[0].Plan}
	}
	return sizesReport{Schema: reportSchema, Job: f.path, Sizes: reportsOf(run), List: run.List}
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
