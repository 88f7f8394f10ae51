package main

import (
	"context"
	"os"
	"slices"
	"strings"
	"sync"
	"time"

	"halfpour/cmd/halfpour/fileset"
)

// stamp tells a file's state from a later one.
type stamp struct {
	size    int64
	changed time.Time
}

// inputs are the files that a job was read from, as they were then. It is safe
// for concurrent use.
type inputs struct {
	mu   sync.Mutex
	seen map[string]stamp
}

// add notes a file before it is read.
func (in *inputs) add(path string) {
	info, err := os.Stat(path)
	if err != nil {
		return
	}
	in.mu.Lock()
	defer in.mu.Unlock()
	if in.seen == nil {
		in.seen = map[string]stamp{}
	}
	in.seen[path] = stamp{info.Size(), info.ModTime()}
}

// changed returns those of the paths that are not as they were read any more.
func (in *inputs) changed(paths []string) (list []string) {
	in.mu.Lock()
	defer in.mu.Unlock()
	for _, path := range paths {
		was, known := in.seen[path]
		info, err := os.Stat(path)
		if known && (err != nil || info.Size() != was.size || !info.ModTime().Equal(was.changed)) {
			list = append(list, path)
		}
	}
	return list
}

// files are the job's own, its shelf's and those of its heads, in the job's order; of a
// job that does not read, the first of them.
func (f *jobFile) files() []string {
	list := []string{f.path}
	add := func(path string) {
		if !slices.Contains(list, path) {
			list = append(list, path)
		}
	}
	for _, path := range f.library {
		add(path)
	}
	if f.job == nil {
		return list
	}
	if b := f.job.Box; b != nil {
		add(f.headPath(b.Left))
		add(f.headPath(b.Right))
		return list
	}
	for _, m := range f.job.Molds() {
		for _, c := range m.Job.Placed() {
			add(f.headPath(c.Head.File))
			if c.Hook != nil && c.Hook.File != "" {
				add(f.headPath(c.Hook.File))
			}
			for _, k := range c.Keeper {
				if k.File != "" {
					add(f.headPath(k.File))
				}
			}
		}
	}
	return list
}

// sayChanged tells when files of the job were saved after they were read: a job
// and its heads are read once, at the start.
func (t *terminal) sayChanged(f *jobFile) {
	if list := f.inputs.changed(f.files()); len(list) > 0 && !t.json {
		printLine(t.err, "halfpour: %s %s changed during the run; the files are for the job as it was at the start",
			paint(t.errColour, yellow, "note:"), strings.Join(list, ", "))
	}
}

// repair puts in place what is left of interrupted sets in folders, as far as it
// can, and says so.
func (t *terminal) repair(ctx context.Context, folders ...string) {
	for _, dir := range folders {
		_ = fileset.Repair(ctx, dir, t.sayRepaired)
	}
}

// sayRepaired says which files of an interrupted set are now in place: who has
// taken files from the folder since may have some of two runs.
func (t *terminal) sayRepaired(dir string, placed []string) {
	if !t.json {
		printLine(t.err, "halfpour: %s %s: an earlier run stopped while putting files in place; %s are now from that run too, but copies made before now may not be",
			paint(t.errColour, yellow, "note:"), dir, strings.Join(placed, ", "))
	}
}
