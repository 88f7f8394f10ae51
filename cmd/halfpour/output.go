package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"sync"
)

// fileSet is a folder's new files, put in place all together or not at all.
// Each is written beside its place under a temporary name; commit renames
// them. create may be called from several goroutines.
//
// A program that is killed leaves each file as it was or as it should be. In
// the moment in which commit renames, some may be new and others old; what
// temporary files it leaves behind the next set in the folder clears away.
type fileSet struct {
	dir  string
	made string   // the topmost folder that did not exist before, "" for none
	lock *os.File // keeps other programs' sets out; nil where there are no locks

	mu    sync.Mutex
	files []pendingFile
}

type pendingFile struct {
	name string
	temp string
	size int64
}

// newFileSet makes the folder if need be and waits for other programs that
// write a set into it. discard must be called in the end.
func newFileSet(ctx context.Context, dir string) (*fileSet, error) {
	s := &fileSet{dir: dir, made: topmostMissing(dir)}
	var err error
	if s.lock, err = lockFolder(ctx, dir); err != nil {
		s.discard()
		return nil, s.fault("", err)
	}
	if s.lock != nil {
		s.clearLeftovers()
	}
	return s, nil
}

// Temporary files are named after their file and have these ends; kept is what
// commit puts aside.
const tempEnd, keptEnd = ".tmp", ".tmp.old"

// clearLeftovers removes the temporary files of programs that were killed: the
// folder is locked, so that they are no one's.
func (s *fileSet) clearLeftovers() {
	for _, end := range []string{tempEnd, keptEnd} {
		left, _ := filepath.Glob(filepath.Join(escapeGlob(s.dir), ".*.*"+end))
		for _, path := range left {
			if tempName.MatchString(filepath.Base(path)) {
				_ = os.Remove(path)
			}
		}
	}
}

// tempName is what os.CreateTemp makes of create's pattern.
var tempName = regexp.MustCompile(`^\..+\.[0-9]+\.tmp(\.old)?$`)

// escapeGlob keeps Glob from reading a folder's name as a pattern.
func escapeGlob(dir string) string {
	if runtime.GOOS == "windows" {
		return dir // there is no escaping; a name with brackets keeps its leftovers
	}
	return regexp.MustCompile(`[*?\[\\]`).ReplaceAllString(dir, `\$0`)
}

// fault says in one line which file cannot be written and why, and that
// nothing is lost.
func (s *fileSet) fault(name string, err error) error {
	var known *fault
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) || errors.As(err, &known) {
		return err
	}
	place := filepath.Join(s.dir, name)
	return &fault{code: exitFailed, err: err, problems: []problem{{
		Message: fmt.Sprintf("%s: cannot be written: %s", place, writeCause(err)), File: place, Rule: "write",
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

// topmostMissing returns the first folder on the way to dir that is not there.
func topmostMissing(dir string) string {
	missing := ""
	for dir = filepath.Clean(dir); ; dir = filepath.Dir(dir) {
		if _, err := os.Lstat(dir); !errors.Is(err, fs.ErrNotExist) || dir == filepath.Dir(dir) {
			return missing
		}
		missing = dir
	}
}

// create writes a file under a temporary name.
func (s *fileSet) create(ctx context.Context, name string, write func(io.Writer) error) error {
	if err := s.writeTemp(ctx, name, write); err != nil {
		return s.fault(name, err)
	}
	return nil
}

func (s *fileSet) writeTemp(ctx context.Context, name string, write func(io.Writer) error) (err error) {
	f, err := os.CreateTemp(s.dir, "."+name+".*"+tempEnd)
	if err != nil {
		return err
	}
	s.mu.Lock()
	i := len(s.files)
	s.files = append(s.files, pendingFile{name: name, temp: f.Name()})
	s.mu.Unlock()
	defer func() { err = errors.Join(err, f.Close()) }()
	w := bufio.NewWriterSize(&interruptible{ctx, f}, 1<<16)
	if err := write(w); err != nil {
		return err
	}
	if err := w.Flush(); err != nil {
		return err
	}
	info, err := f.Stat()
	if err != nil {
		return err
	}
	s.mu.Lock()
	s.files[i].size = info.Size()
	s.mu.Unlock()
	// CreateTemp made it readable for its owner alone.
	return errors.Join(f.Chmod(0o644), f.Sync())
}

// interruptible stops writing when ctx ends.
type interruptible struct {
	ctx context.Context
	w   io.Writer
}

func (i *interruptible) Write(p []byte) (int, error) {
	if err := i.ctx.Err(); err != nil {
		return 0, err
	}
	return i.w.Write(p)
}

// sizes returns the bytes of each file by name.
func (s *fileSet) sizes() map[string]int64 {
	out := map[string]int64{}
	for _, f := range s.files {
		out[f.name] = f.size
	}
	return out
}

// commit gives every file its name. When one cannot have it, those before it
// are put back as they were. A name never stands for nothing, or for half a
// file, in between.
func (s *fileSet) commit() (err error) {
	kept, err := s.keepOld()
	defer func() {
		for _, path := range kept {
			_ = os.Remove(path)
		}
	}()
	if err != nil {
		return err
	}
	for i, f := range s.files {
		if err := os.Rename(f.temp, filepath.Join(s.dir, f.name)); err != nil {
			s.putBack(s.files[:i], kept)
			return s.fault(f.name, err)
		}
	}
	s.files, s.made = nil, ""
	_ = syncFolder(s.dir) // the names, in a power cut; the files are on the disk
	return nil
}

// keepOld gives the files that are to be replaced a second name each, and
// returns those by their first.
func (s *fileSet) keepOld() (map[string]string, error) {
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
		second := f.temp + ".old"
		if err := os.Link(place, second); err != nil {
			continue // a disk without links: it cannot be put back, but is replaced whole
		}
		kept[f.name] = second
	}
	return kept, nil
}

// putBack undoes renames.
func (s *fileSet) putBack(files []pendingFile, kept map[string]string) {
	for _, f := range files {
		place := filepath.Join(s.dir, f.name)
		if old, ok := kept[f.name]; ok {
			_ = os.Rename(old, place)
		} else {
			_ = os.Remove(place)
		}
	}
}

// discard removes what was not committed, and the folders made for it when
// they are empty, and lets other programs in. After commit it does the last
// only.
func (s *fileSet) discard() {
	for _, f := range s.files {
		_ = os.Remove(f.temp)
	}
	s.files = nil
	unlockFolder(s.lock)
	s.lock = nil
	if s.made == "" {
		return
	}
	for dir := filepath.Clean(s.dir); ; dir = filepath.Dir(dir) {
		if os.Remove(dir) != nil || dir == s.made {
			break
		}
	}
	s.made = ""
}
