package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// logged runs log with options, which must end with a code and say something.
func logged(t *testing.T, job string, args []string, code int, want string) {
	t.Helper()
	got, stdout, stderr := halfpour(context.Background(), append([]string{"log", job}, args...)...)
	if got != code || !strings.Contains(stdout+stderr, want) {
		t.Errorf("log %q: exit %d, want %d with %q\n%s%s", args, got, code, want, stdout, stderr)
	}
}

// What is taken back no longer counts, line by line from the last, and stays in
// the file.
func TestLogUndo(t *testing.T) {
	job := loggedJob(t)
	logged(t, job, []string{"--undo"}, 3, "job-castings.csv has no casting of mold 1 to take back")
	logged(t, job, []string{"--shots", "4", "--good", "19"}, 0, "4 of 20 to 25 shots")
	logged(t, job, []string{"--weights", "7.05 7.12"}, 0, "2 heads: mean")
	logged(t, job, []string{"--undo", "--shots", "4"}, 3, "--undo goes without --shots")
	logged(t, job, []string{"--undo", "--note", "wrong\nmold", "--date", "2026-02-03"}, 0, "taken back in job-castings.csv: 2026-02-03, 2 weights")
	logged(t, job, []string{"--undo"}, 0, "0 of 20 to 25 shots")
	logged(t, job, []string{"--undo"}, 3, "no casting of mold 1 to take back")
	data, err := os.ReadFile("job-castings.csv")
	if err != nil || strings.Count(string(data), "\r\n") != 5 || !strings.Contains(string(data), ",-4,-19,-1,") || !strings.Contains(string(data), "wrong mold") {
		t.Errorf("%v\n%s", err, data)
	}
}

// The same list of weights is most likely the same heads.
func TestLogOfTheSameWeights(t *testing.T) {
	job := loggedJob(t)
	logged(t, job, []string{"--weights", "7.05 7.12", "--date", "2026-02-01"}, 0, "2 heads: mean")
	logged(t, job, []string{"--weights", "7.05 7.12"}, 3, "the same 2 weights are in the account already, of 2026-02-01")
	logged(t, job, []string{"--weights", "7.05 7.12", "--again"}, 0, "4 heads: mean")
	logged(t, job, []string{"--weights", "7.05"}, 0, "5 heads: mean")
	logged(t, job, []string{"--weights", "7.05"}, 0, "6 heads: mean")
}

// A line that cannot be read may be of another mold: that is asked, not guessed.
func TestLogAsksAfterAnUnreadLine(t *testing.T) {
	job := loggedJob(t)
	logged(t, job, []string{"--shots", "2", "--good", "9", "--mold", "1"}, 0, "mold 1")
	logged(t, job, []string{"--shots", "2", "--good", "9", "--mold", "2", "--date", "2026-02-01"}, 0, "mold 2")
	data, err := os.ReadFile("job-castings.csv")
	if err != nil {
		t.Fatal(err)
	}
	changed := strings.Replace(string(data), "2026-02-01", "1.2.26", 1) // as a spreadsheet saves it
	if err := os.WriteFile("job-castings.csv", []byte(changed), 0o600); err != nil {
		t.Fatal(err)
	}
	logged(t, job, []string{"--shots", "1", "--good", "5"}, 1, `line 3: date must be a day such as 2026-01-31, got "1.2.26"; not counted: which mold is this casting from?`)
	if now, _ := os.ReadFile("job-castings.csv"); string(now) != changed {
		t.Errorf("recorded all the same:\n%s", now)
	}
	logged(t, job, []string{"--shots", "1", "--good", "5", "--mold", "2"}, 0, "mold 2: 1 shot")
}

// ball.toml with a size small, and ball-small.toml, would share an account.
func TestLogOfAnAccountOfTwoJobs(t *testing.T) {
	job := writeSizes(t, twoSizes)
	planBeside(t, job, "Trial")
	data, err := os.ReadFile(job)
	if err != nil {
		t.Fatal(err)
	}
	other := filepath.Join(filepath.Dir(job), "job-trial.toml")
	single, _, _ := strings.Cut(string(data), "[[size]]")
	if err := os.WriteFile(other, []byte(single), 0o600); err != nil {
		t.Fatal(err)
	}
	logged(t, job, []string{"--size", "Trial"}, 4, "job-trial.toml keeps its castings in this file too")
	logged(t, job, []string{"--size", "1/4 oz"}, 0, "mold 1")
	logged(t, other, nil, 4, `job.toml, size "Trial", keeps its castings in this file too`)
}
