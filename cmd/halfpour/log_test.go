package main

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/pourplan"
)

// loggedJob is a job of five cavities with its plan, in the current folder.
func loggedJob(t *testing.T) string {
	t.Helper()
	job := writeJob(t)
	editJob(t, job, "# cavities = 1 ", "cavities = 5 ")
	planBeside(t, job, "")
	t.Chdir(filepath.Dir(job))
	return filepath.Base(job)
}

func TestLog(t *testing.T) {
	job := loggedJob(t)
	for _, c := range []struct {
		args string
		want []string
	}{
		{"", []string{"Ball, mold 1: 0 shots in 0 entries", "0 of 20 to 25 shots (common practice", "20 to 25 left, about 90 to 112 good heads", "no heads counted yet"}},
		{"--shots 4 --good 19 --date 2026-01-31", []string{"recorded in job-castings.csv: 2026-01-31, 4 shots, 19 good, 1 bad\n",
			"4 of 20 to 25 shots", "16 to 21 left, about 76 to 99 good heads", // 4.75 good ones a shot
			"19 of 20 good, 95.0 % (95 %: 76.4 to 99.1 %)"}}, // Wilson's limits by hand in TestWilson
		{`--weights 7.05;7.12;7.01;6.98 --date 2026-02-01`, []string{"recorded in job-castings.csv: 2026-02-01, 4 weights\n", "4 heads: mean 7.04 g",
			"0.7 % lighter, 4 of 4 within", "for build --weighed it must have at least 5 weighed heads of lead-antimony 4, got 4"}},
		{`--shots 20 --bad 0 --weights 0.2490oz`, []string{"24 of 20 to 25 shots", "at most 1 left", "5 heads: mean 7.04 g", "for the next mold: halfpour build --weighed"}},
		{"--shots 1 --good 0", []string{"recorded in job-castings.csv: ", "1 shot, 0 good, 5 bad\n", "25 of 20 to 25 shots", "past its expected life"}},
		{"--mold 2", []string{"Ball, mold 2: 0 shots in 0 entries", "molds   mold 1 25 shots"}},
		{"--shots 2 --good 10 --mold 2", []string{"Ball, mold 2: 2 shots in 1 entry", "mold 1 25 shots, 119 good; mold 2 2 shots, 10 good"}},
	} {
		code, stdout, stderr := halfpour(context.Background(), append([]string{"log", job}, strings.Fields(c.args)...)...)
		missing := slices.IndexFunc(c.want, func(w string) bool { return !strings.Contains(stdout, w) })
		if code != 0 || missing >= 0 {
			t.Errorf("log %s: exit %d, want %q, got\n%s%s", c.args, code, c.want, stdout, stderr)
		}
	}
	_, stdout, _ := halfpour(context.Background(), "log", job, "--mold", "1", "--json")
	var r logReport
	if err := json.Unmarshal([]byte(stdout), &r); err != nil {
		t.Fatal(err)
	}
	if y := r.Account.Yield; r.Schema != 1 || r.Added || y.Good != 119 || y.Bad != 6 || r.Account.Fill.Weights != 5 || r.Plan == "" {
		t.Errorf("got %s", stdout)
	}
}

// A casting without a day is of today.
func TestLogToday(t *testing.T) {
	job := loggedJob(t)
	before := time.Now().Format(time.DateOnly)
	code, _, stderr := halfpour(context.Background(), "log", job, "--shots", "1", "--good", "5", "--quiet")
	after := time.Now().Format(time.DateOnly)
	a, err := readAccountFile(context.Background(), "job-castings.csv")
	if err != nil || code != 0 || len(a.Castings) != 1 {
		t.Fatalf("exit %d, %v, %s", code, err, stderr)
	}
	if d := a.Castings[0].Date; d != before && d != after {
		t.Errorf("logged on %s, today is %s", d, after)
	}
}

func TestLogRefuses(t *testing.T) {
	job := loggedJob(t)
	before := tree(t, ".")
	for _, c := range []struct{ args, want string }{
		{"--shots 2", "--shots needs --good or --bad: how many heads came out"},
		{"--shots 0 --good 1", "--shots must be at least 1, got 0"},
		{"--shots 2 --good 11", "good and bad heads must be 0 to 10 together, 2 shots of 5 cavities, got 11 and 0"},
		{"--shots 2 --good 9 --bad 2", "good and bad heads must be 0 to 10 together, 2 shots of 5 cavities, got 9 and 2"},
		{"--good 9", "--good needs --shots or --weights, got neither"},
		{"--note x", "--note needs --shots or --weights, got neither"},
		{"--weights 7,1", `--weights: want weights separated by spaces, got "7,1": the decimal sign is a point`},
		{"--weights 7.1oz", "--weights: must be within half of what is expected, 7.09 g, got 201.281"},
		{"--weights 7.1 --cavity bell", `--weights: knows no cavity "bell"`},
		{"--shots 1 --good 5 --date 31.1.2026", `date must be a day such as 2026-01-31, got "31.1.2026"`},
		{"--shots 1 --good 5 --mold 0", "mold must be 1 to 10000, got 0"},
		{"--plot account.gif", `--plot must name a .pdf, got "account.gif"`},
		{"--shots x", `invalid value "x" for flag -shots`},
	} {
		code, stdout, stderr := halfpour(context.Background(), append([]string{"log", job}, strings.Fields(c.args)...)...)
		if code != 3 || stdout != "" || !strings.HasPrefix(stderr, "halfpour: error: "+c.want) {
			t.Errorf("log %s: exit %d, %s, want %s", c.args, code, stdout+stderr, c.want)
		}
	}
	sameTree(t, ".", before)
}

