package main

import (
	"context"
	"encoding/json"
	"math"
	"strings"
	"testing"
)

// A build with weights makes heads larger by what they came out too light, and
// says what it used.
func TestWeighed(t *testing.T) {
	job := loggedJob(t)
	plain := planBeside(t, job, "")
	for _, weights := range []string{"6.92 6.88 6.95", "6.9"} {
		if code, _, stderr := halfpour(context.Background(), "log", job, "--weights", weights); code != 0 {
			t.Fatal(stderr)
		}
		if weights != "6.9" {
			continue
		}
		code, stdout, stderr := halfpour(context.Background(), "check", job, "--weighed")
		want := "halfpour: error: job-castings.csv: the fill factor must have at least 5 weighed heads of lead-antimony 4, got 4: too few to judge the scatter [weights]\n" +
			"halfpour: hint: record more with halfpour log job.toml --weights, or build without --weighed\n"
		if code != 1 || stdout != "" || stderr != want {
			t.Errorf("exit %d, %s%s", code, stdout, stderr)
		}
	}
	if code, _, stderr := halfpour(context.Background(), "log", job, "--weights", "6.91 6.89"); code != 0 {
		t.Fatal(stderr)
	}
	code, stdout, stderr := halfpour(context.Background(), "check", job, "--weighed", "--json")
	var got checkReport
	if err := json.Unmarshal([]byte(stdout), &got); err != nil || code != 0 {
		t.Fatalf("exit %d, %v, %s", code, err, stderr)
	}
	// Six heads of 6.92 6.88 6.95 6.9 6.91 6.89 g, mean 6.90833 g with 0.4928 g
	// of steel, where 7.0874 g were expected: 6.4155/6.5946.
	h, was := got.Plan.Heads[0], plain.Heads[0]
	if f := got.Plan.Metal.FillFactor; math.Abs(f-(6.908333-was.SteelG)/was.MetalG.Best) > 1e-4 {
		t.Errorf("fill factor %g", f)
	}
	if grown := h.MetalMM3 / was.MetalMM3; math.Abs(grown*got.Plan.Metal.FillFactor-1) > 2e-3 || math.Abs(h.FinishedG.Best-was.FinishedG.Best) > 0.01 {
		t.Errorf("metal grew by %g, finished %g g", grown, h.FinishedG.Best)
	}
	_, stdout, _ = halfpour(context.Background(), "check", job, "--weighed")
	if !strings.Contains(stdout, "note    weighed\n          fill factor 0.972") || !strings.Contains(strings.Join(strings.Fields(stdout), " "), "from 6 weighed heads, instead of the job's 1") {
		t.Errorf("got %s", stdout)
	}
	// In another metal nothing is known.
	editJob(t, job, `preset = "lead-antimony 4"`, `preset = "tin"`)
	if code, _, stderr := halfpour(context.Background(), "build", job, "--weighed"); code != 1 || !strings.Contains(stderr, "5 weighed heads of tin, got 0") {
		t.Errorf("exit %d, %s", code, stderr)
	}
}
