package main

import (
	"context"
	"sync"

	"halfpour/cmd/halfpour/live"
	"halfpour/pourplan/making"
)

// deskWatch watches the job that is open on the desk. It is safe for concurrent
// use.
type deskWatch struct {
	t      *terminal
	server *live.Server
	lying  *deskLying

	mu   sync.Mutex
	on   *watchedBuild // nil while no job is open
	next chan struct{} // closed when another job is opened
}

// open watches another job from now on.
func (w *deskWatch) open(path string) {
	b := newWatch(w.t, path, buildOptions{})
	b.server, b.finish, b.looks = w.server, b.showLook, true
	b.lies, b.idle = w.lying.take, w.lying.propose
	w.lying.clear()
	b.begun = func() { w.server.Tell(live.Form, "") }
	w.mu.Lock()
	defer w.mu.Unlock()
	w.on = b
	close(w.next)
	w.next = make(chan struct{})
}

// wrote says that the desk itself has changed the job.
func (w *deskWatch) wrote() {
	if b, _ := w.current(); b != nil {
		b.files.wroteWhole()
	}
}

func (w *deskWatch) current() (*watchedBuild, <-chan struct{}) {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.on, w.next
}

// follow follows one job after the other until ctx ends.
func (w *deskWatch) follow(ctx context.Context) {
	for ctx.Err() == nil {
		b, next := w.current()
		once, stop := context.WithCancel(ctx)
		go func() {
			select {
			case <-next:
			case <-once.Done():
			}
			stop()
		}()
		if b == nil {
			<-once.Done()
		} else {
			// What was said of the job before it does not hold for this one.
			w.server.Tell(live.Trouble, `""`)
			w.server.Tell(live.Built, `""`)
			w.server.Tell(live.Figures, "")
			w.server.Tell(live.Model, "")
			b.follow(once)
		}
		stop()
	}
}

// heads reads those of a job, of which the one that is watched keeps its own.
func (w *deskWatch) heads(f *jobFile) making.Heads {
	if b, _ := w.current(); b != nil {
		return b.heads.of(f)
	}
	return f.readHead
}

// pages are those of the job that is open.
func (w *deskWatch) pages() *watchedPages {
	if b, _ := w.current(); b != nil {
		return &b.pages
	}
	return &watchedPages{}
}

func (w *deskWatch) changed(seen int, which string) ([]byte, error) {
	return w.pages().changed(seen, which)
}

func (w *deskWatch) changedFigures(seen int, which string) ([]byte, error) {
	return w.pages().changedFigures(seen, which)
}
