package main

import (
	"context"
	"fmt"
	"time"

	"halfpour/cmd/halfpour/live"
	"halfpour/moldbox"
	"halfpour/pourplan"
	"halfpour/pourplan/making"
)

// firstFigures tells what sketches of the molds come to, before those are made
// and checked. What cannot be sketched, and what is wrong with the job, is left
// for the build to tell.
func (b *watchedBuild) firstFigures(ctx context.Context, run *making.Run, since time.Time) error {
	plans := map[string]*pourplan.Plan{}
	var list []string
	for _, m := range run.Molds {
		plan, err := m.Sketch(ctx)
		if err != nil || plan == nil {
			continue
		}
		plans[m.Folder] = plan
		list = append(list, figuresInBrief(m.Name, plan))
	}
	if len(list) == 0 || ctx.Err() != nil {
		return ctx.Err()
	}
	b.pages.takeFirst(plans)
	b.server.Tell(live.Figures, "")
	what := fmt.Sprintf("first figures, to about %.0f %%", moldbox.SketchOff*100)
	b.server.Tell(live.Busy, "These are "+what+"; checking.")
	b.sayFigures(what+",", list, since)
	return nil
}