// Of heads that differ, log asks which one was weighed.
func TestLogOfHeadsThatDiffer(t *testing.T) {
	job := writeJob(t)
	text, err := os.ReadFile(job)
	if err != nil {
		t.Fatal(err)
	}
	more := "\n[[cavity]]\nname = \"small\"\n[[cavity]]\nname = \"large\"\ntarget = \"3/8 oz\"\n"
	if err := os.WriteFile(job, append(text, more...), 0o644); err != nil {
		t.Fatal(err)
	}
	planBeside(t, job, "")
	if code, _, stderr := halfpour(context.Background(), "log", job, "--weights", "7.1"); code != 3 || !strings.Contains(stderr, "must name the cavity, since the heads differ: one of small, large") {
		t.Errorf("exit %d, %s", code, stderr)
	}
	for _, args := range [][]string{{"--weights", "10.6 10.7", "--cavity", "large"}, {"--weights", "7.1", "--cavity", "small"}} {
		if code, stdout, stderr := halfpour(context.Background(), append([]string{"log", job}, args...)...); code != 0 || !strings.Contains(stdout, args[3]+": ") {
			t.Errorf("%v: exit %d, %s%s", args, code, stdout, stderr)
		}
	}
}

// A mold stays what it was when the job is built anew with another fill
// factor; the next one is by the new plan. Its life is what the job says now.
func TestLogAfterAnotherBuild(t *testing.T) {
	job := loggedJob(t)
	log := func(args ...string) string {
		code, stdout, stderr := halfpour(context.Background(), append([]string{"log", job}, args...)...)
		if code != 0 {
			t.Fatal(stderr)
		}
		return stdout
	}
	const note = "mold 1 was built differently from the job's last build"
	if text := log("--weights", "6.93"); strings.Contains(text, note) {
		t.Error(text)
	}
	editJob(t, job, "# fill_factor = 1 ", "fill_factor = 0.97 ")
	editJob(t, job, "# life = [20, 25]", "life = [30, 40]")
	planBeside(t, job, "")
	if text := log("--weights", "6.94"); !strings.Contains(text, note) || !strings.Contains(text, "0 of 30 to 40 shots: 30 to 40 left") {
		t.Error(text)
	}
	log("--weights", "7.08", "--mold", "2")
	a, err := readAccountFile(context.Background(), "job-castings.csv")
	if err != nil || len(a.Castings) != 3 {
		t.Fatal(err)
	}
	first, second, third := a.Castings[0].MetalMM3, a.Castings[1].MetalMM3, a.Castings[2].MetalMM3
	if first != second || third < 1.03*first || third > 1.032*first { // 1/0.97
		t.Errorf("metal in a head: %g, %g, %g mm³", first, second, third)
	}
}

// Each size of a size run has its own account and its own prediction.
func TestLogOfASize(t *testing.T) {
	job := writeSizes(t, twoSizes)
	planBeside(t, job, "Trial")
	for _, c := range []struct {
		args []string
		code int
		want string
	}{
		{nil, 3, "has sizes: choose one with --size\nhalfpour: hint: its sizes: 1/4 oz, Trial\n"},
		{[]string{"--size", "trail"}, 3, "has no size \"trail\"\nhalfpour: hint: did you mean --size \"Trial\"?\n"},
		{[]string{"--size", "Trial", "--weights", "10.6"}, 0, "expected 10.63 g"},
		{[]string{"--size", "1/4 oz", "--weights", "7.1"}, 0, "expected 7.09 g"},
	} {
		code, stdout, stderr := halfpour(context.Background(), append([]string{"log", job}, c.args...)...)
		if code != c.code || !strings.Contains(stdout+stderr, c.want) {
			t.Errorf("%v: exit %d, %s%s", c.args, code, stdout, stderr)
		}
	}
	for _, name := range []string{"job-trial-castings.csv", "job-1-4-oz-castings.csv"} {
		a, err := readAccountFile(context.Background(), filepath.Join(filepath.Dir(job), name))
		if err != nil || len(a.Castings) != 1 {
			t.Errorf("%s: %v, %+v", name, err, a)
		}
	}
	plain := writeJob(t)
	if code, _, stderr := halfpour(context.Background(), "log", plain, "--size", "x"); code != 3 || !strings.Contains(stderr, `has no sizes, got --size "x"`) {
		t.Errorf("exit %d, %s", code, stderr)
	}
}

