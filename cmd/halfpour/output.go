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
	"sync"
)

// fileSet is a folder's new files, put in place all together or not at all.
// Each is written beside its place under a temporary name; Commit renames
// them. Create may be called from several goroutines.
type fileSet struct {
	dir  string
	made string // the topmost folder that did not exist before, "" for none

	mu    sync.Mutex
	files []pendingFile
}

type pendingFile struct {
	name string
	temp string
	size int64
}

// newFileSet makes the folder if need be.
func newFileSet(dir string) (*fileSet, error) {
	s := &fileSet{dir: dir, made: topmostMissing(dir)}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("cannot make the output folder: %w", err)
	}
	return s, nil
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
func (s *fileSet) create(ctx context.Context, name string, write func(io.Writer) error) (err error) {
	f, err := os.CreateTemp(s.dir, "."+name+".*.tmp")
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
		return fmt.Errorf("%s: %w", name, err)
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
// are put back as they were.
func (s *fileSet) commit() (err error) {
	var undo []func()
	defer func() {
		if err != nil {
			for i := len(undo) - 1; i >= 0; i-- {
				undo[i]()
			}
			s.discard()
		}
	}()
	var old []string
	for _, f := range s.files {
		place := filepath.Join(s.dir, f.name)
		if info, err := os.Lstat(place); err == nil {
			if info.IsDir() {
				return fmt.Errorf("%s is a folder; a file of that name is to be written", place)
			}
			kept := f.temp + ".old"
			if err := os.Rename(place, kept); err != nil {
				return err
			}
			old = append(old, kept)
			undo = append(undo, func() { _ = os.Rename(kept, place) })
		}
		if err := os.Rename(f.temp, place); err != nil {
			return err
		}
		undo = append(undo, func() { _ = os.Remove(place) })
	}
	for _, name := range old {
		_ = os.Remove(name)
	}
	s.files, s.made = nil, ""
	return nil
}

// discard removes what was not committed, and the folders made for it when
// they are empty. After commit it does nothing.
func (s *fileSet) discard() {
	for _, f := range s.files {
		_ = os.Remove(f.temp)
	}
	s.files = nil
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
