package main

import (
	"context"
	"errors"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/moldbox"
	"halfpour/moldbox/head"
)

// mostHeadBytes is far beyond any head: one of five million facets has 250 MB.
const mostHeadBytes = 2 << 30

// loadHead reads the mesh of a head that a job names, mends small defects, and
// refuses what encloses no volume.
func loadHead(ctx context.Context, path, job string) (*head.Head, error) {
	data, err := fileset.ReadFile(ctx, path, mostHeadBytes)
	switch {
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case errors.Is(err, fileset.ErrTooLarge):
		return nil, meshError(path, "unreadable", fileset.Cause(err), "export a coarser mesh")
	case err != nil:
		return nil, meshError(path, "unreadable", fileset.Cause(err),
			"head.file in "+job+" names it; a relative path starts at the job's folder")
	}
	return head.Read(ctx, path, data)
}

// headFault shows a file that makes no head.
func headFault(e *head.Error) *fault {
	out := &fault{code: exitMesh, err: e}
	for _, p := range e.Problems {
		out.problems = append(out.problems, problem{
			Message: e.Name + ": " + p.Message, File: e.Name, Rule: p.Rule, Hints: p.Hints,
		})
	}
	return out
}

func meshError(path, rule, what string, hints ...string) error {
	return &fault{code: exitMesh, problems: []problem{{
		Message: path + ": " + what, File: path, Rule: rule, Hints: hints,
	}}}
}

// lookForCrossings looks at all heads and reports whether one is another solid
// now.
func (w *work) lookForCrossings(ctx context.Context) (bool, error) {
	any, looked := false, map[*head.Head]bool{}
	for _, c := range w.job.Placed() {
		h := w.heads[c.Head.File]
		if looked[h] {
			continue
		}
		looked[h] = true
		crossed, err := h.LookForCrossing(ctx)
		if err != nil {
			return false, err
		}
		any = any || crossed
	}
	return any, nil
}

// blameCrossed says of a proof that failed that a head cuts through itself, if
// one does.
func (w *work) blameCrossed(err error) error {
	var unproved *moldbox.ProofError
	if !errors.As(err, &unproved) {
		return err
	}
	for _, found := range w.findings {
		if found.Code == head.CrossedCode {
			return proofFault(unproved, "nothing was written; "+found.Message, "mend the head in your CAD program first")
		}
	}
	return err
}
