package main

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"halfpour/pourplan"
)

// builtJob is a job that is built, in the current folder.
func builtJob(t *testing.T) string {
	t.Helper()
	job := writeJob(t)
	t.Chdir(filepath.Dir(job))
	editJob(t, "job.toml", "price = 28", "price = 29") // no sum lies between two cents
	if code, _, stderr := halfpour(context.Background(), "build", "job.toml", "--tolerance", "0.15"); code != 0 {
		t.Fatal(stderr)
	}
	return "job.toml"
}

// A job that has not changed compares as the same with its own build, whose
// rubber was measured as well; a wider sprue shows in rubber, metal and cost.
func TestCompareWithTheLastBuild(t *testing.T) {
	job := builtJob(t)
	code, stdout, stderr := halfpour(context.Background(), "compare", job)
	if code != 0 || strings.Count(stdout, "\n") != 3 || !strings.HasSuffix(stdout, " figures are the same\n") {
		t.Errorf("unchanged: exit %d, %s%s", code, stdout, stderr)
	}
	if err := os.WriteFile("old.toml", []byte(readText(t, job)), 0o644); err != nil {
		t.Fatal(err)
	}
	editJob(t, job, "# mouth = 12 ", "mouth = 16 ") // no half lies between two tenths of a gram
	before := tree(t, ".")
	for _, args := range [][]string{{"job-out", job}, {"old.toml", job}} {
		code, stdout, stderr := halfpour(context.Background(), append([]string{"compare"}, args...)...)
		for _, want := range []string{"to   job.toml\n", "  rubber     volume, both halves ", "  each half  volume ", "sprues, gates, vents", "each head  its sprue, gate, vents"} {
			if !strings.Contains(stdout, want) {
				t.Errorf("%v: no %q in\n%s", args, want, stdout)
			}
		}
		if code != 0 || stderr != "" || strings.Contains(stdout, "finished") {
			t.Errorf("%v: exit %d, %s%s", args, code, stdout, stderr)
		}
	}
	sameTree(t, ".", before)
	if code, stdout, _ := halfpour(context.Background(), "compare", "job-out", "job-out/plan.json"); code != 0 || strings.Count(stdout, "\n") != 3 {
		t.Errorf("a plan with itself: exit %d, %s", code, stdout)
	}
	_, stdout, _ = halfpour(context.Background(), "compare", job, "--json")
	var r compareReport
	if err := json.Unmarshal([]byte(stdout), &r); err != nil || r.Schema != 1 || len(r.Figures) < 20 || r.New != job || r.Figures[0].Change == nil {
		t.Errorf("%v, %s", err, stdout)
	}
}

// A build that is coarser is for a look: its plan, its sheet and a comparison say so, it
// has no computed shot, and the job compares as the same with it.
func TestLook(t *testing.T) {
	job := writeJob(t)
	t.Chdir(filepath.Dir(job))
	editJob(t, "job.toml", "price = 28", "price = 29") // no sum lies between two cents
	code, stdout, stderr := halfpour(context.Background(), "build", "job.toml", "--tolerance", testTolerance)
	if code != 0 || !strings.Contains(stdout, "warn    for-a-look") || !strings.Contains(stdout, "measured to 0.05 %") || !strings.Contains(stdout, "rough: open after ") {
		t.Fatalf("exit %d, %s%s", code, stdout, stderr)
	}
	plan, err := pourplan.ReadPlan([]byte(readText(t, "job-out/plan.json")))
	if err != nil || !plan.ForLook() || plan.Casting.Shot != nil {
		t.Fatalf("plan: %v, for a look %v, shot %v", err, plan.ForLook(), plan.Casting.Shot)
	}
	if !slices.ContainsFunc(plan.AtBench(), func(g pourplan.FindingGroup) bool { return g.Code == pourplan.LookCode }) {
		t.Error("the pour sheet does not say that it is for a look")
	}
	code, stdout, stderr = halfpour(context.Background(), "compare", "job.toml")
	if code != 0 || strings.Count(stdout, "\n") != 4 || !strings.Contains(stdout, "\nfor a look: ") || !strings.HasSuffix(stdout, " figures are the same\n") {
		t.Errorf("compared: exit %d, %s%s", code, stdout, stderr)
	}
}

func readText(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func TestCompareRefuses(t *testing.T) {
	job := writeJob(t)
	t.Chdir(filepath.Dir(job))
	if err := os.WriteFile("plan.json", []byte("{}"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args, want string
		code       int
	}{
		{"job.toml", "job.toml is not built yet: nothing to compare with", 3},
		{"plan.json job.toml", "plan.json: plan schema must be 1, got 0", 1},
		{"job.toml no.json", "no.json: no such file", 1},
		{"no.toml job.toml", "no.toml: no such file", 4},
		{"job.toml job.toml --size x", `job.toml has no sizes, got --size "x"`, 3},
		{"job.toml job.toml --weighed", "job-castings.csv: the fill factor must have at least 5 weighed heads", 1},
	} {
		code, stdout, stderr := halfpour(context.Background(), append([]string{"compare"}, strings.Fields(c.args)...)...)
		if code != c.code || stdout != "" || !strings.HasPrefix(stderr, "halfpour: error: "+c.want) {
			t.Errorf("compare %s: exit %d, %s%s", c.args, code, stdout, stderr)
		}
	}
}
