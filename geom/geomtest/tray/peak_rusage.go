//go:build darwin || freebsd || netbsd || openbsd

package main

import (
	"runtime"
	"syscall"
)

// peakMemory returns the most memory that the process ever had resident.
func peakMemory() (peak uint64, what string) {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return goPeak()
	}
	peak = uint64(u.Maxrss)
	if runtime.GOOS != "darwin" {
		peak <<= 10 // only darwin counts bytes
	}
	return peak, "resident memory"
}
