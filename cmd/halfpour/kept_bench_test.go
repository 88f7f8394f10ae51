package main

import (
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// BenchmarkFirstFigures is what a save of the minnow example takes until first
// figures are there, the job's reading included, and until checked ones are.
func BenchmarkFirstFigures(b *testing.B) {
	ctx, folder := context.Background(), b.TempDir()
	example := filepath.Join("..", "..", "examples", "minnow-tray")
	read := func(name string) string {
		data, err := os.ReadFile(filepath.Join(example, name))
		if err != nil {
			b.Fatal(err)
		}
		return string(data)
	}
	write := func(name, text string) string {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			b.Fatal(err)
		}
		return path
	}
	write("head.stl", read("head.stl"))
	text, term := read("job.toml"), newTerminal(nil, io.Discard, io.Discard, io.Discard)
	begin := func(k *kept, text string) *work {
		w, err := readWork(context.Background(), term, write("job.toml", text))
		if err != nil {
			b.Fatal(err)
		}
		k.lend(w)
		return w
	}
	finish := func(k *kept, w *work) {
		if err := w.open(ctx); err != nil {
			b.Fatal(err)
		}
		k.keep(w)
		if _, err := k.roughly(ctx, w); err != nil {
			b.Fatal(err)
		}
	}
	var k kept
	finish(&k, begin(&k, text))
	for _, c := range []struct{ name, old, new string }{
		{"sprue", "\n[marking]", "\n[sprue]\nmouth = 13\n\n[marking]"},
		{"hook", "\nwire = 1.2", "\nwire = 1.1"},
		{"weight", "3/8 oz", "5/16 oz"},
	} {
		changed := strings.Replace(text, c.old, c.new, 1)
		b.Run("first/"+c.name, func(b *testing.B) {
			for b.Loop() {
				if plan, err := k.sketch(ctx, begin(&k, changed)); err != nil || plan == nil {
					b.Fatal(plan, err)
				}
			}
		})
		b.Run("checked/"+c.name, func(b *testing.B) {
			for b.Loop() {
				anew := k
				finish(&anew, begin(&anew, changed))
			}
		})
	}
}
