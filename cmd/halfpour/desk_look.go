package main

import (
	"context"
	"fmt"
	"time"

	"halfpour/pourplan/making"
)

// lookTolerance is that of models for a look, mm.
const lookTolerance = 0.2

// showLook makes the checked molds as coarse as will do for a look, and shows
// them. It writes nothing.
func (b *watchedBuild) showLook(ctx context.Context, f *jobFile, run *making.Run, since time.Time) error {
	if err := run.Make(ctx, making.Options{Tolerance: lookTolerance, Anyway: true}); err != nil {
		return f.fault(err)
	}
	now := time.Now().Format(time.TimeOnly)
	return b.showModels(ctx, f.products(run, b.opt), now, fmt.Sprintf("A coarse model of %s, after %.1f s. Build writes the files.", now, time.Since(since).Seconds()))
}
