package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"halfpour/pourplan"
)

func shelfCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name:      "shelf",
		Usage:     "list hooks, rubbers, metals, cans and molds, and what runs short",
		ArgsUsage: "[FOLDER]",
		Description: `The shelf is two files. You write shelf.toml: hooks, rubbers and metals, by names
that your jobs then use. halfpour adds to shelf-account.csv: cans, what you take
out of them, molds. They stand in the folder of your jobs or in one above it.
"log --made" records a mold and takes its rubber off a can.

A can holds part A and part B. Each option records one line; --undo adds a line
that takes back the last one. --labels draws a label for each mold, to cut out.`,
		UsageText: `  halfpour shelf                       what is there
  halfpour shelf --open "can 1" --rubber "tin-cure 100:3" -a 1kg -b 30g
  halfpour shelf --use "can 1" -a 20g -b 0.6g --note "a trial"
  halfpour shelf --count "can 1" -a 410g -b 11g
                                       so much is left, as weighed
  halfpour shelf --gone "can 1"        thrown away
  halfpour shelf --gone shad/job.toml --mold 2
  halfpour shelf --undo                take back the last line
  halfpour shelf --labels labels.pdf --paper letter`,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "open", Usage: "open `CAN`, with --rubber, -a and -b", DefaultText: "none"},
			&cli.StringFlag{Name: "use", Usage: "take -a and -b out of `CAN`", DefaultText: "none"},
			&cli.StringFlag{Name: "count", Usage: "say what is left in `CAN`, with -a and -b", DefaultText: "none"},
			&cli.StringFlag{Name: "gone", Usage: "throw away `CAN_OR_JOB`; of a job, the mold --mold", DefaultText: "none"},
			&cli.BoolFlag{Name: "undo", Usage: "take back the last line", DisableDefaultText: true},
			&cli.StringFlag{Name: "rubber", Usage: "`NAME` of the rubber in the can", DefaultText: "none"},
			&cli.StringFlag{Name: "a", Usage: "`MASS` of part A, in g or with a unit", DefaultText: "none"},
			&cli.StringFlag{Name: "b", Usage: "`MASS` of part B, in g or with a unit", DefaultText: "none"},
			&cli.IntFlag{Name: "mold", Usage: "`NUMBER` of the mold", DefaultText: "1"},
			&cli.StringFlag{Name: "size", Usage: "`NAME` of the mold's size, for a job with sizes", DefaultText: "none"},
			&cli.StringFlag{Name: "date", Usage: "`DAY`, such as 2026-01-31", DefaultText: "today"},
			&cli.StringFlag{Name: "note", Usage: "`TEXT` to keep with the line", DefaultText: "none"},
			&cli.StringFlag{Name: "labels", Usage: "draw labels of the molds, `FILE`.pdf", DefaultText: "none"},
			&cli.StringFlag{Name: "label", Usage: "draw only the label of the mold with this `NAME`", DefaultText: "all"},
			&cli.StringFlag{Name: "paper", Usage: "`PAPER` of the labels: a4 or letter", DefaultText: "a4"},
			jsonFlag(), quietFlag(),
		},
		Action: func(c *cli.Context) error {
			if err := begin(t, c, 0, 1); err != nil {
				return err
			}
			dir := c.Args().First()
			if dir == "" {
				dir = "."
			}
			if info, err := os.Stat(dir); err != nil || !info.IsDir() {
				return usageError(fmt.Sprintf("%s is not a folder", dir), "name the folder of your jobs: halfpour shelf FOLDER")
			}
			w := &shelfWork{path: shelfAbove(dir), today: time.Now().Format(time.DateOnly)}
			if err := w.record(t, c); err != nil {
				return err
			}
			if err := w.read(c.Context, t); err != nil {
				return err
			}
			if err := w.drawLabels(c); err != nil {
				return err
			}
			return w.print(t)
		},
	}
}

