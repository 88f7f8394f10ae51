package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

func (s *fileSet) fault(name string, err error) error { return writeFault(s.dir, name, err) }

// The rules of faults of a set.
const writeRule, unfinishedRule = "write", "unfinished"

// writeFault says in one line which file of a folder, or "" for the folder,
// cannot be written and why, and that nothing is lost.
func writeFault(dir, name string, err error) error {
	var known *fault
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) || errors.As(err, &known) {
		return err
	}
	place := filepath.Join(dir, name)
	return &fault{code: exitFailed, err: err, problems: []problem{{
		Message: fmt.Sprintf("%s: cannot be written: %s", place, writeCause(err)), File: place, Rule: writeRule,
		Hints: []string{"make room or name another folder; nothing was put into the folder, and what was there before is as it was"},
	}}}
}

// writeCause says why a file cannot be written without the temporary name.
func writeCause(err error) string {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.Is(err, errLocked):
		return "another program writes into the folder: try again"
	case errors.As(err, &path):
		return path.Err.Error()
	case errors.As(err, &link):
		return link.Err.Error()
	}
	return err.Error()
}

// unfinishedFault says that a folder holds files of two runs, of one of which
// the named file is neither in place nor waiting for it; "" for none.
func unfinishedFault(dir, name string) error {
	cause := "cannot be put in place now"
	hint := "close what has files of it open; any halfpour command on the job then puts the rest in place"
	if name != "" {
		cause = name + " of it is missing or changed"
		hint = "build the job again: that replaces them all"
	}
	return &fault{code: exitFailed, problems: []problem{{
		Message: fmt.Sprintf("%s: holds files of two runs: one was stopped while it put files in place, and %s", dir, cause),
		File:    filepath.Join(dir, name), Rule: unfinishedRule, Hints: []string{hint},
	}}}
}

// journalFault says that a folder's journal cannot be read.
func journalFault(dir string, err error) error {
	place := filepath.Join(dir, journalName)
	return &fault{code: exitFailed, err: err, problems: []problem{{
		Message: place + ": " + plainCause(err), File: place, Rule: unfinishedRule,
		Hints: []string{"it tells which files of the folder are new; take it away and build the job again"},
	}}}
}
