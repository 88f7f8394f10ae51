package fileset

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
)

// Repair puts in place what a program that was stopped while renaming has
// left of its set, in a folder or in the one it stands in, and tells repaired
// of those files. Without a journal it costs one look at each. A fault means
// that the set cannot be told any more, any other error that the folder cannot
// be written to.
func Repair(ctx context.Context, dir string, repaired func(dir string, placed []string)) error {
	above, err := journalAbove(ctx, dir)
	if err != nil {
		return err
	}
	for _, dir := range []string{above, dir} {
		if dir == "" {
			continue
		}
		placed, err := repairFolder(ctx, dir)
		if err != nil {
			return err
		}
		if len(placed) > 0 {
			repaired(dir, placed)
		}
	}
	return nil
}

// repairFolder is Repair of what a folder's own journal tells.
func repairFolder(ctx context.Context, dir string) ([]string, error) {
	if _, err := os.Lstat(filepath.Join(dir, JournalName)); err != nil {
		return nil, nil // or no folder at all, which is for others to say
	}
	// Programs that are alive hold the lock while their journal stands.
	lock, err := lockFolder(ctx, dir)
	if err != nil {
		return nil, err
	}
	defer unlockFolder(lock)
	placed, err := repairLocked(ctx, dir)
	if err == nil {
		clearLeftovers(dir, lock)
	}
	return placed, err
}

// repairLocked is repairFolder in a folder that this program holds. Either all
// of the set can be put in place, or nothing is touched.
func repairLocked(ctx context.Context, dir string) (placed []string, err error) {
	j, err := readJournal(ctx, dir)
	if err != nil {
		return nil, journalFault(dir, err)
	}
	if j == nil {
		return nil, nil
	}
	locks := map[string]*os.File{}
	defer func() {
		for _, lock := range locks {
			unlockFolder(lock)
		}
	}()
	for _, name := range j.folders() {
		sub := filepath.Join(dir, name)
		if info, err := os.Stat(sub); err != nil || !info.IsDir() {
			continue // the files that should be there are missed below
		}
		if locks[sub], err = lockFolder(ctx, sub); err != nil {
			return nil, err
		}
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
	if err := removeJournal(dir, j); err != nil {
		return placed, err
	}
	for _, f := range j.Files {
		removeTemp(filepath.Join(dir, f.Temp))
	}
	return placed, nil
}

// removeJournal ends a set, once its names are on the disk.
func removeJournal(dir string, j *journal) error {
	j.sync(dir)
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

// journalAbove returns the folder that dir stands in if a journal there names
// files in dir, else "".
func journalAbove(ctx context.Context, dir string) (string, error) {
	above, name := folderAbove(dir)
	if above == "" {
		return "", nil
	}
	j, err := readJournal(ctx, above)
	if err != nil {
		return "", journalFault(above, err)
	}
	if j == nil || !j.reaches(name) {
		return "", nil
	}
	return above, nil
}

// folderAbove returns the folder that another stands in, and its name there; ""
// for one that stands in none.
func folderAbove(dir string) (above, name string) {
	dir = filepath.Clean(dir)
	if name = filepath.Base(dir); name == "." || name == ".." || isLink(dir) {
		real, err := filepath.EvalSymlinks(dir)
		if err == nil {
			real, err = filepath.Abs(real)
		}
		if err != nil {
			return "", ""
		}
		dir, name = real, filepath.Base(real)
	}
	if above = filepath.Dir(dir); above == dir {
		return "", ""
	}
	return above, name
}

// Read reads a file of a set as its last run wrote it. A set that was
// interrupted is finished first; where the folder cannot be written to, the
// file is read from where it waits, up to most bytes. repaired is told of files
// that were put in place.
func Read(ctx context.Context, path string, most int64, repaired func(dir string, placed []string)) ([]byte, error) {
	dir, name := filepath.Split(path)
	dir = filepath.Clean(dir) // "." for none
	err := Repair(ctx, dir, repaired)
	var known *Fault
	switch {
	case err == nil:
		return ReadFile(ctx, path, most)
	case errors.As(err, &known) || ctx.Err() != nil:
		return nil, err
	}
	if path, err = waitingPlace(ctx, dir, name); err != nil {
		return nil, err
	}
	return ReadFile(ctx, path, most)
}

// waitingPlace is where a file of a set stands, that cannot be put in place.
func waitingPlace(ctx context.Context, dir, name string) (string, error) {
	above, folder := folderAbove(dir)
	for _, from := range []struct{ dir, name string }{{dir, name}, {above, path.Join(folder, name)}} {
		if from.dir == "" {
			continue
		}
		j, err := readJournal(ctx, from.dir)
		if err != nil {
			return "", journalFault(from.dir, err)
		}
		if j == nil { // another program has finished it
			continue
		}
		for _, f := range j.Files {
			if f.Name != from.name {
				continue
			}
			if waits, err := f.waits(ctx, from.dir); waits || err != nil {
				return filepath.Join(from.dir, f.Temp), err
			}
		}
	}
	return filepath.Join(dir, name), nil
}
