package main

import (
	"bytes"
	"fmt"
	"os"
)

// peakMemory returns the most memory that the process ever had resident.
// Unlike getrusage this leaves out what the process that started it had.
func peakMemory() (peak uint64, what string) {
	data, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return goPeak()
	}
	for line := range bytes.Lines(data) {
		var kB uint64
		if n, _ := fmt.Sscanf(string(line), "VmHWM: %d kB", &kB); n == 1 {
			return kB << 10, "resident memory"
		}
	}
	return goPeak()
}
