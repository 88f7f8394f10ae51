package main

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"halfpour/pourplan"
	"halfpour/pourplan/making"
)

func logCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name:      "log",
		Usage:     "record a casting, and show the mold's account",
		ArgsUsage: jobArgument,
		Description: `Without options, shows the castings so far: shots left of the
mold's life, yield, weights against the prediction, fill factor, cost. With
--shots or --weights it records a casting first, as a line of
JOB-castings.csv next to the job, which opens in a spreadsheet. The
prediction comes from the job's last build. Weigh good heads one by one, hook
in, gate cut.

--undo takes back the last casting of the mold: it adds a line that says so, and
changes none. If it cannot read a line of the account, name the mold of the
next casting with --mold.

--made records a new mold on the shelf (see halfpour shelf) and takes the rubber
of its plan off a can, or what -a and -b say. With --undo it takes that back.`,
		UsageText: `  halfpour log job.toml                the castings so far
  halfpour log job.toml --shots 10 --good 46 --weights "10.61 10.58 10.7"
                                       10 shots, 46 good heads, the rest bad
  halfpour log job.toml --shots 1 --good 0 --note "cold mold, laps"
  halfpour log job.toml --weights "0.374 0.371 oz" --cavity small
  halfpour log job.toml --shots 5 --good 25 --mold 2 --date 2026-01-31
  halfpour log job.toml --undo         take back the last casting
  halfpour log job.toml --plot account.pdf
  halfpour log job.toml --made --can "can 1"
                                       a new mold, and its rubber off the can`,
		Flags: []cli.Flag{
			&cli.IntFlag{Name: "shots", Usage: "`NUMBER` of times you poured the mold", DefaultText: "none"},
			&cli.IntFlag{Name: "good", Usage: "`NUMBER` of good heads", DefaultText: "all that are not bad"},
			&cli.IntFlag{Name: "bad", Usage: "`NUMBER` of bad heads", DefaultText: "all that are not good"},
			&cli.StringFlag{Name: "weights", Aliases: []string{"w"}, Usage: "`LIST` of weights of good heads, one by one, in g or with a unit", DefaultText: "none"},
			&cli.StringFlag{Name: "cavity", Usage: "`NAME` of the cavity of the weighed heads", DefaultText: "any, when all are equal"},
			&cli.StringFlag{Name: "size", Usage: "`NAME` of the mold's size, for a job with sizes", DefaultText: "none"},
			&cli.StringFlag{Name: "note", Usage: "`TEXT` to keep with the casting", DefaultText: "none"},
			&cli.StringFlag{Name: "date", Usage: "`DAY` of the casting, such as 2026-01-31", DefaultText: "today"},
			&cli.IntFlag{Name: "mold", Usage: "`NUMBER` of the mold; a new one has the next", DefaultText: "the last one cast in"},
			&cli.BoolFlag{Name: "undo", Usage: "take back the last casting of the mold", DisableDefaultText: true},
			&cli.BoolFlag{Name: "again", Usage: "record the same weights again, for other heads", DisableDefaultText: true},
			&cli.StringFlag{Name: "plan", Usage: "`PATH` of the plan.json that the mold was built with", DefaultText: "the job's last build"},
			&cli.StringFlag{Name: "plot", Usage: "draw weights and life on a page, `FILE`.pdf", DefaultText: "none"},
			&cli.BoolFlag{Name: "made", Usage: "record on the shelf that a mold was made, and take its rubber off a can", DisableDefaultText: true},
			&cli.StringFlag{Name: "can", Usage: "`NAME` of the can that a made mold's rubber is from", DefaultText: "the only one of its rubber"},
			&cli.StringFlag{Name: "a", Usage: "`MASS` of part A that a made mold took", DefaultText: "the plan's"},
			&cli.StringFlag{Name: "b", Usage: "`MASS` of part B that a made mold took", DefaultText: "the plan's"},
			jsonFlag(), quietFlag(),
		},
		Action: func(c *cli.Context) error {
			if err := begin(t, c, 1, 1); err != nil {
				return err
			}
			f, err := readJobFile(c.Context, t, c.Args().First())
			if err != nil {
				return err
			}
			mold, err := f.oneMold(c.String("size"))
			if err != nil {
				return err
			}
			l := &logWork{moldFile: mold}
			if c.Bool("made") {
				return l.runMade(t, c, time.Now())
			}
			for _, name := range []string{"can", "a", "b"} {
				if c.IsSet(name) {
					return usageError(dashed(name)+" needs --made", "see: halfpour log --help")
				}
			}
			if err := l.run(t, c, time.Now()); err != nil {
				return err
			}
			return l.print(t)
		},
	}
}

