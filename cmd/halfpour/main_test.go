package main

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"halfpour/geom"
	"halfpour/geom/stl"
)

func TestWrongUse(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, c := range []struct{ args, want string }{
		{"biuld job.toml", `unknown command "biuld"|did you mean: halfpour build?`},
		{"frobnicate", `unknown command "frobnicate"|see: halfpour --help`},
		{"job.toml", `unknown command "job.toml"|did you mean: halfpour build job.toml?`},
		{"help biuld", `unknown command "biuld"|did you mean: halfpour build?`},
		{"build", "build needs JOB.toml|see: halfpour build --help"},
		{"check a.toml b.toml", "check takes JOB.toml, got 2 arguments|see: halfpour check --help"},
		{"build job.toml --oot x", "unknown option --oot|did you mean --out?"},
		{"build job.toml --out", "option --out needs a value|see: halfpour build --help"},
		{"--jsno", "unknown option --jsno|see: halfpour --help"},
		{"build job.toml --paper foolscap", `--paper must be a4 or letter, got "foolscap"`},
		{"build job.toml --tolerance 3", "--tolerance must be 0.002 to 0.5 mm, got 3 mm"},
		{"mix 100:3", "mix needs RATIO_OR_JOB MASS_OF_A, got only \"100:3\"|see: halfpour mix --help"},
		{"mix 3 100g", `ratio: want parts of A to parts of B by mass such as "100:3", got "3"|or name a job file to use its rubber's ratio`},
		{"mix 100:3 5mm", `mass of A: want a mass such as "3/8 oz" or "14 g", got "5mm"`},
		{"mix 100:3 0g", "mass of A: must be above 0 g, got 0 g"},
		{"mix --ratio 100:3 50 60", "mix with --ratio needs MASS_OF_A alone, got 2 arguments|see: halfpour mix --help"},
		{"mix 100:3 50 -b 2 --tolerance 5g", `--tolerance: want a percentage such as "5 %", got "5g"`},
		{"mix 100:3 50 --half left", "--half needs a job file, got the ratio 100:3|for a job: halfpour mix job.toml MASS_OF_A --half left"},
	} {
		t.Run(c.args, func(t *testing.T) {
			code, stdout, stderr := halfpour(context.Background(), strings.Fields(c.args)...)
			message, hint, hasHint := strings.Cut(c.want, "|")
			want := "halfpour: error: " + message + "\n"
			if hasHint {
				want += "halfpour: hint: " + hint + "\n"
			}
			if code != 3 || stdout != "" || stderr != want {
				t.Errorf("exit %d, stdout %q\n got %s\nwant %s", code, stdout, stderr, want)
			}
		})
	}
}

func TestHelpIsNoError(t *testing.T) {
	for _, args := range []string{"", "--help", "help", "-h", "build --help", "help build", "build -h job.toml", "--version"} {
		code, stdout, stderr := halfpour(context.Background(), strings.Fields(args)...)
		if code != 0 || stderr != "" || !strings.HasPrefix(stdout, "halfpour") {
			t.Errorf("%s: exit %d, stderr %q, stdout %q", args, code, stderr, stdout)
		}
	}
}

// Every command shows how it is used, with an example that the command line
// itself understands.
func TestHelpOfEveryCommand(t *testing.T) {
	app := newApp(newTerminal(nil, nil, nil, nil))
	for _, cmd := range app.VisibleCommands() {
		if cmd.Name == "help" {
			continue
		}
		_, stdout, _ := halfpour(context.Background(), cmd.Name, "--help")
		for _, want := range []string{"Usage:\n  halfpour " + cmd.Name, "Examples:\n  halfpour " + cmd.Name} {
			if !strings.Contains(stdout, want) {
				t.Errorf("%s: no %q in\n%s", cmd.Name, want, stdout)
			}
		}
	}
}

