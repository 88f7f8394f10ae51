package main

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"halfpour/geom/threemf"
)

func TestPiece(t *testing.T) {
	t.Chdir(t.TempDir())
	if code, _, errs := halfpour(t.Context(), "new", "."); code != 0 {
		t.Fatal(errs)
	}
	code, out, errs := halfpour(t.Context(), "piece", "job.toml")
	if code != 0 || strings.Count(out, "  tile ") != 5 || !strings.Contains(out, "(rough)") {
		t.Fatalf("exit %d: %s%s", code, out, errs)
	}
	data, err := os.ReadFile(pieceName)
	if err != nil {
		t.Fatal(err)
	}
	plate, err := threemf.Read(t.Context(), bytes.NewReader(data), int64(len(data)))
	if err != nil || len(plate.Objects) != 5 {
		t.Fatalf("%d objects, %v", len(plate.Objects), err)
	}
	for _, args := range [][]string{{"--out", "a.stl"}, {"--size", "small"}} {
		if code, _, errs := halfpour(t.Context(), append([]string{"piece", "job.toml"}, args...)...); code != int(exitUsage) {
			t.Errorf("%v: exit %d: %s", args, code, errs)
		}
	}
}
