package main

import (
	"fmt"
	"math"
	"os"
	"runtime/debug"
)

// mostMemory is what a run may take, and memoryGoal from where on the collector
// works harder to stay below it. GOMEMLIMIT in the environment sets another
// goal.
const (
	mostMemory = 4 << 30
	memoryGoal = 3 << 30
)

// saveMemory sets the goal.
func saveMemory() {
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(memoryGoal)
	}
}

// largeMold is from how many facets of its heads on a mold is large.
const largeMold = 1_000_000

// What a build takes at its peak, bytes, as measured on molds of one to sixty
// cavities and of heads of 0.1 to 5 million facets (see .ci/limits).
const (
	memoryBase      = 100 << 20
	memoryPerFacet  = 300      // of each head file,
	memoryPerPlaced = 500      // again for each cavity that it is in,
	memoryPerCavity = 26 << 20 // and for what is not the head: bed, sprue, vents
)

// facets counts those of all cavities.
func (w *work) facets() int {
	sum := 0
	for _, m := range w.cavityHeads() {
		sum += len(m.Triangles)
	}
	return sum
}

// memory foretells what a build takes, bytes.
func (w *work) memory() int {
	read := 0
	for _, h := range w.heads {
		read += len(h.Mesh.Triangles)
	}
	return w.memoryOfRest() + memoryPerFacet*read + memoryPerPlaced*w.facets()
}

// memoryOfRest is what a build takes however coarse its heads are.
func (w *work) memoryOfRest() int {
	return memoryBase + memoryPerCavity*len(w.job.Placed())
}

// fitsMemory refuses a mold that would take too much memory, before it does.
func (w *work) fitsMemory() error {
	need := w.memory()
	if need <= mostMemory {
		return nil
	}
	share := float64(mostMemory-w.memoryOfRest()) / float64(need-w.memoryOfRest())
	largest := 0
	for _, m := range w.cavityHeads() {
		largest = max(largest, len(m.Triangles))
	}
	coarser := math.Floor(share*float64(largest)/1000) * 1000
	return &fault{code: exitMesh, problems: []problem{{
		Message: fmt.Sprintf("%s: the heads of all cavities have %d facets together: their frames would take about %.1f GB of memory, at most %.1f GB are taken",
			w.label(), w.facets(), float64(need)/1e9, float64(mostMemory)/1e9),
		File: w.path, Rule: "too-many-facets",
		Hints: []string{fmt.Sprintf("export the head coarser, with %.0f facets or fewer, or take fewer cavities", coarser)},
	}}}
}
