package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
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
