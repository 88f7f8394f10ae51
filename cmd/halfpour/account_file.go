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

// accountOf is the account of the castings in the job's mold, beside the
// job; each size has its own.
func (f *jobFile) accountOf(m pourplan.Mold) string {
	name := f.name()
	if m.Folder != "" {
		name += "-" + m.Folder
	}
	return filepath.Join(f.folder(), name+"-castings.csv")
}

// readAccountFile reads an account; one that does not exist is empty.
func readAccountFile(ctx context.Context, path string) (*pourplan.Account, error) {
	f, _, err := fileset.OpenLocked(ctx, path, os.O_RDONLY)
	if errors.Is(err, fs.ErrNotExist) {
		return &pourplan.Account{}, nil
	}
	if err != nil {
		return nil, accountFault(path, err)
	}
	defer f.Close()
	data, err := fileset.ReadOpen(ctx, f, pourplan.MaxAccountBytes)
	if err != nil {
		return nil, accountFault(path, err)
	}
	a, err := pourplan.ReadAccount(data)
	if err != nil {
		return nil, accountFault(path, err)
	}
	return a, nil
}

// appendCasting puts a casting behind an account, whole and on the disk, or
// leaves the account as it was. Others that do the same at this moment wait;
// those that know of no lock, such as a shell's >>, at least cannot be written
// over, since the system itself puts the line at the end. locked is false on a
// disk without locks: there a line that could be written in part only stays,
// which the next one takes for cut off, since what is behind it may be another's.
func appendCasting(ctx context.Context, path string, c pourplan.Casting) (locked bool, err error) {
	if err := c.Check(); err != nil {
		return true, err
	}
	f, locked, err := fileset.OpenLocked(ctx, path, os.O_RDWR|os.O_CREATE|os.O_APPEND)
	if err != nil {
		return true, accountFault(path, err)
	}
	return locked, errors.Join(appendTo(ctx, f, path, c, locked), f.Close())
}

// appendTo is appendCasting to the open file.
func appendTo(ctx context.Context, f *os.File, path string, c pourplan.Casting, locked bool) error {
	data, err := fileset.ReadOpen(ctx, f, pourplan.MaxAccountBytes)
	if err != nil {
		return accountFault(path, err)
	}
	more, err := pourplan.Append(data, c)
	if err != nil {
		return accountFault(path, err)
	}
	if _, err = f.Write(more); err == nil {
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
	if errors.Is(err, context.Canceled) {
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