// logWork is a job with its account.
type logWork struct {
	*moldFile
	plan     *pourplan.Plan // of the mold that was cast in
	planPath string         // "" when the job was never built
	account  *pourplan.Account
	mold     int
	added    *pourplan.Casting // nil when the account is only shown
	rebuilt  bool              // the plan is not that of the mold, whose earlier weights tell its own
	plot     string            // path of the page that was drawn
}

// run records a casting if one is told, and reads the account.
func (l *logWork) run(t *terminal, c *cli.Context, now time.Time) error {
	err := l.ownAccount(c.Context, l.Mold)
	if err != nil {
		return err
	}
	if l.account, err = readAccountFile(c.Context, l.accountPath()); err != nil {
		return err
	}
	if err := l.findPlan(c.Context, t, c.String("plan")); err != nil {
		return err
	}
	l.plan = l.plan.WithLife(l.Job)
	if l.mold = l.account.LastMold(); c.IsSet("mold") {
		l.mold = c.Int("mold")
	}
	if l.added, err = l.lineOf(c, now); err != nil {
		return err
	}
	if l.added != nil {
		locked, err := appendCasting(c.Context, l.accountPath(), *l.added)
		if err != nil {
			return err
		}
		if !locked && !t.json {
			printLine(t.err, "halfpour: %s %s: this disk has no locks: record castings from one program at a time", paint(t.errColour, yellow, "note:"), l.accountPath())
		}
		if l.account, err = readAccountFile(c.Context, l.accountPath()); err != nil {
			return err
		}
	}
	return l.drawAccount(c.Context, c.String("plot"))
}

// findPlan takes the plan that is asked for, or of the job's last build, or
// works one out.
func (l *logWork) findPlan(ctx context.Context, t *terminal, asked string) (err error) {
	if l.planPath = asked; asked != "" {
		l.plan, err = readHeadsPlan(ctx, t, asked)
		return err
	}
	if l.plan, err = l.builtPlan(ctx, t); l.plan == nil && err == nil {
		run, err := l.newRun(ctx, false)
		if err == nil {
			err = checkAsBuilt(ctx, run, making.CheckShare, nil)
		}
		l.plan = run.Molds[0].Plan
		return l.fault(err)
	}
	l.planPath = l.builtPlanPath()
	return err
}

// lineOf is the line to add to the account, checked against those that are
// there; nil without one.
func (l *logWork) lineOf(c *cli.Context, now time.Time) (*pourplan.Casting, error) {
	line, err := l.castingOf(c, now)
	if c.Bool("undo") {
		line, err = l.undoOf(c, now)
	}
	if line == nil || err != nil {
		return line, err
	}
	if unread, ok := l.account.Unread(); ok && !c.IsSet("mold") {
		return nil, &fault{code: exitFailed, problems: []problem{{Message: l.accountPath() + ": " + unread.Error() + ": which mold is this casting from?",
			File: l.accountPath(), Rule: "account", Hints: []string{"fix that line, or give --mold NUMBER", "nothing was recorded"}}}}
	}
	if earlier, ok := l.account.Repeats(*line); ok && !line.TakesBack && !c.Bool("again") {
		return nil, usageError(fmt.Sprintf("--weights: the same %d weights are in the account already, of %s", len(line.Weights), earlier.Date),
			"if these are other heads, add --again; to take a casting back: halfpour log "+l.path+" --undo")
	}
	return line, nil
}

