package main

import (
	"context"
	"io"
	"testing"

	"halfpour/pourplan/making"
)

// openJob reads a job of one mold and its heads and builds the mold's solids.
func openJob(t testing.TB, path string) *making.Mold {
	t.Helper()
	f, err := readJobFile(context.Background(), newTerminal(nil, io.Discard, io.Discard, io.Discard), path)
	if err != nil {
		t.Fatal(err)
	}
	run := making.New(f.job, f.readHead)
	if err := run.Open(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	return run.Molds[0]
}
