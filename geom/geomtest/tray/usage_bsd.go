//go:build darwin || freebsd || netbsd || openbsd

package main

func measureUsage() usage { return rusage() }