// shelfWork is a shelf with its account.
type shelfWork struct {
	path    string // of shelf.toml
	today   string
	shelf   *pourplan.Shelf
	account *pourplan.ShelfAccount
	added   *pourplan.ShelfLine // nil when it is only shown
	report  shelfReport
}

// folder is where the shelf stands.
func (w *shelfWork) folder() string { return filepath.Dir(w.path) }

// record adds the line that the options tell, if any.
func (w *shelfWork) record(t *terminal, c *cli.Context) error {
	line, err := w.lineOf(t, c)
	if err != nil || line == nil {
		return err
	}
	return w.add(c.Context, t, *line)
}

// add puts a line behind the account; what does not go with the account is refused.
func (w *shelfWork) add(ctx context.Context, t *terminal, line pourplan.ShelfLine) error {
	done := line
	return w.grow(ctx, t, func(data []byte) (more []byte, err error) {
		if !line.TakesBack {
			return pourplan.AppendShelf(data, line)
		}
		more, done, err = pourplan.UndoShelf(data, line.Date, line.Note, func(s pourplan.ShelfLine) bool {
			return line.Event == "" || s.Event == line.Event && s.Job == line.Job
		})
		return more, err
	}, &done)
}

func (w *shelfWork) grow(ctx context.Context, t *terminal, more func(data []byte) ([]byte, error), line *pourplan.ShelfLine) error {
	path := shelfAccountPath(w.path)
	told := func(data []byte) ([]byte, error) {
		bytes, err := more(data)
		var refused *pourplan.ShelfRefusal
		switch {
		case errors.As(err, &refused):
			return nil, usageError(refused.What, refused.Hint)
		case errors.Is(err, pourplan.ErrNothingToUndo):
			return nil, usageError(path + " " + err.Error())
		}
		return bytes, err
	}
	if _, err := readGrowing(ctx, path, told); err != nil {
		return err // before there is a file
	}
	locked, err := grow(ctx, path, told)
	if err != nil {
		return err
	}
	if !locked && !t.json {
		printLine(t.err, "halfpour: %s %s: this disk has no locks: record from one program at a time", paint(t.errColour, yellow, "note:"), path)
	}
	w.added = line
	return nil
}

// lineOf is the line that the options tell; nil for none.
func (w *shelfWork) lineOf(t *terminal, c *cli.Context) (*pourplan.ShelfLine, error) {
	line := &pourplan.ShelfLine{Date: w.today, Note: noteOf(c)}
	if c.IsSet("date") {
		line.Date = c.String("date")
	}
	does := map[string]string{"open": pourplan.CanOpened, "use": pourplan.CanUsed, "count": pourplan.CanCounted, "gone": pourplan.CanGone}
	told := ""
	for _, name := range []string{"open", "use", "count", "gone", "undo"} {
		switch {
		case !c.IsSet(name):
		case told != "":
			return nil, usageError(fmt.Sprintf("--%s and --%s do not go together", told, name), "record one after the other")
		default:
			told, line.Event, line.Can = name, does[name], c.String(name)
		}
	}
	takes := map[string]string{"open": "rubber a b date note", "use": "a b date note", "count": "a b date note", "gone": "mold size date note", "undo": "date note"}[told]
	for _, name := range []string{"rubber", "a", "b", "mold", "size", "date", "note"} {
		if c.IsSet(name) && !strings.Contains(" "+takes+" ", " "+name+" ") {
			return nil, usageError(fmt.Sprintf("%s does not go here", dashed(name)), "see: halfpour shelf --help")
		}
	}
	switch told {
	case "":
		return nil, nil
	case "undo":
		line.TakesBack, line.Can = true, ""
		return line, nil
	case "gone":
		if filepath.Ext(line.Can) == ".toml" {
			return line, w.goneMold(t, c, line)
		}
	default:
		line.Rubber = c.String("rubber")
		if err := massesOf(c, told != "count", line); err != nil {
			return nil, err
		}
		if !c.IsSet("a") || !c.IsSet("b") {
			return nil, usageError("--"+told+" needs -a and -b: part A and part B by themselves", "0g if there is none of one")
		}
	}
	if err := line.Check(); err != nil {
		return nil, usageError(err.Error(), "see: halfpour shelf --help")
	}
	return line, nil
}

