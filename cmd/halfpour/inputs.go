package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// stamp tells a file's state from a later one.
type stamp struct {
	size    int64
	changed time.Time
}

// inputs are the files that a job was read from, as they were then.
type inputs map[string]stamp

// add notes a file before it is read.
func (in inputs) add(path string) {
	if info, err := os.Stat(path); err == nil {
		in[path] = stamp{info.Size(), info.ModTime()}
	}
}

// changed returns those of the paths that are not as they were read any more.
func (in inputs) changed(paths []string) []string {
	var list []string
	for _, path := range paths {
		was, known := in[path]
		info, err := os.Stat(path)
		if known && (err != nil || info.Size() != was.size || !info.ModTime().Equal(was.changed)) {
			list = append(list, path)
		}
	}
	return list
}

// files are the job's own and those of its heads, in the job's order.
func (w *work) files() []string {
	list, told := []string{w.path}, map[string]bool{}
	for _, c := range w.job.Placed() {
		if h := w.heads[c.Head.File]; h != nil && !told[h.Name] {
			told[h.Name] = true
			list = append(list, h.Name)
		}
	}
	return list
}

// sayChanged tells when files of the job were saved after they were read: a job
// and its heads are read once, at the start.
func (t *terminal) sayChanged(w *work) {
	if list := w.inputs.changed(w.files()); len(list) > 0 && !t.json {
		fmt.Fprintf(t.err, "halfpour: %s %s changed meanwhile; what was written is of the job as it was at the start\n",
			paint(t.errColour, yellow, "note:"), strings.Join(list, ", "))
	}
}

// probeFolder says early that nothing can be written into a folder, or into
// the one in which it would be made.
func probeFolder(folder string) error {
	there := filepath.Clean(folder)
	for {
		info, err := os.Stat(there)
		if err == nil && !info.IsDir() {
			return writeFault(folder, "", fmt.Errorf("%s is no folder", there))
		}
		if err == nil {
			break
		}
		if !errors.Is(err, fs.ErrNotExist) || filepath.Dir(there) == there {
			return writeFault(folder, "", err)
		}
		there = filepath.Dir(there)
	}
	f, err := os.CreateTemp(there, ".probe.*"+tempEnd)
	if err != nil {
		return writeFault(folder, "", err)
	}
	if err := errors.Join(f.Close(), os.Remove(f.Name())); err != nil {
		return writeFault(folder, "", err)
	}
	return nil
}
