//go:build !(darwin || freebsd || linux || netbsd || openbsd)

package main

func peakMemory() (peak uint64, what string) { return goPeak() }