func TestErrorsAsJSON(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, c := range []struct {
		args string
		code int
		kind string
		file string
	}{
		{"build --json no.toml", 4, "job", "no.toml"},
		{"build no.toml --json", 4, "job", "no.toml"},
		{"build --json", 3, "usage", ""},
		{"build --json --oops x", 3, "usage", ""},
	} {
		code, stdout, stderr := halfpour(context.Background(), strings.Fields(c.args)...)
		var got struct {
			Schema   int
			Code     int `json:"exit_code"`
			Kind     string
			Problems []problem
		}
		if err := json.Unmarshal([]byte(stderr), &got); err != nil {
			t.Fatalf("%s: %v in %s", c.args, err, stderr)
		}
		if code != c.code || got.Code != c.code || got.Kind != c.kind || stdout != "" || got.Schema != 1 ||
			len(got.Problems) != 1 || got.Problems[0].File != c.file || strings.Count(stderr, "\n") != 1 {
			t.Errorf("%s: exit %d, stdout %q, stderr %s", c.args, code, stdout, stderr)
		}
	}
}

// writeJob puts the starter with a coarse head into a new folder and returns
// the job's path.
func writeJob(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if err := writeStarter(context.Background(), dir, false); err != nil {
		t.Fatal(err)
	}
	writeHead(t, filepath.Join(dir, starterHead), coarseBall())
	return filepath.Join(dir, starterJob)
}

// editJob changes a job's text, which must have the old one.
func editJob(t *testing.T, job, old, with string) {
	t.Helper()
	text, err := os.ReadFile(job)
	if err != nil || !strings.Contains(string(text), old) {
		t.Fatalf("%s lacks %q, %v", job, old, err)
	}
	if err := os.WriteFile(job, []byte(strings.Replace(string(text), old, with, 1)), 0o644); err != nil {
		t.Fatal(err)
	}
}

func writeHead(t *testing.T, path string, m *geom.TriMesh) {
	t.Helper()
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := stl.Write(f, m, "test head"); err != nil {
		t.Fatal(err)
	}
}

const testTolerance = "0.4" // mm: coarse, to be quick

// As fine as must be for no look.
func TestBuildWritesTheWholeSet(t *testing.T) {
	job := writeJob(t)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4)) // whatever the machine has
	out := filepath.Join(t.TempDir(), "deep", "out")
	code, stdout, stderr := halfpour(context.Background(), "build", job, "--out", out, "--tolerance", "0.15")
	if code != 0 || stderr != "" {
		t.Fatalf("exit %d, %s", code, stderr)
	}
	first := tree(t, out)
	var want []string
	for _, f := range outputs {
		want = append(want, f.name)
		if !strings.Contains(stdout, f.name) {
			t.Errorf("%s is not told of", f.name)
		}
		if len(first[f.name]) == 0 {
			t.Errorf("%s is empty", f.name)
		}
	}
	if len(first) != len(want) {
		t.Errorf("wrote %d files, want %v", len(first), want)
	}
	for _, name := range []string{"left.stl", "right.stl"} {
		m, _, err := stl.Decode(context.Background(), []byte(first[name]))
		if err != nil {
			t.Fatal(err)
		}
		if faults := geom.Audit(m); len(faults) > 0 {
			t.Errorf("%s: %v", name, faults)
		}
	}
	// The same bytes from the same input, as JSON and on one processor this time.
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	code, stdout, stderr = halfpour(context.Background(), "build", job, "--out", out, "--tolerance", "0.15", "--json")
	var report buildReport
	if err := json.Unmarshal([]byte(stdout), &report); err != nil || code != 0 || stderr != "" {
		t.Fatalf("exit %d, %v, %s", code, err, stderr)
	}
	if report.Schema != 1 || len(report.Files) != len(outputs) || report.Plan == nil || report.Proof.Left.HeadPoints == 0 {
		t.Errorf("report %+v", report)
	}
	for name, data := range tree(t, out) {
		if data != first[name] {
			t.Errorf("%s: differs the second time", name)
		}
	}
}

func TestInterruptedBuildLeavesNothing(t *testing.T) {
	job := writeJob(t)
	before := tree(t, filepath.Dir(job))
	for _, after := range []time.Duration{0, 50 * time.Millisecond, 500 * time.Millisecond} {
		ctx, cancel := context.WithCancel(context.Background())
		timer := time.AfterFunc(after, cancel)
		if after == 0 {
			cancel()
		}
		// Fine enough to last longer than the context.
		code, stdout, stderr := halfpour(ctx, "build", job, "--tolerance", "0.005")
		timer.Stop()
		cancel()
		if code != 130 || stdout != "" || !strings.Contains(stderr, "interrupted") {
			t.Errorf("after %v: exit %d, %q, %q", after, code, stdout, stderr)
		}
		sameTree(t, filepath.Dir(job), before)
	}
}

