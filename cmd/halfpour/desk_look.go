package main

import (
	"context"
	"fmt"
	"time"

	"halfpour/cmd/halfpour/live"
	"halfpour/pourplan/making"
)

// showLook makes the checked molds as coarse as will do for a look, and shows
// them, then their drawings. It writes nothing.
func (b *watchedBuild) showLook(ctx context.Context, f *jobFile, run *making.Run, since time.Time) error {
	if err := run.Look(ctx); err != nil {
		return f.fault(err)
	}
	now, products := time.Now().Format(time.TimeOnly), f.products(run, b.opt)
	if err := b.showModels(ctx, products, now, fmt.Sprintf("A coarse model of %s, after %.1f s. Build writes the files.", now, time.Since(since).Seconds())); err != nil {
		return err
	}
	if err := run.Draw(ctx); err != nil {
		return f.fault(err)
	}
	b.pages.takeModels(products, now)
	b.server.Tell(live.Figures, "")
	return nil
}
