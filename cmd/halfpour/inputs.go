package main

import (
	"context"
	"os"
	"strings"
	"time"

	"halfpour/cmd/halfpour/fileset"
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
		printLine(t.err, "halfpour: %s %s changed meanwhile; what was written is of the job as it was at the start",
			paint(t.errColour, yellow, "note:"), strings.Join(list, ", "))
	}
}

// finish puts in place what is left of an interrupted set, and says so.
func (t *terminal) finish(ctx context.Context, dir string) error {
	return fileset.Finish(ctx, dir, t.sayFinished)
}

// sayFinished says which files of an interrupted set are now in place: who has
// taken files from the folder since may have some of two runs.
func (t *terminal) sayFinished(dir string, placed []string) {
	if !t.json {
		printLine(t.err, "halfpour: %s %s: a run had been stopped while it put files in place; %s are now of that run too, copies taken before may not be",
			paint(t.errColour, yellow, "note:"), dir, strings.Join(placed, ", "))
	}
}
