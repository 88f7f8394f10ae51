package main

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// watching is a loop over files of a folder, whose clock the test holds.
type watching struct {
	t     *testing.T
	files *watchedFiles
	ticks chan struct{}
	idle  chan struct{} // the loop has done with the last tick
	runs  chan context.Context
	free  chan struct{} // lets a run end by itself
	ended chan struct{}
	stop  context.CancelFunc
	done  chan struct{}
}

func watch(t *testing.T, paths ...string) *watching {
	w := &watching{t: t, files: &watchedFiles{}, ticks: make(chan struct{}), idle: make(chan struct{}), runs: make(chan context.Context),
		free: make(chan struct{}), ended: make(chan struct{}), done: make(chan struct{})}
	w.files.add(paths...)
	defer func() { take(t, "start of the loop", w.idle) }()
	ctx, cancel := context.WithCancel(context.Background())
	w.stop = cancel
	go func() {
		defer close(w.done)
		follow(ctx, w.files, w.next, func(ctx context.Context) {
			w.runs <- ctx
			select {
			case <-ctx.Done():
			case <-w.free:
			}
			w.ended <- struct{}{}
		})
	}()
	return w
}

// A save that is known to be whole is taken at the first tick, any other when it has
// stayed for one.
func TestFollowAWholeSave(t *testing.T) {
	job := filepath.Join(t.TempDir(), "job.toml")
	save(t, job, "1")
	w := watch(t, job)
	take(t, "first run", w.runs)
	w.free <- struct{}{}
	take(t, "end of the first run", w.ended)
	save(t, job, "22")
	w.files.wroteWhole()
	w.tick()
	take(t, "second run", w.runs)
	w.free <- struct{}{}
	take(t, "end of the second run", w.ended)
	save(t, job, "333")
	w.tick()
	select {
	case <-w.runs:
		t.Error("a save that may go on is taken at once")
	default:
	}
	w.tick()
	take(t, "third run", w.runs)
	w.stop()
	take(t, "end of the third run", w.ended)
	take(t, "end of the loop", w.done)
}

// A save of the desk's own does not wait for the clock.
func TestAWholeSaveNeedsNoTick(t *testing.T) {
	files := &watchedFiles{}
	tick := ticking(nil, files.written())
	files.wroteWhole()
	files.wroteWhole() // which is told once
	if !tick(context.Background()) {
		t.Error("the loop ends")
	}
	if tick(cancelled()) {
		t.Error("the loop goes on without news")
	}
}

func cancelled() context.Context {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	return ctx
}

// next waits for a tick; that the loop asks for it says that it has done with
// the last one.
func (w *watching) next(ctx context.Context) bool {
	select {
	case w.idle <- struct{}{}:
	case <-ctx.Done():
		return false
	}
	select {
	case <-w.ticks:
		return true
	case <-ctx.Done():
		return false
	}
}

// tick lets the loop look at the files once.
func (w *watching) tick() {
	w.t.Helper()
	w.ticks <- struct{}{}
	take(w.t, "end of a tick", w.idle)
}

func take[T any](t *testing.T, what string, c <-chan T) T {
	t.Helper()
	select {
	case v := <-c:
		return v
	case <-time.After(30 * time.Second):
		t.Fatal("no " + what)
		panic("not reached")
	}
}

func save(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestFollow(t *testing.T) {
	folder := t.TempDir()
	job, head := filepath.Join(folder, "job.toml"), filepath.Join(folder, "head.stl")
	save(t, job, "1")
	save(t, head, "one")
	w := watch(t, job)
	first := take(t, "first run", w.runs)
	w.files.add(head) // as a run does that has read the job
	w.tick()
	w.tick()
	if first.Err() != nil {
		t.Error("a run is stopped although nothing has changed")
	}

	// A save stops the run at once, and the next begins when it is over.
	save(t, job, "22")
	w.tick()
	take(t, "end of the overtaken run", w.ended)
	if first.Err() == nil {
		t.Error("the overtaken run was not told to stop")
	}
	save(t, job, "333") // still saving
	w.tick()
	w.tick()
	second := take(t, "second run", w.runs)
	w.free <- struct{}{}
	take(t, "end of the second run", w.ended)
	w.tick()
	w.tick()

	// By another name put in its place.
	save(t, job+".new", "4444")
	if err := os.Rename(job+".new", job); err != nil {
		t.Fatal(err)
	}
	w.tick()
	w.tick()
	third := take(t, "third run", w.runs)

	// The head counts from when it was read, and so does its going away.
	if err := os.Remove(head); err != nil {
		t.Fatal(err)
	}
	w.tick()
	take(t, "end of the third run", w.ended)
	w.tick()
	fourth := take(t, "fourth run", w.runs)
	if second.Err() == nil || third.Err() == nil || fourth.Err() != nil {
		t.Errorf("runs ended with %v, %v, %v", second.Err(), third.Err(), fourth.Err())
	}
	w.stop()
	take(t, "end of the fourth run", w.ended)
	take(t, "end of the loop", w.done)
}

// A save that leaves size and time as they were is seen by the content.
func TestChangeOfTheSameSizeAndTime(t *testing.T) {
	job := filepath.Join(t.TempDir(), "job.toml")
	save(t, job, "target = 7")
	info, err := os.Stat(job)
	if err != nil {
		t.Fatal(err)
	}
	var files watchedFiles
	files.add(job)
	files.begin()
	save(t, job, "target = 9")
	if err := os.Chtimes(job, info.ModTime(), info.ModTime()); err != nil {
		t.Fatal(err)
	}
	for begun := time.Now(); len(files.changed()) == 0; {
		if time.Since(begun) > 10*time.Second {
			t.Fatal("the change is not seen")
		}
	}
	files.begin()
	if got := files.changed(); len(got) > 0 {
		t.Errorf("changed again: %v", got)
	}
}
