package fileset

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
)

// Finish puts in place what a program that was stopped while renaming has
// left of its set, and returns the names of those files. Without a journal it
// costs one look at the folder. A fault means that the set cannot be told any
// more, any other error that the folder cannot be written to.
func Finish(ctx context.Context, dir string) ([]string, error) {
	if _, err := os.Lstat(filepath.Join(dir, JournalName)); err != nil {
		return nil, nil // or no folder at all, which is for others to say
	}
	// Programs that are alive hold the lock while their journal stands.
	lock, err := lockFolder(ctx, dir)
	if err != nil {
		return nil, err
	}
	defer unlockFolder(lock)
	placed, err := finishLocked(ctx, dir)
	if err == nil && lock != nil {
		clearLeftovers(dir)
	}
	return placed, err
}

// finishLocked is Finish in a folder that this program holds. Either all of
// the set can be put in place, or nothing is touched.
func finishLocked(ctx context.Context, dir string) (placed []string, err error) {
	j, err := readJournal(ctx, dir)
	if err != nil {
		return nil, journalFault(dir, err)
	}
	if j == nil {
		return nil, nil
	}
	var pending []journalFile
	for _, f := range j.Files {
		waits, err := f.waits(ctx, dir)
		if err != nil {
			return nil, err
		}
		if waits {
			pending = append(pending, f)
		}
	}
	for _, f := range pending {
		if err := os.Rename(filepath.Join(dir, f.Temp), filepath.Join(dir, f.Name)); err != nil {
			return placed, err
		}
		placed = append(placed, f.Name)
	}
	return placed, removeJournal(dir)
}

// removeJournal ends a set, once its names are on the disk.
func removeJournal(dir string) error {
	_ = SyncFolder(dir)
	if err := os.Remove(filepath.Join(dir, JournalName)); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// waits reports whether a file of a set is still to be put in place. It is an
// error when it is neither there nor waiting.
func (f journalFile) waits(ctx context.Context, dir string) (bool, error) {
	if waits, err := f.isOn(ctx, filepath.Join(dir, f.Temp)); waits || err != nil {
		return waits, err
	}
	placed, err := f.isOn(ctx, filepath.Join(dir, f.Name))
	if err == nil && !placed {
		err = unfinishedFault(dir, f.Name)
	}
	return false, err
}

// Read reads a file of a set as its last run wrote it. A set that was
// interrupted is finished first; where the folder cannot be written to, the
// file is read from where it waits, up to most bytes. finished is told of files
// that were put in place.
func Read(ctx context.Context, path string, most int64, finished func(dir string, placed []string)) ([]byte, error) {
	dir, name := filepath.Split(path)
	dir = filepath.Clean(dir) // "." for none
	placed, err := Finish(ctx, dir)
	if err == nil {
		finished(dir, placed)
	}
	var known *Fault
	switch {
	case err == nil:
		return ReadFile(ctx, path, most)
	case errors.As(err, &known) || ctx.Err() != nil:
		return nil, err
	}
	j, err := readJournal(ctx, dir)
	if err != nil {
		return nil, journalFault(dir, err)
	}
	if j != nil { // else another program has finished it
		for _, f := range j.Files {
			if f.Name != name {
				continue
			}
			waits, err := f.waits(ctx, dir)
			if err != nil {
				return nil, err
			}
			if waits {
				path = filepath.Join(dir, f.Temp)
			}
		}
	}
	return ReadFile(ctx, path, most)
}

// Temporary files are named after their file and have these ends; kept is what
// Commit puts aside.
const tempEnd, keptEnd = ".tmp", ".tmp.old"

// clearLeftovers removes the temporary files of programs that were killed: the
// folder is locked, so that they are no one's.
func clearLeftovers(dir string) {
	for _, end := range []string{tempEnd, keptEnd} {
		left, _ := filepath.Glob(filepath.Join(escapeGlob(dir), ".*.*"+end))
		for _, path := range left {
			if tempName.MatchString(filepath.Base(path)) {
				_ = os.Remove(path)
			}
		}
	}
}

// tempName is what os.CreateTemp makes of Create's pattern.
var tempName = regexp.MustCompile(`^\..+\.[0-9]+\.tmp(\.old)?$`)

// escapeGlob keeps Glob from reading a folder's name as a pattern.
func escapeGlob(dir string) string {
	if runtime.GOOS == "windows" {
		return dir // there is no escaping; a name with brackets keeps its leftovers
	}
	return regexp.MustCompile(`[*?\[\\]`).ReplaceAllString(dir, `\$0`)
}