func TestCheckWritesNothing(t *testing.T) {
	job := writeJob(t)
	before := tree(t, filepath.Dir(job))
	code, stdout, stderr := halfpour(context.Background(), "check", job)
	if code != 0 || stderr != "" || !strings.Contains(stdout, "7.09 g") {
		t.Errorf("exit %d, %s%s", code, stdout, stderr)
	}
	if code, stdout, _ := halfpour(context.Background(), "check", "--quiet", job); code != 0 || stdout != "" {
		t.Errorf("quiet: exit %d, %q", code, stdout)
	}
	sameTree(t, filepath.Dir(job), before)
}

// A stop is told once: on stdout with the report, else on stderr.
func TestCheckWarnsOfHotMetal(t *testing.T) {
	job := writeJob(t)
	editJob(t, job, "# superheat = 30", "superheat = 60")
	code, stdout, stderr := halfpour(context.Background(), "check", job)
	if code != 0 || !strings.Contains(stdout, "too hot for the rubber") || !strings.Contains(stdout, "  warn    metal-too-hot  ") || !strings.Contains(stdout, "metal would heat the rubber above its short-term limit") {
		t.Errorf("exit %d, %s%s", code, stdout, stderr)
	}
}

// Metal that destroys the rubber at the first shot stops a build.
func TestBuildStopsAtMetalThatDestroysTheRubber(t *testing.T) {
	job := writeJob(t)
	editJob(t, job, "# superheat = 30", "superheat = 200")
	before := tree(t, filepath.Dir(job))
	code, stdout, stderr := halfpour(context.Background(), "build", job)
	if code != 6 || !strings.Contains(stderr, "the metal would destroy the rubber") || !strings.Contains(stderr, "[metal-too-hot]") {
		t.Errorf("exit %d, %s%s", code, stdout, stderr)
	}
	sameTree(t, filepath.Dir(job), before)
}

func TestCheckTellsStopsOnce(t *testing.T) {
	dir := t.TempDir()
	copyInto(t, filepath.Join(badFolder, "gate-on-hook"), dir)
	t.Chdir(dir)
	const finding = "runs into a wire's bed"
	for _, c := range []struct {
		option      string
		out, errors int // how often each says it
		summary     bool
	}{
		{"", 1, 0, true}, {"--quiet", 0, 1, false}, {"--json", 1, 0, true},
	} {
		code, stdout, stderr := halfpour(context.Background(), append([]string{"check", "job.toml"}, strings.Fields(c.option)...)...)
		if code != 6 || strings.Count(stdout, finding) != c.out || strings.Count(stderr, finding) != c.errors ||
			strings.Contains(stderr, "job.toml: a finding says stop") != c.summary {
			t.Errorf("%q: exit %d, stdout %s\nstderr %s", c.option, code, stdout, stderr)
		}
	}
}

// A job from standard input finds its head from the current folder.
func TestJobFromStdin(t *testing.T) {
	job := writeJob(t)
	t.Chdir(filepath.Dir(job))
	data, err := os.ReadFile(job)
	if err != nil {
		t.Fatal(err)
	}
	var out, errs strings.Builder
	code := run(context.Background(), []string{"halfpour", "check", "-", "--json"}, strings.NewReader(string(data)), &out, &errs)
	var report checkReport
	if err := json.Unmarshal([]byte(out.String()), &report); err != nil || code != 0 || report.Plan == nil || report.Plan.Title != "Ball" {
		t.Errorf("exit %d, %v, %s", code, err, errs.String())
	}
}

