package main

import (
	"runtime/metrics"
	"time"
)

// usage is what the process took of the machine.
type usage struct {
	peak   uint64        // bytes of memory
	peakIs string        // what the peak counts, as systems differ
	busy   time.Duration // of all processors together; 0 where the system does not tell
}

// goUsage stands in where the system does not tell: what Go holds now, which
// is seldom much below what it ever held.
func goUsage() usage {
	sample := []metrics.Sample{{Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
	metrics.Read(sample)
	return usage{peak: sample[0].Value.Uint64() - sample[1].Value.Uint64(), peakIs: "memory held by Go at the end"}
}