// undoOf is the line that takes back the last casting of the mold.
func (l *logWork) undoOf(c *cli.Context, now time.Time) (*pourplan.Casting, error) {
	for _, name := range []string{"shots", "good", "bad", "weights", "cavity", "again"} {
		if c.IsSet(name) {
			return nil, usageError("--undo goes without --"+name, "see: halfpour log --help")
		}
	}
	line, ok := l.account.Undo(l.mold, dateOf(c, now), noteOf(c))
	if !ok {
		return nil, usageError(fmt.Sprintf("%s has no casting of mold %d to take back", l.accountPath(), l.mold))
	}
	return &line, nil
}

// noteOf is what is to be kept with a casting, on one line.
func noteOf(c *cli.Context) string { return strings.Join(strings.Fields(c.String("note")), " ") }

func dateOf(c *cli.Context, now time.Time) string {
	if c.IsSet("date") {
		return c.String("date")
	}
	return now.Format(time.DateOnly)
}

// castingOf is the casting that the options tell; nil without one.
func (l *logWork) castingOf(c *cli.Context, now time.Time) (*pourplan.Casting, error) {
	if !c.IsSet("shots") && !c.IsSet("weights") {
		for _, name := range []string{"good", "bad", "cavity", "note", "date"} {
			if c.IsSet(name) && !c.Bool("undo") {
				return nil, usageError(fmt.Sprintf("--%s needs --shots or --weights, got neither", name), "see: halfpour log --help")
			}
		}
		return nil, nil
	}
	casting := pourplan.Casting{Date: dateOf(c, now), Mold: l.mold, Shots: c.Int("shots"), Note: noteOf(c)}
	if err := l.countHeads(c, &casting); err != nil {
		return nil, err
	}
	if c.IsSet("weights") {
		weights, err := pourplan.ReadWeights(c.String("weights"))
		if err != nil {
			return nil, usageError(fmt.Sprintf("--weights: %v", err))
		}
		if casting.Weighing, err = l.plan.Weigh(c.String("cavity"), weights); err != nil {
			return nil, usageError(fmt.Sprintf("--weights: %v", err), "--cavity NAME says which head it is")
		}
		if !c.IsSet("plan") {
			casting.Weighing, l.rebuilt = l.account.InMold(l.mold, casting.Weighing)
		}
	}
	if err := casting.Check(); err != nil {
		return nil, usageError(err.Error())
	}
	return &casting, nil
}

// countHeads fills in good and bad; the one that is not told is what the shots
// leave of the other.
func (l *logWork) countHeads(c *cli.Context, casting *pourplan.Casting) error {
	casting.Good, casting.Bad = c.Int("good"), c.Int("bad")
	if !c.IsSet("shots") {
		if casting.Good != 0 || casting.Bad != 0 {
			return usageError("--good and --bad need --shots", "see: halfpour log --help")
		}
		return nil
	}
	most := casting.Shots * len(l.plan.Heads)
	switch good, bad := c.IsSet("good"), c.IsSet("bad"); {
	case casting.Shots < 1:
		return usageError(fmt.Sprintf("--shots must be at least 1, got %d", casting.Shots))
	case !good && !bad:
		return usageError("--shots needs --good or --bad: how many heads came out", "see: halfpour log --help")
	case !bad:
		casting.Bad = most - casting.Good
	case !good:
		casting.Good = most - casting.Bad
	}
	if casting.Good < 0 || casting.Bad < 0 || casting.Good+casting.Bad > most {
		return usageError(fmt.Sprintf("good and bad heads must be 0 to %d together, %s of %s, got %d and %d", most,
			counted(casting.Shots, "shot", "shots"), counted(len(l.plan.Heads), "cavity", "cavities"), c.Int("good"), c.Int("bad")))
	}
	return nil
}
