package main

import (
	"context"
	"os"
	"strings"
	"testing"
)

// A command that is given in the job's folder without the job asks whether that
// one is meant; with two jobs it does not guess.
func TestJobHereIsSuggested(t *testing.T) {
	t.Chdir(t.TempDir())
	said := func(args string) string {
		code, _, stderr := halfpour(context.Background(), strings.Fields(args)...)
		if code != 3 {
			t.Errorf("%s: exit %d", args, code)
		}
		return stderr
	}
	const guess = "did you mean: halfpour check ball.toml?"
	if got := said("check"); strings.Contains(got, "did you mean") {
		t.Errorf("without a job: %s", got)
	}
	for _, step := range []struct {
		job  string
		want bool
	}{{"ball.toml", true}, {"minnow.toml", false}} {
		if err := os.WriteFile(step.job, nil, 0o644); err != nil {
			t.Fatal(err)
		}
		if got := said("check"); strings.Contains(got, guess) != step.want {
			t.Errorf("with %s: %s", step.job, got)
		}
	}
	if got := said("log ball.toml --weights 10.5 10.6"); !strings.Contains(got, "put quotes around a value with spaces") {
		t.Errorf("weights without quotes: %s", got)
	}
	if got := said("explain section"); !strings.Contains(got, "explain section-") {
		t.Errorf("the beginning of a code: %s", got)
	}
}
