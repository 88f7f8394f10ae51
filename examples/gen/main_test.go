package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"halfpour/geom"
	"halfpour/geom/stl"
)

// The committed heads are what gen writes. Only amd64 is held to the last
// bit: other processors fuse multiplications and additions.
func TestHeadsAreCurrent(t *testing.T) {
	for _, f := range headFiles() {
		t.Run(f.path, func(t *testing.T) {
			want, err := f.bytes()
			if err != nil {
				t.Fatal(err)
			}
			got, err := os.ReadFile(filepath.Join("..", filepath.FromSlash(f.path)))
			if err != nil {
				t.Fatal(err)
			}
			if len(got) != len(want) || (runtime.GOARCH == "amd64" && !bytes.Equal(got, want)) {
				t.Errorf("stale; run: go run ./examples/gen")
			}
			m, _, err := stl.Decode(context.Background(), got)
			if err != nil {
				t.Fatal(err)
			}
			for _, fault := range geom.Audit(m) {
				t.Errorf("%v", fault)
			}
		})
	}
}