// What a crash or a hand has spoilt is told, kept and not merged with.
func TestLogBehindACutOffLine(t *testing.T) {
	job := loggedJob(t)
	const file = "job-castings.csv"
	if code, _, stderr := halfpour(context.Background(), "log", job, "--shots", "1", "--good", "5"); code != 0 {
		t.Fatal(stderr)
	}
	whole, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	cut := string(whole) + `2026-01-31,1,2,8,2,"la`
	if err := os.WriteFile(file, []byte(cut), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{nil, {"--shots", "3", "--good", "15"}} {
		code, stdout, stderr := halfpour(context.Background(), append([]string{"log", job}, args...)...)
		if code != 0 || !strings.Contains(stdout, "warn    job-castings.csv line 3: ") || !strings.Contains(stdout, "must have 14 columns, got 6; not counted") {
			t.Errorf("log %v: exit %d, %s%s", args, code, stdout, stderr)
		}
	}
	data, err := os.ReadFile(file)
	if err != nil || !strings.HasPrefix(string(data), cut+"\"\r\n") {
		t.Errorf("%v, got %s", err, data)
	}
	a, err := readAccountFile(context.Background(), file)
	if err != nil || len(a.Castings) != 2 || a.Castings[1].Good != 15 {
		t.Errorf("%v, %+v", err, a)
	}
}

func TestLogOfWhatIsNoAccount(t *testing.T) {
	job := loggedJob(t)
	const file = "job-castings.csv"
	const spoilt = "date;mold;shots\r\n2026-01-31;1;3\r\n"
	if err := os.WriteFile(file, []byte(spoilt), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{nil, {"--shots", "3", "--good", "15"}} {
		code, stdout, stderr := halfpour(context.Background(), append([]string{"log", job}, args...)...)
		if code != 1 || stdout != "" || !strings.Contains(stderr, "job-castings.csv: must begin with the columns date,mold,") {
			t.Errorf("exit %d, %s%s", code, stdout, stderr)
		}
	}
	if data, _ := os.ReadFile(file); string(data) != spoilt {
		t.Errorf("changed to %q", data)
	}
}

// A casting that cannot be written is not half there.
func TestLogIntoAReadOnlyAccount(t *testing.T) {
	if runtime.GOOS == "windows" || os.Geteuid() == 0 {
		t.Skip("permissions do not stop this user")
	}
	job := loggedJob(t)
	if err := os.WriteFile("job-castings.csv", nil, 0o444); err != nil {
		t.Fatal(err)
	}
	code, _, stderr := halfpour(context.Background(), "log", job, "--shots", "1", "--good", "5")
	if code != 1 || !strings.Contains(stderr, "no permission to read and write it") {
		t.Errorf("exit %d, %s", code, stderr)
	}
}

// While another holds the account, log waits, and Ctrl-C ends that.
func TestLogWaitsForTheLock(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("an open file is not renamed over there")
	}
	path := filepath.Join(t.TempDir(), "job-castings.csv")
	held, _, err := fileset.OpenLocked(context.Background(), path, os.O_RDWR|os.O_CREATE|os.O_APPEND)
	if err != nil {
		t.Fatal(err)
	}
	casting := pourplan.Casting{Date: "2026-01-31", Mold: 1, Shots: 1, Good: 5}
	ctx, cancel := context.WithCancel(context.Background())
	stopped := make(chan error)
	go func() { _, err := appendCasting(ctx, path, casting); stopped <- err }()
	cancel()
	if err := <-stopped; err == nil || faultOf(err).code != exitInterrupted {
		t.Errorf("got %v", err)
	}
	waited := make(chan error)
	go func() { _, err := appendCasting(context.Background(), path, casting); waited <- err }()
	// A program that saves by renaming puts another file in its place.
	if err := os.WriteFile(path+".new", []byte("date,mold,shots,good,bad,head,weights_g,expected_g,low_g,high_g,metal,metal_mm3,steel_g,note\n2026-01-01,1,9,9,0,,,,,,,,,\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(path+".new", path); err != nil {
		t.Fatal(err)
	}
	if err := held.Close(); err != nil {
		t.Fatal(err)
	}
	if err := <-waited; err != nil {
		t.Fatal(err)
	}
	a, err := readAccountFile(context.Background(), path)
	if err != nil || len(a.Castings) != 2 {
		t.Errorf("%v, %+v", err, a)
	}
}

func TestLogPlot(t *testing.T) {
	job := loggedJob(t)
	code, stdout, stderr := halfpour(context.Background(), "log", job, "--weights", "7.05 7.1", "--plot", "account.pdf")
	data, err := os.ReadFile("account.pdf")
	if code != 0 || err != nil || !strings.HasPrefix(string(data), "%PDF") || !strings.Contains(stdout, "wrote account.pdf") {
		t.Errorf("exit %d, %v, %s%s", code, err, stdout, stderr)
	}
}
