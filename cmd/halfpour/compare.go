package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"github.com/urfave/cli/v2"

	"halfpour/moldbox"
	"halfpour/pourplan"
	"halfpour/pourplan/making"
)

func compareCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name:      "compare",
		Usage:     "what changes in rubber, metal, weights and cost from one mold to another",
		ArgsUsage: "JOB_OR_PLAN [JOB_OR_PLAN]",
		Description: `Compares two jobs as they are now, or one job as it is now with its last build.
Instead of a job you can give a build's plan.json or folder. Measures rubber as
closely as build does; makes no frames and writes nothing. A job that is held
against a build for a look is worked out as for a look too.`,
		UsageText: `  halfpour compare job.toml            what has changed since the last build
  halfpour compare job.toml --weighed  what the fill factor of weighed heads changes
  halfpour compare old.toml new.toml
  halfpour compare ~/prints/plan.json job.toml --json`,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "size", Usage: "`NAME` of the size to compare, for jobs with sizes", DefaultText: "none"},
			weighedFlag(), jsonFlag(),
		},
		Action: func(c *cli.Context) error {
			if err := begin(t, c, 1, 2); err != nil {
				return err
			}
			bar := newProgress(t)
			r, err := compare(c.Context, t, c, bar)
			bar.clear()
			if err != nil {
				return err
			}
			return r.print(t)
		},
	}
}

// compareReport is what "compare --json" prints.
type compareReport struct {
	Schema  int                   `json:"schema"`             // reportSchema
	Old     string                `json:"old"`                // job or plan as the user named it; the last build's plan of a job that is named alone
	New     string                `json:"new"`                // job or plan as the user named it
	ForLook bool                  `json:"for_look,omitempty"` // a plan is of a build for a look: jobs are worked out likewise
	Figures []pourplan.Difference `json:"figures"`            // all that are compared, those that are the same too
	Stops   []string              `json:"stops,omitempty"`    // what the checks say stop to in the later one
	stops   []moldbox.Finding
}

// compared is one side of a comparison.
type compared struct {
	name     string
	plan     *pourplan.Plan // nil of a job that is not worked out
	mold     *moldFile      // nil of a plan
	findings []moldbox.Finding
}

func compare(ctx context.Context, t *terminal, c *cli.Context, bar *progress) (*compareReport, error) {
	names := c.Args().Slice()
	now, err := comparedSide(ctx, t, c, names[len(names)-1])
	if err != nil {
		return nil, err
	}
	var old *compared
	if len(names) == 2 {
		old, err = comparedSide(ctx, t, c, names[0])
	} else {
		old, err = lastBuild(ctx, t, now)
	}
	if err != nil {
		return nil, err
	}
	look := old.forLook() || now.forLook()
	for _, side := range []*compared{now, old} {
		if err := side.workOut(ctx, c.Bool("weighed"), look, bar); err != nil {
			return nil, err
		}
	}
	r := &compareReport{Schema: reportSchema, Old: old.name, New: now.name, ForLook: look, Figures: pourplan.Compare(old.plan, now.plan)}
	for _, f := range now.findings {
		if f.Severity == moldbox.Stop {
			r.stops = append(r.stops, f)
			r.Stops = append(r.Stops, f.Message)
		}
	}
	return r, nil
}

// comparedSide reads a plan or a job.
func comparedSide(ctx context.Context, t *terminal, c *cli.Context, name string) (*compared, error) {
	info, err := os.Stat(name)
	if filepath.Ext(name) == ".json" || err == nil && info.IsDir() {
		plan, err := readHeadsPlan(ctx, t, name)
		return &compared{name: name, plan: plan}, err
	}
	f, err := readJobFile(ctx, t, name)
	if err != nil {
		return nil, err
	}
	mold, err := f.oneMold(c.String("size"))
	return &compared{name: name, mold: mold}, err
}

func (c *compared) forLook() bool { return c.plan != nil && c.plan.ForLook() }

// workOut makes the plan of a job, as a build does; with look, as one for a look.
func (c *compared) workOut(ctx context.Context, weighed, look bool, bar *progress) error {
	if c.plan != nil {
		return nil
	}
	run, err := c.mold.newRun(ctx, weighed)
	if err != nil {
		return err
	}
	if progress := bar.ofCheck(run, 0.5); look {
		err = run.Check(ctx, making.LookShare, progress)
	} else {
		err = checkAsBuilt(ctx, run, making.BuildShare, progress)
	}
	if err != nil {
		return c.mold.fault(err)
	}
	c.plan, c.findings = run.Molds[0].Plan, run.Molds[0].Findings
	return nil
}

// lastBuild is what a job was when it was built.
func lastBuild(ctx context.Context, t *terminal, now *compared) (*compared, error) {
	if now.mold == nil {
		return nil, usageError("a plan needs a second job or plan to compare with, got only "+now.name, "see: halfpour compare --help")
	}
	plan, err := now.mold.builtPlan(ctx, t)
	if err != nil {
		return nil, err
	}
	if plan == nil {
		return nil, usageError(now.name+" is not built yet: nothing to compare with", "halfpour build "+now.name, "or name a second job")
	}
	return &compared{name: now.mold.builtPlanPath(), plan: plan}, nil
}

func (r *compareReport) print(t *terminal) error {
	if t.json {
		return writeJSON(t, r)
	}
	t.say("from %s", r.Old)
	t.say("to   %s", r.New)
	if r.ForLook {
		t.say("for a look: no shots are computed, so build with a finer tolerance before you buy and cast")
	}
	rows := [][]string{{"", "", "old", "new", "change", ""}}
	group, same := "", 0
	for _, d := range r.Figures {
		if d.Same() {
			same++
			continue
		}
		old, now, change, percent := d.Row()
		first := d.Group
		if first == group {
			first = ""
		}
		group = d.Group
		rows = append(rows, []string{first, d.What, old, now, change, percent})
	}
	if len(rows) > 1 {
		for _, line := range aligned(rows) {
			t.say("  %s", line)
		}
	}
	t.say("%s the same", counted(same, "figure is", "figures are"))
	sayFindings(t, pourplan.PlanFindings(r.stops))
	return nil
}

// aligned sets rows in columns: words to the left, figures to the right.
func aligned(rows [][]string) []string {
	widths := make([]int, len(rows[0]))
	for _, row := range rows {
		for i, cell := range row {
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	var lines []string
	for _, row := range rows {
		var b strings.Builder
		for i, cell := range row {
			pad := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell))
			if i < 2 {
				b.WriteString(cell + pad + "  ")
			} else {
				b.WriteString(pad + cell + "  ")
			}
		}
		lines = append(lines, strings.TrimRight(b.String(), " "))
	}
	return lines
}
