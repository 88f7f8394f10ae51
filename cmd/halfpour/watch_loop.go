package main

import (
	"context"
	"maps"
	"sync"
	"time"
)

// watchEvery is how often files are looked at.
const watchEvery = 40 * time.Millisecond

// ticking is the tick of follow by a ticker, sooner where there is news.
func ticking(ticks <-chan time.Time, news <-chan struct{}) func(context.Context) bool {
	return func(ctx context.Context) bool {
		select {
		case <-ctx.Done():
			return false
		case <-ticks:
		case <-news:
		}
		return true
	}
}

// follow does a job again after every change of its files, until ctx ends. A
// change stops the run that is on at once; the next begins when the files have
// been left alone from one tick to the next, since a save may take several
// writes; a save that is known to be whole begins it at once. tick waits for the next tick, and is false when ctx has ended.
func follow(ctx context.Context, files *watchedFiles, tick func(context.Context) bool, run func(context.Context)) {
	var running sync.WaitGroup
	stop := func() {}
	start := func() {
		files.begin()
		var once context.Context
		once, stop = context.WithCancel(ctx)
		running.Add(1)
		go func() {
			defer running.Done()
			run(once)
		}()
	}
	defer func() {
		stop()
		running.Wait()
	}()
	start()
	var before map[string]fileState // how changed files were at the last tick
	for tick(ctx) {
		now := files.changed()
		if len(now) == 0 {
			before = nil
			continue
		}
		stop()
		if !files.isWhole() && (before == nil || !maps.Equal(now, before)) {
			before = now
			continue
		}
		before = nil
		running.Wait()
		start()
	}
}
