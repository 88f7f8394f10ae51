package main

import (
	"encoding/json"
	"flag"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// One benchmark for each mark that the kernel is held to, each over all stages
// from the head's file on. .ci/compare runs the same work as mesh booleans.

var million = flag.Bool("million", false, "run the benchmarks with heads of a million facets too")

const millionFacets = 1_000_000

// BenchmarkWall100k is from reading the head to the tray written.
func BenchmarkWall100k(b *testing.B) { benchmarkWall(b, 100_000) }

func BenchmarkWall1M(b *testing.B) {
	needMillion(b)
	benchmarkWall(b, millionFacets)
}

func benchmarkWall(b *testing.B, facets int) {
	head, _ := headFile(b, facets)
	out := filepath.Join(b.TempDir(), "tray.stl")
	b.Run("tray", func(b *testing.B) {
		for b.Loop() {
			runJSON(b, "--mesh", head, out)
		}
	})
	b.Run("tray-and-rubber", func(b *testing.B) {
		for b.Loop() {
			runJSON(b, head, out)
		}
	})
}

// BenchmarkRubber100k is from reading the head to the rubber's volume within
// 1e-4, with the tree over the head's facets.
func BenchmarkRubber100k(b *testing.B) {
	head, _ := headFile(b, 100_000)
	var r report
	for b.Loop() {
		r = runJSON(b, "--rubber", head)
	}
	b.ReportMetric((r.Rubber.High-r.Rubber.Low)/2/r.Rubber.Best*1e6, "ppm-bracket")
}

// BenchmarkPeakMemory1M measures a process of its own.
func BenchmarkPeakMemory1M(b *testing.B) {
	needMillion(b)
	head, _ := headFile(b, millionFacets)
	out := filepath.Join(b.TempDir(), "tray.stl")
	peak := 0.0
	for b.Loop() {
		cmd := exec.Command(os.Args[0], "--json", head, out)
		cmd.Env = append(os.Environ(), playVariable+"=1")
		data, err := cmd.Output()
		if err != nil {
			b.Fatal(err)
		}
		var r report
		if err := json.Unmarshal(data, &r); err != nil {
			b.Fatal(err)
		}
		peak = math.Max(peak, float64(r.PeakBytes)/1e6)
	}
	b.ReportMetric(peak, "MB-peak")
}

// BenchmarkTriangles100k counts the triangles of a tray at 0.02 mm.
func BenchmarkTriangles100k(b *testing.B) {
	head, _ := headFile(b, 100_000)
	out := filepath.Join(b.TempDir(), "tray.stl")
	triangles := 0
	for b.Loop() {
		triangles = runJSON(b, "--mesh", "--tolerance", "0.02", head, out).Triangles
	}
	b.ReportMetric(float64(triangles), "triangles")
}

// BenchmarkAgreement100k holds the rubber's volume, integrated and as the mesh
// has it, against closed forms with the head's facets taken as they are.
func BenchmarkAgreement100k(b *testing.B) {
	head, mesh := headFile(b, 100_000)
	out := filepath.Join(b.TempDir(), "tray.stl")
	trayVolume, rubber := exactVolumes(mesh)
	var r report
	for b.Loop() {
		r = runJSON(b, head, out)
	}
	if r.Rubber.Low > rubber || r.Rubber.High < rubber {
		b.Errorf("rubber %+v, in closed form %.4f", *r.Rubber, rubber)
	}
	made, err := readHead(out)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(math.Abs(r.Rubber.Best-rubber)/rubber*1e6, "ppm-rubber-off")
	b.ReportMetric(math.Abs(made.Volume()-trayVolume)/trayVolume*1e6, "ppm-tray-off")
}

func needMillion(b *testing.B) {
	if !*million {
		b.Skip("takes gigabytes of work; run with -million")
	}
}
