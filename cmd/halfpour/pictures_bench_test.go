package main

import (
	"context"
	"io"
	"path/filepath"
	"testing"
)

// BenchmarkPictures draws the pictures of the minnow example, each by itself,
// as a build does from its meshes.
func BenchmarkPictures(b *testing.B) {
	ctx := context.Background()
	w := openJob(b, filepath.Join("..", "..", "examples", "minnow-tray", "job.toml"))
	part := func(float64) func(string, float64) { return func(string, float64) {} }
	p, err := makeProduct(ctx, part, w, b.TempDir(), buildOptions{})
	if err != nil {
		b.Fatal(err)
	}
	for _, f := range outputs {
		if filepath.Ext(f.name) != ".png" {
			continue
		}
		b.Run(f.name, func(b *testing.B) {
			for b.Loop() {
				if err := f.write(p, ctx, io.Discard); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
