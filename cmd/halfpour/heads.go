package main

import (
	"context"
	"errors"
	"path/filepath"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/moldbox/head"
)

// mostHeadBytes is far beyond any head: one of five million facets has 250 MB.
const mostHeadBytes = 2 << 30

// readHead reads a head that the job names.
func (f *jobFile) readHead(ctx context.Context, file string) (*head.Head, error) {
	path := f.headPath(file)
	f.inputs.add(path)
	return loadHead(ctx, path, f.path)
}

// headPath is where the file of a head is that the job names.
func (f *jobFile) headPath(file string) string {
	path := filepath.FromSlash(file)
	if filepath.IsAbs(path) {
		return path
	}
	return filepath.Join(f.folder(), path)
}

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
