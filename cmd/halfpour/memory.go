package main

import (
	"os"
	"runtime"
	"runtime/debug"
)

// memoryGoal is from where on the collector works harder to stay below what a
// mold may take. GOMEMLIMIT in the environment sets another goal.
const memoryGoal = 3 << 30

// ballast lets the collector wait: it runs when so many percent more is taken than is kept,
// and counts a ballast as kept. Else it would run every few megabytes at first. Nothing is
// ever written to a ballast, so that it takes up no memory itself.
type ballast []byte

// With 40 for the usual 100 a build of five heads takes a quarter less memory and 2 or 3 %
// more time.
const (
	ballastSize = 64 << 20
	gcPercent   = 40
)

// saveMemory sets the goal; in a browser, half of it. It returns a ballast to be kept
// to the end, nil in a browser and where GOMEMLIMIT sets another goal.
func saveMemory() ballast {
	if runtime.GOOS == "js" {
		debug.SetMemoryLimit(memoryGoal / 2)
		return nil
	}
	if os.Getenv("GOMEMLIMIT") != "" {
		return nil
	}
	debug.SetMemoryLimit(memoryGoal)
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(gcPercent)
	}
	return make(ballast, ballastSize)
}
