package main

import (
	"os"
	"runtime"
	"runtime/debug"
)

// memoryGoal is from where on the collector works harder to stay below what a
// mold may take. GOMEMLIMIT in the environment sets another goal.
const memoryGoal = 3 << 30

// ballast lets the collector wait: it runs when as much again is taken as is kept,
// and counts a ballast as kept. Else it would run every few megabytes at first. Nothing is
// ever written to a ballast, so that it takes up no memory itself.
type ballast []byte

const ballastSize = 32 << 20

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
	return make(ballast, ballastSize)
}