// goneMold makes the line that of a mold that is thrown away.
func (w *shelfWork) goneMold(t *terminal, c *cli.Context, line *pourplan.ShelfLine) error {
	f, err := readJobFile(c.Context, t, line.Can)
	if err != nil {
		return err
	}
	mold, err := f.oneMold(c.String("size"))
	if err != nil {
		return err
	}
	line.Event, line.Can, line.Mold = pourplan.MoldGone, "", max(1, c.Int("mold"))
	w.path = shelfAbove(f.folder())
	line.Job, err = w.jobName(mold)
	return err
}

// jobName is a mold's job in the account: its path from the shelf's folder, with the
// size behind it, without its ending.
func (w *shelfWork) jobName(f *moldFile) (string, error) {
	shelf, err := filepath.Abs(w.folder())
	if err != nil {
		return "", err
	}
	account, err := filepath.Abs(f.accountPath())
	if err != nil {
		return "", err
	}
	name, err := filepath.Rel(shelf, account)
	if err != nil || !filepath.IsLocal(name) {
		return "", usageError(fmt.Sprintf("%s is not below the shelf's folder, %s", f.path, w.folder()))
	}
	return strings.TrimSuffix(filepath.ToSlash(name), castingsEnding), nil
}

// massesOf reads -a and -b.
func massesOf(c *cli.Context, some bool, line *pourplan.ShelfLine) (err error) {
	for _, p := range []struct {
		name string
		g    *float64
	}{{"a", &line.AG}, {"b", &line.BG}} {
		if !c.IsSet(p.name) {
			continue
		}
		if *p.g, err = pourplan.ReadMass(c.String(p.name)); err != nil {
			return usageError(fmt.Sprintf("-%s: %v", p.name, err))
		}
	}
	if some && line.AG == 0 && line.BG == 0 && (c.IsSet("a") || c.IsSet("b")) {
		return usageError("-a and -b must not both be 0")
	}
	return nil
}

// read reads the shelf, its account, and the jobs below it.
func (w *shelfWork) read(ctx context.Context, t *terminal) (err error) {
	if w.shelf, err = readShelfFile(ctx, w.path); err != nil {
		return err
	}
	if w.account, err = readShelfAccount(ctx, w.path); err != nil {
		return err
	}
	jobs, err := w.jobs(ctx, t)
	if err != nil {
		return err
	}
	return w.sum(ctx, jobs)
}

// shelfJob is a mold of a job below the shelf, with the plan of its last build.
type shelfJob struct {
	*moldFile
	name string // in the account
	plan *pourplan.Plan
}

// jobs are the molds of the jobs below the shelf that have been built.
func (w *shelfWork) jobs(ctx context.Context, t *terminal) (list []shelfJob, err error) {
	names, _, err := deskFolder{w.folder()}.jobs()
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		f, err := readAnyJob(ctx, t, filepath.Join(w.folder(), filepath.FromSlash(name)))
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil {
			w.report.Faults = append(w.report.Faults, name+" cannot be read as a job: halfpour check "+f.path+" says why")
			continue
		}
		for _, m := range f.job.Molds() {
			mold := &moldFile{f, m}
			plan, err := mold.builtPlan(ctx, t)
			if err != nil {
				w.report.Faults = append(w.report.Faults, fmt.Sprintf("%s cannot be read: build %s again", mold.builtPlanPath(), f.path))
			}
			if plan == nil {
				continue
			}
			in, err := w.jobName(mold)
			if err != nil {
				return nil, err
			}
			list = append(list, shelfJob{mold, in, plan})
		}
	}
	return list, nil
}
