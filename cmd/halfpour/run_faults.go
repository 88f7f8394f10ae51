package main

import (
	"errors"
	"fmt"
	"slices"

	"halfpour/pourplan/making"
)

// fault shows what went wrong with a run of the job: of all its molds, alike
// things once.
func (f *jobFile) fault(err error) error {
	var stop *making.StopError
	if errors.As(err, &stop) {
		return f.stopFault(stop.Molds, false)
	}
	var molds making.MoldErrors
	if !errors.As(err, &molds) {
		return jobFault(err)
	}
	all := &fault{code: f.moldFault(molds[0]).code, err: err}
	for _, m := range molds {
		for _, p := range f.moldFault(m).problems {
			told := func(q problem) bool { return q.Message == p.Message && q.Line == p.Line }
			if !slices.ContainsFunc(all.problems, told) {
				all.problems = append(all.problems, p)
			}
		}
	}
	if last := len(all.problems) - 1; last >= 0 && aboutTheHead(err) {
		all.problems[last].Hints = append(slices.Clip(all.problems[last].Hints), f.seeHint())
	}
	return all
}

// moldFault shows what went wrong with one mold. It says in which size that was,
// unless the error does so itself or has its place in a file.
func (f *jobFile) moldFault(e making.MoldError) *fault {
	var large *making.MemoryError
	var crossed *making.CrossedError
	switch {
	case errors.As(e.Err, &large):
		return &fault{code: exitMesh, err: e, problems: []problem{{
			Message: f.label(e.Mold) + ": " + large.Error(), File: f.path, Rule: "too-many-facets",
			Hints: []string{fmt.Sprintf("export the head with a coarser mesh, %d facets or fewer, or use fewer cavities", large.Coarser)},
		}}}
	case errors.As(e.Err, &crossed):
		e.Err = proofFault(crossed.Proof, "nothing was written; "+crossed.Head.Message, "repair the head in your CAD program first")
	}
	return inSize(e.Mold.Name, jobFault(e.Err))
}

// inSize says in which size an error was met, unless it has its place in a file.
func inSize(name string, err error) *fault {
	f := faultOf(err)
	if f.code != exitFailed || name == "" {
		return f
	}
	named := &fault{code: f.code, err: err}
	for _, p := range f.problems {
		p.Message = name + ": " + p.Message
		named.problems = append(named.problems, p)
	}
	return named
}
