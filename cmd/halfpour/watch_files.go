package main

import (
	"hash/maphash"
	"io"
	"os"
	"sync"
	"time"
)

// watchedFiles are the files that a job is made of, by their state. It asks for
// them again and again, since file systems of networks and of containers report
// no changes. It is safe for concurrent use.
type watchedFiles struct {
	mu    sync.Mutex
	files []*watchedFile
	whole bool // what has changed was written whole
	news  chan struct{}
}

// written tells that a file has been written whole: there is no need to wait for
// the next look.
func (w *watchedFiles) written() <-chan struct{} {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.wakes()
}

// wakes is made when it is first asked for. w is locked.
func (w *watchedFiles) wakes() chan struct{} {
	if w.news == nil {
		w.news = make(chan struct{}, 1)
	}
	return w.news
}

// wroteWhole says that a file was changed by a rename of our own: nothing more
// comes.
func (w *watchedFiles) wroteWhole() {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.whole = true
	select {
	case w.wakes() <- struct{}{}:
	default: // it has been told already
	}
}

func (w *watchedFiles) isWhole() bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.whole
}

type watchedFile struct {
	path string
	seen fileState // when the run that is on began
	last fileState
	next time.Time // when the content is looked at even if all else is as before
}

// fileState tells one state of a file from another. An editor that writes a new
// file and gives it the old one's name changes it as well.
type fileState struct {
	there bool
	when  time.Time
	size  int64
	sum   uint64 // of the content; 0 of what is no regular file
}

// fileStateOf reads the whole file.
func fileStateOf(path string) fileState {
	s := fileStateButSum(path)
	s.sum = sumOf(path)
	return s
}

func fileStateButSum(path string) fileState {
	info, err := os.Stat(path)
	if err != nil {
		return fileState{}
	}
	return fileState{there: true, when: info.ModTime(), size: info.Size()}
}

var sumSeed = maphash.MakeSeed()

// sumOf tells a file's content from another; 0 where there is none to be read.
func sumOf(path string) uint64 {
	if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() {
		return 0 // a pipe would wait for its writer
	}
	f, err := os.Open(path)
	if err != nil {
		return 0
	}
	defer f.Close()
	var h maphash.Hash
	h.SetSeed(sumSeed)
	if _, err := io.Copy(&h, f); err != nil {
		return 0
	}
	return h.Sum64()
}

// lookPart is how much longer than a look at a file's content takes the next one
// waits, as long as size and time stay the same: a job is looked at with every
// tick, a head of a gigabyte every minute.
const lookPart = 100

// look returns the file's state.
func (f *watchedFile) look() fileState {
	now, begun := fileStateButSum(f.path), time.Now()
	now.sum = f.last.sum
	if now == f.last && begun.Before(f.next) {
		return now
	}
	now.sum = sumOf(f.path)
	f.last, f.next = now, begun.Add(lookPart*time.Since(begun))
	return now
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
		f := &watchedFile{path: path}
		f.seen = f.look()
		w.files = append(w.files, f)
	}
}

// begin takes all files as they are for what the next run sees.
func (w *watchedFiles) begin() {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.whole = false
	for _, f := range w.files {
		f.seen = f.look()
	}
}

// changed returns the files that are no longer as when the run began, each as
// it is now.
func (w *watchedFiles) changed() map[string]fileState {
	w.mu.Lock()
	defer w.mu.Unlock()
	out := map[string]fileState{}
	for _, f := range w.files {
		if now := f.look(); now != f.seen {
			out[f.path] = now
		}
	}
	return out
}