func TestNewOverwritesNothing(t *testing.T) {
	t.Chdir(t.TempDir())
	for i, want := range []int{0, 1} {
		code, stdout, stderr := halfpour(context.Background(), "new", "mold")
		if code != want || (i == 1) != strings.Contains(stderr, "is left alone") {
			t.Errorf("try %d: exit %d, %s%s", i, code, stdout, stderr)
		}
	}
	got := tree(t, ".")
	if len(got) != 3 || !strings.HasPrefix(got["mold/job.toml"], "# A mold") {
		t.Errorf("wrote %d files", len(got))
	}
	if err := writeStarter(context.Background(), "mold", true); err != nil {
		t.Errorf("again: %v", err)
	}
	if err := os.WriteFile("mold/job.toml", []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if code, _, _ := halfpour(context.Background(), "demo", "mold"); code != 1 {
		t.Errorf("demo over a job: exit %d", code)
	}
	if got := tree(t, "."); got["mold/job.toml"] != "mine" {
		t.Errorf("the job was overwritten")
	}
}

func TestBuildDoesNotWriteOverItsHead(t *testing.T) {
	job := writeJob(t)
	dir := filepath.Dir(job)
	if err := os.Rename(filepath.Join(dir, starterHead), filepath.Join(dir, "left.stl")); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(job)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(job, []byte(strings.ReplaceAll(string(data), starterHead, "left.stl")), 0o644); err != nil {
		t.Fatal(err)
	}
	before := tree(t, dir)
	code, _, stderr := halfpour(context.Background(), "build", job, "--out", dir)
	if code != 3 || !strings.Contains(stderr, "would be overwritten") {
		t.Errorf("exit %d, %s", code, stderr)
	}
	sameTree(t, dir, before)
}

func TestMix(t *testing.T) {
	for _, c := range []struct {
		args string
		want []string
	}{
		{"100:3 162.22g", []string{"A  162.22 g (5.722 oz)", "B  4.87 g (0.172 oz)   at 100:3 by mass"}}, // 162.22*3/100 = 4.8666
		{"100:3 162g", []string{"A  162.0 g (5.714 oz)", "B  4.86 g"}},
		{"100:3 162.250g", []string{"A  162.250 g", "B  4.867 g"}}, // 4.8675, which is a hair less in binary
		{"10:1 6oz", []string{"A  170.1 g (6 oz)", "B  17.01 g"}},
		{"10:1 50", []string{"A  50.0 g", "B  5.00 g"}},
		{"100:3 100g -b 3.3g", []string{"add 10.00 g", "100:3.3, 10.0 % more B"}}, // 3.3/3*100 - 100 = 10
		{"100:3 100g --b 2.4g", []string{"add 0.60 g", "100:2.4, 20.0 % less B"}},
		{"100:3 100g -b 3g", []string{"3.00 g (0.106 oz) of B is right"}},
		{"100:3 58.90 -b 1.77", []string{"1.77 g (0.062 oz) of B is right"}}, // of 1.767
	} {
		code, stdout, stderr := halfpour(context.Background(), append([]string{"mix"}, strings.Fields(c.args)...)...)
		missing := slices.IndexFunc(c.want, func(w string) bool { return !strings.Contains(stdout, w) })
		if code != 0 || missing >= 0 {
			t.Errorf("mix %s: exit %d, want %v, got\n%s%s", c.args, code, c.want, stdout, stderr)
		}
	}
	job := writeJob(t) // of a rubber at 100:3
	if code, stdout, stderr := halfpour(context.Background(), "mix", job, "50"); code != 0 || !strings.Contains(stdout, "B  1.50 g") {
		t.Errorf("with a job: exit %d, %s%s", code, stdout, stderr)
	}
	if code, _, stderr := halfpour(context.Background(), "mix", "no-such.toml", "50"); code != 4 || !strings.Contains(stderr, "no-such.toml: no such file") {
		t.Errorf("without the job: exit %d, %s", code, stderr)
	}
	_, stdout, _ := halfpour(context.Background(), "mix", "100:3", "100", "--b", "3.3", "--json")
	var got mix
	if err := json.Unmarshal([]byte(stdout), &got); err != nil || got.B != 3 || got.Correction == nil || got.Correction.AddB != 0 {
		t.Errorf("%v, %s", err, stdout)
	}
}

func TestClosedPipeIsNoFailure(t *testing.T) {
	r, w := io.Pipe()
	r.Close()
	o := &watchedWriter{w: w}
	if _, err := io.WriteString(o, "x"); err == nil {
		t.Fatal("a closed pipe took a write")
	}
	if err := o.failure(); err != nil {
		t.Errorf("got %v", err)
	}
	full := errors.New("disk full")
	o = &watchedWriter{w: failing{full}}
	_, _ = io.WriteString(o, "x")
	if !errors.Is(o.failure(), full) {
		t.Errorf("got %v", o.failure())
	}
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }
