package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"halfpour/pourplan"
)

// planFile is the plan in a build's folder.
const planFile = "plan.json"

// builtPlan reads the plan of the job's last build, from its output folder.
// There is none when both results are nil.
func (w *work) builtPlan() (*pourplan.Plan, error) {
	p, err := readPlan(filepath.Join(w.outputFolder(""), planFile))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return p, err
}

// readPlan reads a build's plan.
func readPlan(path string) (*pourplan.Plan, error) {
	data, err := os.ReadFile(path)
	if err == nil {
		var p *pourplan.Plan
		if p, err = pourplan.ReadPlan(data); err == nil {
			return p, nil
		}
	}
	hint := "build the job again, or name another folder"
	return nil, &fault{code: exitFailed, err: err,
		problems: []problem{{Message: path + ": " + plainCause(err), File: path, Rule: "plan", Hints: []string{hint}}}}
}
