package main

import (
	"context"
	"errors"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"halfpour/moldbox/head"
)

// What was measured: processor seconds of this program on the 2-core AMD EPYC of
// DEVELOPERS.md, 2026-11-29. A forecast is rough: within half of it.
func TestForecast(t *testing.T) {
	for _, c := range []struct {
		what         string
		e            effort
		check, build float64
	}{
		{"a ball", effort{1, 8_196, 0.02}, 0.42, 7.2},
		{"a fine ball", effort{1, 141_092, 0.02}, 1.35, 10.4},
		{"a very fine ball", effort{1, 1_271_748, 0.02}, 6.9, 0},
		{"five minnows", effort{5, 500_000, 0.02}, 0, 27.7}, // heads of one file are read once
	} {
		for name, pair := range map[string][2]float64{"check": {c.e.checking(), c.check}, "build": {c.e.building(), c.build}} {
			if told, took := pair[0], pair[1]; took > 0 && math.Abs(told-took) > took/2 {
				t.Errorf("%s: the %s was to take %.1f s, and took %.1f s", c.what, name, told, took)
			}
		}
	}
}

// Heads that cannot be read count for nothing: the run says what is wrong.
func TestForecastOfAJob(t *testing.T) {
	ctx, dir := context.Background(), t.TempDir()
	if err := writeStarter(ctx, dir, false); err != nil {
		t.Fatal(err)
	}
	f, err := readJobFile(ctx, &terminal{quiet: true}, filepath.Join(dir, starterJob))
	if err != nil {
		t.Fatal(err)
	}
	seconds, facets := f.forecast(ctx, f.readHead, effort.checking)
	if facets < 8000 || facets > 9000 || seconds < 0.3 || seconds > 0.6 {
		t.Errorf("%d facets, %g s", facets, seconds)
	}
	none := func(context.Context, string) (*head.Head, error) { return nil, errors.New("gone") }
	if _, facets := f.forecast(ctx, none, effort.checking); facets != 0 {
		t.Errorf("%d facets of a head that is gone", facets)
	}
}

func TestTimeHere(t *testing.T) {
	if got := timeHere(0.1); got != "" {
		t.Errorf("a moment: %q", got)
	}
	for _, seconds := range []float64{300, 3000} {
		if got := timeHere(seconds); !strings.HasPrefix(got, "about ") || !strings.HasSuffix(got, " here, a rough guess") {
			t.Errorf("%g s: %q", seconds, got)
		}
	}
}
