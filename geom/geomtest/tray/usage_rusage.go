//go:build darwin || freebsd || linux || netbsd || openbsd

package main

import (
	"runtime"
	"syscall"
	"time"
)

// rusage asks the system by getrusage.
func rusage() usage {
	var r syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &r); err != nil {
		return goUsage()
	}
	peak := uint64(r.Maxrss)
	if runtime.GOOS != "darwin" {
		peak <<= 10 // only darwin counts bytes
	}
	return usage{peak: peak, peakIs: "resident memory", busy: time.Duration(r.Utime.Nano() + r.Stime.Nano())}
}
