package fileset

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Fault is what is wrong with a folder or a file, as a person reads it.
type Fault struct {
	Message string // place, rule, value seen
	Place   string // path of the folder or file
	Rule    string // short and stable
	Hint    string // what to do
	Err     error  // what it was made of; may be nil
}

func (f *Fault) Error() string { return f.Message }

func (f *Fault) Unwrap() error { return f.Err }

func (s *Set) fault(name string, err error) error { return WriteFault(s.dir, name, err) }

// The rules of faults.
const WriteRule, UnfinishedRule = "write", "unfinished"

// WriteFault says in one line which file of a folder, or "" for the folder,
// cannot be written and why, and that nothing is lost.
func WriteFault(dir, name string, err error) error {
	var known *Fault
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) || errors.As(err, &known) {
		return err
	}
	place := filepath.Join(dir, name)
	return &Fault{
		Message: fmt.Sprintf("%s: cannot be written: %s", place, writeCause(err)), Place: place, Rule: WriteRule, Err: err,
		Hint: "make room or name another folder; nothing was put into the folder, and what was there before is as it was",
	}
}

// writeCause says why a file cannot be written without the temporary name.
func writeCause(err error) string {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.Is(err, ErrLocked):
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
	return &Fault{
		Message: fmt.Sprintf("%s: holds files of two runs: one was stopped while it put files in place, and %s", dir, cause),
		Place:   filepath.Join(dir, name), Rule: UnfinishedRule, Hint: hint,
	}
}

// journalFault says that a folder's journal cannot be read.
func journalFault(dir string, err error) error {
	place := filepath.Join(dir, JournalName)
	return &Fault{
		Message: place + ": " + Cause(err), Place: place, Rule: UnfinishedRule, Err: err,
		Hint: "it tells which files of the folder are new; take it away and build the job again",
	}
}

// Cause says why a file cannot be read without repeating its name.
func Cause(err error) string {
	var p *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "no such file"
	case errors.Is(err, fs.ErrPermission):
		return "no permission to read it"
	case errors.As(err, &p):
		return p.Err.Error()
	}
	return err.Error()
}
