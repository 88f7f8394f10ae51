package main

import (
	"os"
	"runtime/debug"
)

// memoryGoal is from where on the collector works harder to stay below what a
// mold may take. GOMEMLIMIT in the environment sets another goal.
const memoryGoal = 3 << 30

// saveMemory sets the goal.
func saveMemory() {
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(memoryGoal)
	}
}
