package main

import (
	"context"
	"encoding/json"
	"errors"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"halfpour/cmd/halfpour/fileset"
)

// writeSizes adds sizes to the test job.
func writeSizes(t *testing.T, sizes string) string {
	t.Helper()
	job := writeJob(t)
	f, err := os.OpenFile(job, os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if _, err := f.WriteString("\n" + sizes); err != nil {
		t.Fatal(err)
	}
	return job
}

const twoSizes = `
[[size]]
target = "1/4 oz"
[[size]]
name = "Trial"
target = "3/8 oz"
heads = 10
hook = { name = "larger" }
`

func TestBuildSizes(t *testing.T) {
	job := writeSizes(t, twoSizes)
	out := filepath.Join(t.TempDir(), "out")
	code, stdout, stderr := halfpour(context.Background(), "build", job, "--out", out, "--tolerance", "0.4")
	if code != 0 || stderr != "" {
		t.Fatalf("exit %d, %s", code, stderr)
	}
	first := tree(t, out)
	want := []string{"1-4-oz", "trial"}
	for _, f := range listFiles {
		want = append(want, f.name)
	}
	for _, f := range outputs {
		want = append(want, "1-4-oz/"+f.name, "trial/"+f.name)
	}
	slices.Sort(want)
	if got := slices.Sorted(maps.Keys(first)); !slices.Equal(got, want) {
		t.Errorf("wrote %v, want %v", got, want)
	}
	for _, say := range []string{"Ball: 2 sizes", "1/4 oz", "7.09 g", "Trial", "10.63 g", "larger", "wrote " + out, "trial/"} {
		if !strings.Contains(stdout, say) {
			t.Errorf("no %q in\n%s", say, stdout)
		}
	}
	if page := readText(t, filepath.Join(out, "trial", pageName)); !strings.Contains(page, `<a href="../1-4-oz/mold.html">1/4 oz</a>`) ||
		!strings.Contains(page, `<a href="../trial/mold.html" aria-current="page">Trial</a>`) {
		t.Error("the page of a size does not lead to the others")
	}
	code, stdout, stderr = halfpour(context.Background(), "build", job, "--out", out, "--tolerance", "0.4", "--json")
	var report sizesReport
	if err := json.Unmarshal([]byte(stdout), &report); err != nil || code != 0 || stderr != "" {
		t.Fatalf("exit %d, %v, %s", code, err, stderr)
	}
	if len(report.Sizes) != 2 || report.Sizes[1].Folder != filepath.Join(out, "trial") || len(report.Sizes[1].Files) != len(outputs) ||
		report.Sizes[1].Proof == nil || report.List == nil || len(report.Files) != len(listFiles) {
		t.Errorf("report %+v", report)
	}
	// 50 heads of one size and 10 of the other, at a yield of 90 %.
	if hooks := report.List.Hooks; len(hooks) != 2 || hooks[0].Count != 56 || hooks[1].Count != 12 {
		t.Errorf("hooks %+v", hooks)
	}
	if !maps.Equal(tree(t, out), first) {
		t.Error("the second build differs")
	}
}

func TestCheckSizes(t *testing.T) {
	job := writeSizes(t, twoSizes)
	before := tree(t, filepath.Dir(job))
	code, stdout, stderr := halfpour(context.Background(), "check", job)
	if code != 0 || stderr != "" || !strings.Contains(stdout, "buying list") || strings.Count(stdout, "using typical values") != 1 {
		t.Errorf("exit %d, %s%s", code, stdout, stderr)
	}
	_, stdout, _ = halfpour(context.Background(), "check", job, "--json")
	var report sizesReport
	if err := json.Unmarshal([]byte(stdout), &report); err != nil || len(report.Sizes) != 2 || report.Sizes[0].Name != "1/4 oz" || report.Sizes[0].Plan == nil {
		t.Errorf("%v in %s", err, stdout)
	}
	sameTree(t, filepath.Dir(job), before)
}

// When one size cannot be made, nothing of any is written, and all that is
// wrong is told.
func TestSizesAllOrNothing(t *testing.T) {
	job := writeSizes(t, twoSizes+`
[[size]]
name = "stops"
head = { eye = [0, 0, 0] }
[[size]]
name = "stops too"
head = { eye = [0, 0.5, 0] }
`)
	before := tree(t, filepath.Dir(job))
	code, stdout, stderr := halfpour(context.Background(), "build", job, "--tolerance", "0.4")
	if code != 6 || stdout != "" || !strings.Contains(stderr, "job.toml: stops: ") || !strings.Contains(stderr, "job.toml: stops too: ") {
		t.Errorf("exit %d, %s%s", code, stdout, stderr)
	}
	sameTree(t, filepath.Dir(job), before)
}

// A size run that cannot put one of its files in place leaves all sizes and the
// buying list as they were.
func TestSizesWholeOrNotAtAll(t *testing.T) {
	job := writeSizes(t, twoSizes)
	out := filepath.Join(t.TempDir(), "out")
	last := filepath.Join(out, "trial", "right.stl")
	if err := os.MkdirAll(filepath.Join(last, "mine"), 0o755); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"buying-list.txt", "1-4-oz/left.stl"} {
		path := filepath.Join(out, filepath.FromSlash(name))
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, []byte("old"), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	before := tree(t, out)
	code, _, stderr := halfpour(context.Background(), "build", job, "--out", out, "--tolerance", "0.4")
	if code != int(exitFailed) || !strings.Contains(stderr, last+": cannot be written: is a folder") {
		t.Errorf("exit %d, %s", code, stderr)
	}
	sameTree(t, out, before)
}

// A run refuses to write over anything that it is made of, in any size.
func TestProtectedInputs(t *testing.T) {
	job := writeSizes(t, twoSizes)
	out := filepath.Join(filepath.Dir(job), "out")
	if err := os.MkdirAll(filepath.Join(out, "trial"), 0o755); err != nil {
		t.Fatal(err)
	}
	account := filepath.Join(filepath.Dir(job), "job-trial-castings.csv")
	if err := os.WriteFile(account, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ input, place string }{
		{job, "buying-list.txt"}, {job, "buying-list.json"}, {job, "trial/plan.json"}, {job, fileset.JournalName},
		{filepath.Join(filepath.Dir(job), starterHead), "trial/left.stl"}, {account, "trial/mold.html"},
	} {
		place := filepath.Join(out, filepath.FromSlash(c.place))
		if err := os.Link(c.input, place); err != nil {
			t.Skip("no links here:", err)
		}
		before := tree(t, filepath.Dir(job))
		code, _, stderr := halfpour(context.Background(), "build", job, "--out", out, "--tolerance", "0.4")
		if code != int(exitUsage) || !strings.Contains(stderr, place+" is a file of the job") {
			t.Errorf("%s at %s: exit %d, %s", c.input, c.place, code, stderr)
		}
		sameTree(t, filepath.Dir(job), before)
		if err := os.Remove(place); err != nil {
			t.Fatal(err)
		}
	}
}
