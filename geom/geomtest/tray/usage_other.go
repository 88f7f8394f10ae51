//go:build !(darwin || freebsd || linux || netbsd || openbsd)

package main

func measureUsage() usage { return goUsage() }
