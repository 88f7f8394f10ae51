package main

import (
	"context"
	"io"
	"path/filepath"
	"testing"

	"halfpour/pourplan/making"
)

// BenchmarkPictures draws the pictures of the minnow example, each by itself,
// as a build does from its meshes.
func BenchmarkPictures(b *testing.B) {
	ctx := context.Background()
	f, err := readJobFile(ctx, newTerminal(nil, io.Discard, io.Discard, io.Discard), filepath.Join("..", "..", "examples", "minnow-tray", "job.toml"))
	if err != nil {
		b.Fatal(err)
	}
	run := making.New(f.job, f.readHead)
	if err := run.Make(ctx, making.Options{}); err != nil {
		b.Fatal(err)
	}
	p := f.products(run, buildOptions{})[0]
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
