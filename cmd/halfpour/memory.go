package main

import (
	"os"
	"runtime"
	"runtime/debug"
)

// memoryGoal is from where on the collector works harder to stay below what a
// mold may take. GOMEMLIMIT in the environment sets another goal.
const memoryGoal = 3 << 30

// saveMemory sets the goal; in a browser, half of it.
func saveMemory() {
	if runtime.GOOS == "js" {
		debug.SetMemoryLimit(memoryGoal / 2)
		return
	}
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(memoryGoal)
	}
}
