package fileset

import (
	"errors"
	"io/fs"
	"os"
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
		if err := j.write(s.dir, s.move); err != nil {
			return s.fault("", err)
		}
	}
	for i, f := range j.Files {
		if err := s.move(filepath.Join(s.dir, f.Temp), filepath.Join(s.dir, f.Name)); err != nil {
			return s.undo(j.Files[:i], kept, s.fault(f.Name, err))
		}
	}
	s.files, s.made = nil, ""
	_ = removeJournal(s.dir) // one that stays has nothing left to do
	if s.broken != nil {
		clearLeftovers(s.dir)
	}
	return nil
}

// replacesBroken refuses a set that would leave files of an earlier one that
// cannot be finished: whose they are could then be told no more.
func (s *Set) replacesBroken(j *journal) error {
	if s.broken == nil {
		return nil
	}
	in := func(f journalFile) bool {
		return slices.ContainsFunc(j.Files, func(g journalFile) bool { return g.Name == f.Name })
	}
	if s.unfinished != nil && !slices.ContainsFunc(s.unfinished.Files, func(f journalFile) bool { return !in(f) }) {
		return nil
	}
	var known *Fault
	if errors.As(s.broken, &known) {
		return known
	}
	return unfinishedFault(s.dir, "")
}

// keepOld gives the files that are to be replaced a second name each, and
// returns those by their first; "" on a disk without links, which has no
// second names.
func (s *Set) keepOld() (map[string]string, error) {
	kept := map[string]string{}
	for _, f := range s.files {
		place := filepath.Join(s.dir, f.name)
		info, err := os.Lstat(place)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			continue
		case err != nil:
			return kept, s.fault(f.name, err)
		case info.IsDir():
			return kept, s.fault(f.name, errors.New("is a folder"))
		}
		kept[f.name] = f.temp + ".old"
		if err := s.link(place, kept[f.name]); err != nil {
			kept[f.name] = ""
		}
	}
	return kept, nil
}

// undo puts back what was renamed before cause, which it returns. Where that
// cannot be done, or would bring back a folder of two runs, the journal stays,
// and the next command finishes the set.
func (s *Set) undo(moved []journalFile, kept map[string]string, cause error) error {
	undone := s.broken == nil
	for _, f := range slices.Backward(moved) {
		undone = undone && s.putBack(f, kept) == nil
	}
	if undone && removeJournal(s.dir) == nil {
		return cause
	}
	s.files, s.made = nil, ""
	return unfinishedFault(s.dir, "")
}

// putBack undoes a renaming, so that the new file has its temporary name again:
// killed meanwhile, the set can still be finished.
func (s *Set) putBack(f journalFile, kept map[string]string) error {
	place, temp := filepath.Join(s.dir, f.Name), filepath.Join(s.dir, f.Temp)
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
