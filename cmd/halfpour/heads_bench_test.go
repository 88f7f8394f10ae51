package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"halfpour/examples/heads"
	"halfpour/geom"
	"halfpour/geom/geomtest"
	"halfpour/geom/stl"
)

// A mesh of 180 facets that cuts through itself.
func BenchmarkCheckCrossedHead(b *testing.B) {
	job := strings.Join([]string{`title = "Crossed"`, "cavities = 3", "turn = -90",
		"[head]", `file = "head.stl"`, "eye = [0, 9, 0]", `nose = "-x"`, `back = "+y"`,
		"[hook]", `name = "demo"`, "wire = 1.1", "eye_inside = 2.0", "leg = 8.95", "shank = 26", "gape = 10", "point = 8",
		"[metal]", `preset = "bismuth-tin 58-42"`, "[rubber]", `preset = "tin-cure 100:3"`}, "\n")
	benchmarkCommand(b, "check", jobOf(b, job, geomtest.FigureEight(8, 2, 9)))
}

// Heads as they are downloaded and scanned, 25 mm long.
func BenchmarkCheckHeads(b *testing.B) { benchmarkHeads(b, "check") }
func BenchmarkBuildHeads(b *testing.B) { benchmarkHeads(b, "build") }

func benchmarkHeads(b *testing.B, command string) {
	for _, facets := range []int{5_000, 30_000, 100_000} {
		b.Run(fmt.Sprint(facets), func(b *testing.B) {
			benchmarkCommand(b, command, jobOf(b, minnowsWith(b), heads.Minnow(facets)))
		})
	}
}

func BenchmarkCheckAutoTurn(b *testing.B) {
	benchmarkCommand(b, "check", jobOf(b, minnowsWith(b, "turn = -90 ", `turn = "auto" `), heads.Minnow(30_000)))
}

func BenchmarkCheckLeastLayout(b *testing.B) {
	benchmarkCommand(b, "check", jobOf(b, minnowsWith(b)+"\n[layout]\nleast = true\n", heads.Minnow(30_000)))
}

// minnowsWith is the example's job with some of its text replaced.
func minnowsWith(b *testing.B, change ...string) string {
	b.Helper()
	text, err := os.ReadFile(minnows)
	if err != nil {
		b.Fatal(err)
	}
	job := strings.NewReplacer(change...).Replace(string(text))
	if len(change) > 0 && job == string(text) {
		b.Fatalf("the example has no %q", change[0])
	}
	return job
}

// jobOf writes a job beside its head and returns its path.
func jobOf(b *testing.B, job string, head *geom.TriMesh) string {
	b.Helper()
	folder := b.TempDir()
	f, err := os.Create(filepath.Join(folder, "head.stl"))
	if err != nil {
		b.Fatal(err)
	}
	defer f.Close()
	if err := stl.Write(f, head, "head"); err != nil {
		b.Fatal(err)
	}
	path := filepath.Join(folder, "job.toml")
	if err := os.WriteFile(path, []byte(job), 0o644); err != nil {
		b.Fatal(err)
	}
	return path
}
