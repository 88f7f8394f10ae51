package main

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"halfpour/pourplan"
)

// runMade records on the shelf that a mold was made, with the rubber that it took off a
// can, or takes that back.
func (l *logWork) runMade(t *terminal, c *cli.Context, now time.Time) error {
	for _, name := range []string{"shots", "good", "bad", "weights", "cavity", "again", "plot"} {
		if c.IsSet(name) {
			return usageError("--made goes without --"+name, "record the castings by a log of their own")
		}
	}
	if err := l.ownAccount(c.Context, l.Mold); err != nil {
		return err
	}
	w := &shelfWork{path: shelfAbove(l.folder()), today: dateOf(c, now)}
	job, err := w.jobName(l.moldFile)
	if err != nil {
		return err
	}
	line := pourplan.ShelfLine{Date: w.today, Event: pourplan.MoldMade, Job: job, Note: noteOf(c)}
	if line.TakesBack = c.Bool("undo"); !line.TakesBack {
		if err := l.made(c, t, w, &line); err != nil {
			return err
		}
	}
	if err := w.add(c.Context, t, line); err != nil {
		return err
	}
	if line.Event == pourplan.MoldMade && !line.TakesBack && line.Can == "" && !t.json && !t.quiet {
		printLine(t.err, "halfpour: %s no open can holds %s: its rubber is taken off none", paint(t.errColour, yellow, "note:"), line.Rubber)
	}
	if err := w.read(c.Context, t); err != nil {
		return err
	}
	return w.print(t)
}

// made fills in the mold, its label and its rubber.
func (l *logWork) made(c *cli.Context, t *terminal, w *shelfWork, line *pourplan.ShelfLine) (err error) {
	if l.plan, err = l.builtPlan(c.Context, t); err != nil {
		return err
	}
	if asked := c.String("plan"); asked != "" {
		if l.plan, err = readHeadsPlan(c.Context, t, asked); err != nil {
			return err
		}
	}
	if l.plan == nil {
		return usageError("--made needs a plan: "+l.path+" is not built yet", "halfpour build "+l.path)
	}
	if w.account, err = readShelfAccount(c.Context, w.path); err != nil {
		return err
	}
	if line.Mold, err = l.nextMold(c.Context, w, line.Job); err != nil {
		return err
	}
	if c.IsSet("mold") {
		line.Mold = c.Int("mold")
	}
	line.MoldLabel = labelOf(l.plan.WithLife(l.Job), l.Mold, line.Mold)
	if line.Name == "" {
		line.Name = l.name()
	}
	line.Rubber, line.AG, line.BG = l.plan.Rubber.Name, l.plan.Rubber.TotalAG, l.plan.Rubber.TotalBG
	if err := massesOf(c, true, line); err != nil {
		return err
	}
	if line.Can, err = canFor(c, w.account.Cans(), line.Rubber); err != nil {
		return err
	}
	if err := line.Check(); err != nil {
		return usageError(err.Error())
	}
	return nil
}

// nextMold is the number of a new mold of a job.
func (l *logWork) nextMold(ctx context.Context, w *shelfWork, job string) (int, error) {
	castings, err := readAccountFile(ctx, l.accountPath())
	if err != nil {
		return 0, err
	}
	last := 0
	for _, casting := range castings.Castings {
		last = max(last, casting.Mold)
	}
	for _, line := range w.account.Lines {
		if line.Job == job {
			last = max(last, line.Mold)
		}
	}
	return last + 1, nil
}

// canFor is the can that a mold's rubber comes from: as asked, or the only one that holds
// this rubber; "" when none does.
func canFor(c *cli.Context, cans []pourplan.Can, rubber string) (string, error) {
	var fit []string
	for _, can := range cans {
		if can.Rubber == rubber {
			fit = append(fit, can.Name)
		}
		if can.Name == c.String("can") && can.Rubber != rubber {
			return "", usageError(fmt.Sprintf("can %q holds %s, the mold is of %s", can.Name, can.Rubber, rubber))
		}
	}
	switch {
	case c.IsSet("can"):
		return c.String("can"), nil
	case len(fit) > 1:
		return "", usageError(fmt.Sprintf("several cans hold %s: choose one with --can", rubber), "its cans: "+strings.Join(fit, ", "))
	case len(fit) == 1:
		return fit[0], nil
	}
	return "", nil
}

// labelOf is what the label of a new mold says.
func labelOf(p *pourplan.Plan, m pourplan.Mold, number int) pourplan.MoldLabel {
	l := pourplan.MoldLabel{Name: strings.TrimSpace(p.Title), Heads: len(p.Heads), Metal: p.Metal.Name, PourC: math.Round(p.Casting.PourC),
		LifeLow: p.Casting.LifeLow, LifeHigh: p.Casting.LifeHigh, Turn: turnText(m.Job)}
	if l.Name != "" && number > 1 {
		l.Name = fmt.Sprintf("%s %d", l.Name, number)
	}
	// A metal whose parts are not known may have lead in it when it is as heavy.
	l.Lead = strings.Contains(p.Metal.Composition, "lead") || p.Metal.Composition == "" && p.Metal.DensityGCM3.High > 8.5
	var hooks []string
	for i, h := range p.Heads {
		if h.Hook != "" && !slices.Contains(hooks, h.Hook) {
			hooks = append(hooks, h.Hook)
		}
		switch {
		case i == 0:
			l.HeadG = h.FinishedG.Best
		case math.Abs(h.FinishedG.Best-p.Heads[0].FinishedG.Best) > 5e-3*p.Heads[0].FinishedG.Best:
			l.HeadG = 0
		}
	}
	l.Hook = strings.Join(hooks, ", ")
	return l
}

// turnText says how the mold stands when it is poured, and how the heads lie in it.
func turnText(j *pourplan.Job) string {
	turn := j.Placed()[0].Turn
	if turn.Auto {
		return "funnels up"
	}
	deg := math.Round(float64(turn.Angle) * 180 / math.Pi)
	up, known := map[float64]string{0: "backs up", -90: "noses up", 90: "tails up", 180: "bellies up", -180: "bellies up"}[deg]
	if !known {
		up = fmt.Sprintf("heads turned %g°", deg)
	}
	return "funnels up, " + up
}
