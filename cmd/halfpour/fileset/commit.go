package fileset

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
)

// Commit gives every file its name. When one cannot have it, those before it
// are put back as they were. A name never stands for nothing, or for half a
// file, in between.
func (s *Set) Commit() (err error) {
	kept, err := s.keepOld()
	defer func() {
		for _, path := range kept {
			_ = os.Remove(path)
		}
	}()
	if err != nil {
		return err
	}
	j := newJournal(s.files)
	if err := s.replacesBroken(j); err != nil {
		return err
	}
	if len(j.Files) > 1 { // one alone is renamed or not
		if err := s.writeJournal(j); err != nil {
			return s.fault("", err)
		}
	}
	for i, f := range j.Files {
		if err := s.move(s.place(f.Temp), s.place(f.Name)); err != nil {
			return s.undo(j, j.Files[:i], kept, s.fault(f.Name, err))
		}
	}
	s.keepFolders()
	_ = removeJournal(s.dir, j) // one that stays has nothing left to do
	s.forgetBroken()
	return nil
}

// replacesBroken refuses a set that would leave files of an earlier one that
// cannot be finished: whose they are could then be told no more.
func (s *Set) replacesBroken(j *journal) error {
	for in, f := range s.folders {
		if f.broken == nil || f.unfinished != nil && j.replaces(in, f.unfinished) {
			continue
		}
		var known *Fault
		if errors.As(f.broken, &known) {
			return known
		}
		return unfinishedFault(f.dir, "")
	}
	return nil
}

// forgetBroken removes what is left of the sets that this one has replaced.
func (s *Set) forgetBroken() {
	for in, f := range s.folders {
		if f.unfinished != nil {
			for _, old := range f.unfinished.Files {
				removeTemp(filepath.Join(f.dir, filepath.FromSlash(old.Temp)))
			}
			if in != "." { // its own journal has gone already
				_ = os.Remove(filepath.Join(f.dir, JournalName))
			}
		}
		clearLeftovers(f.dir, f.lock)
	}
}

// keepOld gives the files that are to be replaced a second name each, and
// returns those by their first; "" on a disk without links, which has no
// second names.
func (s *Set) keepOld() (map[string]string, error) {
	kept := map[string]string{}
	for _, f := range s.files {
		place := s.place(f.name)
		info, err := os.Lstat(place)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			continue
		case err != nil:
			return kept, s.fault(f.name, err)
		case info.IsDir():
			return kept, s.fault(f.name, errors.New("is a folder"))
		}
		kept[f.name] = s.place(f.temp) + ".old"
		if err := s.link(place, kept[f.name]); err != nil {
			kept[f.name] = ""
		}
	}
	return kept, nil
}

// undo puts back what was renamed before cause, which it returns. Where that
// cannot be done, or would bring back a folder of two runs, the journal stays,
// and the next command finishes the set.
func (s *Set) undo(j *journal, moved []journalFile, kept map[string]string, cause error) error {
	undone := true
	for _, f := range s.folders {
		undone = undone && f.broken == nil
	}
	for _, f := range slices.Backward(moved) {
		undone = undone && s.putBack(f, kept) == nil
	}
	if undone && removeJournal(s.dir, j) == nil {
		return cause
	}
	s.keepFolders()
	for _, f := range s.folders { // with its list of what is to be removed
		if f.lock != nil {
			_ = f.lock.Close()
		}
		f.lock = nil
	}
	return unfinishedFault(s.dir, "")
}

// putBack undoes a renaming, so that the new file has its temporary name again:
// killed meanwhile, the set can still be finished.
func (s *Set) putBack(f journalFile, kept map[string]string) error {
	place, temp := s.place(f.Name), s.place(f.Temp)
	old, replaced := kept[f.Name]
	switch {
	case !replaced:
		return s.move(place, temp)
	case old == "":
		return errors.ErrUnsupported
	}
	if err := s.link(place, temp); err != nil {
		return err
	}
	return s.move(old, place)
}

// replaces reports whether a set has all files of an earlier one in a folder.
func (j *journal) replaces(in string, earlier *journal) bool {
	return !slices.ContainsFunc(earlier.Files, func(old journalFile) bool {
		return !slices.ContainsFunc(j.Files, func(f journalFile) bool { return f.Name == path.Join(in, old.Name) })
	})
}
