package main

import (
	"context"
	"path/filepath"
	"testing"
)

// What someone waits for, from the command line to the files: five minnows of the
// example with everything written and proved, the same for a look, checked alone, and
// the demo.
func BenchmarkBuildMinnows(b *testing.B) { benchmarkCommand(b, "build", minnows) }
func BenchmarkLookAtMinnows(b *testing.B) {
	benchmarkCommand(b, "build", minnows, "--tolerance", "0.2")
}
func BenchmarkCheckMinnows(b *testing.B) { benchmarkCommand(b, "check", minnows) }
func BenchmarkDemo(b *testing.B)         { benchmarkCommand(b, "demo") }

var minnows, _ = filepath.Abs(filepath.Join("..", "..", "examples", "minnow-tray", "job.toml"))

// benchmarkCommand runs a command, each time in an empty folder, which takes what it
// writes.
func benchmarkCommand(b *testing.B, args ...string) {
	b.ReportAllocs()
	for b.Loop() {
		b.Chdir(b.TempDir())
		more := args
		if args[0] == "build" {
			more = append([]string{"build", "--out", "out"}, args[1:]...)
		}
		if code, _, stderr := halfpour(context.Background(), more...); code != 0 {
			b.Fatal(stderr)
		}
	}
}
