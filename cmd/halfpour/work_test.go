package main

import (
	"context"
	"io"
	"testing"
)

// openJob reads a job of one mold and its heads and builds the mold's solids.
func openJob(t testing.TB, path string) *work {
	t.Helper()
	w, err := readWork(context.Background(), newTerminal(nil, io.Discard, io.Discard, io.Discard), path)
	if err == nil {
		err = w.open(context.Background())
	}
	if err != nil {
		t.Fatal(err)
	}
	return w
}
