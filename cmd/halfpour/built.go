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
)

// planFile is the plan in a build's folder.
const planFile = "plan.json"

// oneMold narrows a job with sizes to the mold of one; a job of one mold takes
// no name.
func (w *work) oneMold(size string) error {
	if len(w.job.Size) == 0 {
		if size != "" {
			return usageError(fmt.Sprintf("%s has no sizes, got --size %q", w.path, size))
		}
		return nil
	}
	var names []string
	for _, m := range w.job.Molds() {
		if m.Name == size {
			w.job, w.size, w.sizeFolder = m.Job, m.Name, m.Folder
			return nil
		}
		names = append(names, m.Name)
	}
	if size == "" {
		return usageError(fmt.Sprintf("%s has sizes: say which with --size", w.path), "its sizes: "+strings.Join(names, ", "))
	}
	hint := "its sizes: " + strings.Join(names, ", ")
	if near := pourplan.Nearest(size, names); near != "" {
		hint = "did you mean --size \"" + near + "\"?"
	}
	return usageError(fmt.Sprintf("%s has no size %q", w.path, size), hint)
}

// builtPlanPath is where a build puts the mold's plan.
func (w *work) builtPlanPath() string {
	return filepath.Join(w.outputFolder(""), w.sizeFolder, planFile)
}

// builtPlan reads the plan of the mold's last build, from its output folder.
// There is none when both results are nil.
func (w *work) builtPlan(ctx context.Context, t *terminal) (*pourplan.Plan, error) {
	p, err := readPlan(ctx, t, w.builtPlanPath())
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return p, err
}

// readPlan reads a build's plan, named by its file or its folder.
func readPlan(ctx context.Context, t *terminal, path string) (*pourplan.Plan, error) {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		path = filepath.Join(path, planFile)
	}
	data, err := fileset.Read(ctx, path, pourplan.MaxPlanBytes, t.sayFinished)
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
