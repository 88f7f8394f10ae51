package main

import (
	"context"
	"fmt"
	"math"
	"runtime"

	"halfpour/cmd/halfpour/live"
	"halfpour/pourplan/making"
)

// checking is what a check takes, in seconds of one processor of no great speed:
// measured on balls of 8,000 to 1.3 million facets and on five minnows.
func (e effort) checking() float64 { return 0.25 + 0.1*float64(e.cavities) + 5.5e-6*float64(e.facets) }

// building is what a build takes, likewise: within a quarter of what was measured
// on a ball of 8,000 and of 140,000 facets and on five minnows of 100,000.
func (e effort) building() float64 {
	return e.checking() + e.measuring() + e.framing() + e.writingAll()
}

// inBrowser is how many times longer the same takes as WebAssembly, on the one
// processor that it has: measured on a ball and on five minnows.
const inBrowser = 3.4

// timeHere says how long something takes on this computer that takes so many
// seconds of one processor; "" for what is done in a moment.
func timeHere(seconds float64) string {
	if runtime.GOOS == "js" {
		seconds *= inBrowser
	} else {
		seconds /= float64(runtime.GOMAXPROCS(0))
	}
	switch {
	case seconds < 3:
		return ""
	case seconds < 10:
		return fmt.Sprintf("about %.0f s here, a rough guess", seconds)
	case seconds < 90:
		return fmt.Sprintf("about %.0f s here, a rough guess", 5*math.Ceil(seconds/5))
	}
	return fmt.Sprintf("about %.0f min here, a rough guess", math.Ceil(seconds/60))
}

// forecast adds up what the job's molds take, in seconds of one processor, and the
// facets of their heads, as far as they can be read.
func (f *jobFile) forecast(ctx context.Context, heads making.Heads, takes func(effort) float64) (seconds float64, facets int) {
	for _, m := range f.job.Molds() {
		e := effort{cavities: len(m.Job.Placed()), tolerance: float64(m.Job.Output.Tolerance)}
		for _, c := range m.Job.Placed() {
			if h, err := heads(ctx, c.Head.File); err == nil {
				e.facets += len(h.Mesh.Triangles)
			}
		}
		seconds += takes(e)
		facets += e.facets
	}
	return seconds, facets
}

// foresee tells how long a check will take, for heads of which it was not told yet.
func (b *watchedBuild) foresee(ctx context.Context, f *jobFile, heads making.Heads) {
	seconds, facets := f.forecast(ctx, heads, effort.checking)
	if text := timeHere(seconds); text != "" && facets != b.foreseen {
		b.server.Tell(live.Busy, fmt.Sprintf("Checking heads of %d facets: %s.", facets, text))
	}
	b.foreseen = facets
}
