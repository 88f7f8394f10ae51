package main

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/pourplan"
)

// castingsEnding is behind a job's name in that of its account.
const castingsEnding = "-castings.csv"

// accountOf is the account of the castings in the job's mold, beside the
// job; each size has its own.
func (f *jobFile) accountOf(m pourplan.Mold) string {
	name := f.name()
	if m.Folder != "" {
		name += "-" + m.Folder
	}
	return filepath.Join(f.folder(), name+castingsEnding)
}

// readAccountFile reads an account; one that does not exist is empty.
func readAccountFile(ctx context.Context, path string) (*pourplan.Account, error) {
	return readGrowing(ctx, path, pourplan.ReadAccount)
}

// readGrowing reads a file that only grows; one that does not exist has no bytes.
func readGrowing[T any](ctx context.Context, path string, read func(data []byte) (T, error)) (got T, err error) {
	var data []byte
	f, _, err := fileset.OpenLocked(ctx, path, os.O_RDONLY)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return got, accountFault(path, err)
	default:
		defer f.Close()
		if data, err = fileset.ReadOpen(ctx, f, pourplan.MaxAccountBytes); err != nil {
			return got, accountFault(path, err)
		}
	}
	if got, err = read(data); err != nil {
		return got, accountFault(path, err)
	}
	return got, nil
}

// appendCasting puts a casting behind an account.
func appendCasting(ctx context.Context, path string, c pourplan.Casting) (locked bool, err error) {
	if err := c.Check(); err != nil {
		return true, err
	}
	return grow(ctx, path, func(data []byte) ([]byte, error) { return pourplan.Append(data, c) })
}

// grow puts what more makes of a file's bytes behind them, whole and on the disk, or
// leaves the file as it was. Others that do the same at this moment wait;
// those that know of no lock, such as a shell's >>, at least cannot be written
// over, since the system itself puts the line at the end. locked is false on a
// disk without locks: there a line that could be written in part only stays,
// which the next one takes for cut off, since what is behind it may be another's.
func grow(ctx context.Context, path string, more func(data []byte) ([]byte, error)) (locked bool, err error) {
	f, locked, err := fileset.OpenLocked(ctx, path, os.O_RDWR|os.O_CREATE|os.O_APPEND)
	if err != nil {
		return true, accountFault(path, err)
	}
	return locked, errors.Join(growOpen(ctx, f, path, more, locked), f.Close())
}

// growOpen is grow of the open file.
func growOpen(ctx context.Context, f *os.File, path string, more func(data []byte) ([]byte, error), locked bool) error {
	data, err := fileset.ReadOpen(ctx, f, pourplan.MaxAccountBytes)
	if err != nil {
		return accountFault(path, err)
	}
	line, err := more(data)
	if err != nil {
		return accountFault(path, err)
	}
	if _, err = f.Write(line); err == nil {
		err = f.Sync()
	}
	if err == nil && len(data) == 0 {
		err = fileset.SyncFolder(filepath.Dir(path))
	}
	if err != nil && locked {
		err = errors.Join(err, f.Truncate(int64(len(data))))
	}
	if err != nil {
		return accountFault(path, err)
	}
	return nil
}

// accountFault shows what is wrong with an account.
func accountFault(path string, err error) error {
	var told *fault
	if errors.Is(err, context.Canceled) || errors.As(err, &told) {
		return err
	}
	cause := fileset.Cause(err)
	if errors.Is(err, fs.ErrPermission) {
		cause = "no permission to read and write it"
	}
	p := problem{Message: path + ": " + cause, File: path, Rule: "account"}
	var system *fs.PathError
	if errors.As(err, &system) {
		p.Hints = []string{"close what else has it open, and check that you may write there"}
	}
	return &fault{code: exitFailed, err: err, problems: []problem{p}}
}
