package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/pourplan"
	"halfpour/pourplan/making"
)

// planFile is the plan in a build's folder.
const planFile = "plan.json"

// moldFile is one mold of a job file.
type moldFile struct {
	*jobFile
	pourplan.Mold
}

// oneMold is the mold of one size; a job of one mold takes no name.
func (f *jobFile) oneMold(size string) (*moldFile, error) {
	molds := f.job.Molds()
	if len(f.job.Size) == 0 {
		if size != "" {
			return nil, usageError(fmt.Sprintf("%s has no sizes, got --size %q", f.path, size))
		}
		return &moldFile{f, molds[0]}, nil
	}
	var names []string
	for _, m := range molds {
		if m.Name == size {
			return &moldFile{f, m}, nil
		}
		names = append(names, m.Name)
	}
	if size == "" {
		return nil, usageError(fmt.Sprintf("%s has sizes: choose one with --size", f.path), "its sizes: "+strings.Join(names, ", "))
	}
	hint := "its sizes: " + strings.Join(names, ", ")
	if near := pourplan.Nearest(size, names); near != "" {
		hint = "did you mean --size \"" + near + "\"?"
	}
	return nil, usageError(fmt.Sprintf("%s has no size %q", f.path, size), hint)
}

// newRun is a run of the mold alone.
func (f *moldFile) newRun(ctx context.Context, weighed bool) (*making.Run, error) {
	run := making.New(f.Job, f.readHead)
	run.Molds[0].Mold = f.Mold
	if weighed {
		return run, f.useWeights(ctx, run)
	}
	return run, nil
}

// accountPath is the account of the castings in the mold.
func (f *moldFile) accountPath() string { return f.accountOf(f.Mold) }

// builtPlanPath is where a build puts the mold's plan.
func (f *moldFile) builtPlanPath() string {
	return filepath.Join(f.outputFolder(""), f.Folder, planFile)
}

// builtPlan reads the plan of the mold's last build, from its output folder.
// There is none when both results are nil.
func (f *moldFile) builtPlan(ctx context.Context, t *terminal) (*pourplan.Plan, error) {
	p, err := readPlan(ctx, t, f.builtPlanPath())
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return p, err
}

// readHeadsPlan is readPlan of a plan with heads in it.
func readHeadsPlan(ctx context.Context, t *terminal, path string) (*pourplan.Plan, error) {
	p, err := readPlan(ctx, t, path)
	if err == nil && p.OfBox() {
		return nil, usageError(path + " is the plan of a job with [box]: there are no heads in it")
	}
	return p, err
}

// readPlan reads a build's plan, named by its file or its folder.
func readPlan(ctx context.Context, t *terminal, path string) (*pourplan.Plan, error) {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		path = filepath.Join(path, planFile)
	}
	data, err := fileset.Read(ctx, path, pourplan.MaxPlanBytes, t.sayRepaired)
	var known *fileset.Fault
	if errors.As(err, &known) || errors.Is(err, context.Canceled) {
		return nil, err
	}
	if err == nil {
		var p *pourplan.Plan
		if p, err = pourplan.ReadPlan(data); err == nil {
			return p, nil
		}
	}
	hint := "build the job again, or name another folder"
	return nil, &fault{code: exitFailed, err: err,
		problems: []problem{{Message: path + ": " + fileset.Cause(err), File: path, Rule: "plan", Hints: []string{hint}}}}
}
