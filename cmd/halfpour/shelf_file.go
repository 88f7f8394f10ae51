package main

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/pourplan"
)

// shelfAbove is where the shelf of a folder is: in it, or in the nearest folder above
// it that has one, or its account; in it when none has.
func shelfAbove(dir string) string {
	here, err := filepath.Abs(dir)
	if err != nil {
		return filepath.Join(dir, pourplan.ShelfFile)
	}
	for up := dir; ; here, up = filepath.Dir(here), filepath.Join(up, "..") {
		path := filepath.Join(up, pourplan.ShelfFile)
		for _, file := range []string{path, shelfAccountPath(path)} {
			if info, err := os.Stat(file); err == nil && !info.IsDir() {
				return path
			}
		}
		if filepath.Dir(here) == here {
			return filepath.Join(dir, pourplan.ShelfFile)
		}
	}
}

// shelfAccountPath is the account of what is used of a shelf, beside it.
func shelfAccountPath(shelf string) string {
	return strings.TrimSuffix(shelf, filepath.Ext(shelf)) + "-account.csv"
}

// readShelfFile reads a shelf; one that does not exist has nothing on it.
func readShelfFile(ctx context.Context, path string) (*pourplan.Shelf, error) {
	data, err := fileset.ReadFile(ctx, path, pourplan.MaxJobBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return &pourplan.Shelf{}, nil
	}
	if err == nil {
		var s *pourplan.Shelf
		if s, err = pourplan.ReadShelf(path, data); err == nil {
			return s, nil
		}
		return nil, jobFault(err)
	}
	if ctx.Err() != nil {
		return nil, err
	}
	return nil, &fault{code: exitJob, err: err, problems: []problem{{Message: path + ": " + fileset.Cause(err), File: path, Rule: "unreadable"}}}
}

// readShelfAccount reads what was used of a shelf.
func readShelfAccount(ctx context.Context, shelf string) (*pourplan.ShelfAccount, error) {
	return readGrowing(ctx, shelfAccountPath(shelf), pourplan.ReadShelfAccount)
}
