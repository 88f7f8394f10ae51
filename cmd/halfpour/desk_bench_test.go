//go:build unix

package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"halfpour/cmd/halfpour/live"
	"halfpour/pourplan/making"
)

// benchedDesk is a desk with the minnow example, five cavities of a head of 100,000
// facets, once it has shown all of it. change writes the job anew, by turns one
// with another weight and the first.
func benchedDesk(b *testing.B) (w *watchedBuild, lying *deskLying, change func()) {
	b.Helper()
	dir := b.TempDir()
	path := filepath.Join(dir, "job.toml")
	text := copyJob(b, "minnow-tray", dir)
	s, err := live.Listen(map[string]live.Document{})
	if err != nil {
		b.Fatal(err)
	}
	lying = &deskLying{job: &deskJob{path: path, folder: deskFolder{dir}}, server: s}
	watch := &deskWatch{t: &terminal{quiet: true}, server: s, lying: lying, next: make(chan struct{})}
	watch.open(path)
	w = watch.on
	if err := w.build(context.Background(), time.Now()); err != nil {
		b.Fatal(err)
	}
	texts := []string{strings.Replace(text, "3/8 oz", "5/16 oz", 1), text}
	turn := 0
	return w, lying, func() {
		if err := os.WriteFile(path, []byte(texts[turn%2]), 0o666); err != nil {
			b.Fatal(err)
		}
		turn++
	}
}

func copyJob(b *testing.B, example, dir string) (text string) {
	for _, name := range []string{"head.stl", "job.toml"} {
		data, err := os.ReadFile(filepath.Join("..", "..", "examples", example, name))
		if err != nil {
			b.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o666); err != nil {
			b.Fatal(err)
		}
		text = string(data)
	}
	return text
}

// processorTime is what this process has used so far, in seconds.
func processorTime(b *testing.B) float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
}

// benchDesk times what is done after a change until a stage is on the page, by the
// clock and, as cpu-s/op, of processors: on a busy machine that says more.
func benchDesk(b *testing.B, until func(w *watchedBuild) error) {
	w, _, change := benchedDesk(b)
	used := 0.0
	for b.Loop() {
		b.StopTimer()
		change()
		b.StartTimer()
		from := processorTime(b)
		if err := until(w); err != nil {
			b.Fatal(err)
		}
		used += processorTime(b) - from
	}
	b.ReportMetric(used/float64(b.N), "cpu-s/op")
}

// First figures, to be there within 0.1 s on two processors.
func BenchmarkDeskFirstFigures(b *testing.B) {
	benchDesk(b, func(w *watchedBuild) error {
		ctx := context.Background()
		f, err := readJobFile(ctx, w.t, w.path)
		if err != nil {
			return err
		}
		run := making.New(f.job, w.heads.of(f))
		run.Reuse(w.last)
		if err := w.firstFigures(ctx, run, time.Now()); err != nil {
			return err
		}
		_, err = w.pages.changedFigures(0, "")
		return err
	})
}

// Checked figures, to be there within 1 s.
func BenchmarkDeskCheckedFigures(b *testing.B) {
	benchDesk(b, func(w *watchedBuild) error {
		w.finish = func(context.Context, *jobFile, *making.Run, time.Time) error {
			_, err := w.pages.changedFigures(0, "")
			return err
		}
		return w.build(context.Background(), time.Now())
	})
}

// The coarse mold, to be there within 2 s.
func BenchmarkDeskCoarseMold(b *testing.B) {
	benchDesk(b, func(w *watchedBuild) error {
		if err := w.build(context.Background(), time.Now()); err != nil {
			return err
		}
		_, err := w.pages.changed(0, "")
		return err
	})
}
