package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/pourplan/sheet"
)

// drawAccount writes the account as a page, if a path is given.
func (l *logWork) drawAccount(ctx context.Context, path string) error {
	if path == "" {
		return nil
	}
	if filepath.Ext(path) != ".pdf" {
		return usageError(fmt.Sprintf("--plot must name a .pdf, got %q", path))
	}
	if fileset.Overwrites(l.files(), []string{path}) != "" {
		return usageError(path + " is a file of the job and would be overwritten")
	}
	set, err := fileset.New(ctx, filepath.Dir(path))
	if err != nil {
		return err
	}
	defer set.Discard()
	err = set.Create(ctx, filepath.Base(path), func(w io.Writer) error {
		return sheet.WriteAccount(w, l.account, l.plan, l.mold, papers[l.Job.Output.Paper])
	})
	if err != nil {
		return err
	}
	l.plot = path
	return set.Commit()
}
