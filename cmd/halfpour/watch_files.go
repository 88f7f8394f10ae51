package main

import (
	"os"
	"sync"
	"time"
)

// watchedFiles are the files that a job is made of, by when they were last
// written. It is safe for concurrent use.
type watchedFiles struct {
	mu    sync.Mutex
	files []watchedFile
}

type watchedFile struct {
	path string
	seen fileState // when the run that is on began
}

// fileState tells one state of a file from another. An editor that writes a new
// file and gives it the old one's name changes it as well.
type fileState struct {
	there bool
	when  time.Time
	size  int64
}

func fileStateOf(path string) fileState {
	info, err := os.Stat(path)
	if err != nil {
		return fileState{}
	}
	return fileState{true, info.ModTime(), info.Size()}
}

// add watches files too; of those that are new what counts is how they are now.
func (w *watchedFiles) add(paths ...string) {
	w.mu.Lock()
	defer w.mu.Unlock()
next:
	for _, path := range paths {
		for _, f := range w.files {
			if f.path == path {
				continue next
			}
		}
		w.files = append(w.files, watchedFile{path, fileStateOf(path)})
	}
}

// begin takes all files as they are for what the next run sees.
func (w *watchedFiles) begin() {
	w.mu.Lock()
	defer w.mu.Unlock()
	for i := range w.files {
		w.files[i].seen = fileStateOf(w.files[i].path)
	}
}

// changed returns the files that are no longer as when the run began, each as
// it is now.
func (w *watchedFiles) changed() map[string]fileState {
	w.mu.Lock()
	defer w.mu.Unlock()
	out := map[string]fileState{}
	for _, f := range w.files {
		if now := fileStateOf(f.path); now != f.seen {
			out[f.path] = now
		}
	}
	return out
}
