package main

import (
	"context"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"halfpour/pourplan"
	"halfpour/pourplan/making"
)

// planBeside puts the plan of a job where a build would, without its frames.
func planBeside(t *testing.T, job, size string) *pourplan.Plan {
	t.Helper()
	f, err := readJobFile(context.Background(), newTerminal(nil, nil, nil, nil), job)
	if err != nil {
		t.Fatal(err)
	}
	mold, err := f.oneMold(size)
	if err != nil {
		t.Fatal(err)
	}
	run, err := mold.newRun(context.Background(), false)
	if err != nil {
		t.Fatal(err)
	}
	if err := run.Check(context.Background(), making.CheckShare, nil); err != nil {
		t.Fatal(err)
	}
	plan := run.Molds[0].Plan
	data, err := plan.JSON()
	if err != nil {
		t.Fatal(err)
	}
	path := mold.builtPlanPath()
	if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, data, 0o644)); err != nil {
		t.Fatal(err)
	}
	return plan
}

func TestMixTolerance(t *testing.T) {
	for _, c := range []struct {
		args string
		want string
	}{
		// 5.1 g are 4.796 % more than the 4.8666 g that belong to 162.22 g.
		{"--ratio 100:3 162.22 -b 5.1", "100:3.14, 4.8 % more B than it should be\n"},
		{"--ratio 100:3 162.22 -b 5.1 --tolerance 5", "4.8 % more B than it should be: within the 5 % allowed\n"},
		{"100:3 162.22 -b 5.1 --tolerance 4.5%", "4.8 % more B than it should be: beyond the 4.5 % allowed\n"},
		{"100:3 162.22 -b 4.6 --tolerance 5", "5.5 % less B than it should be: beyond the 5 % allowed\n"},
	} {
		code, stdout, stderr := halfpour(context.Background(), append([]string{"mix"}, strings.Fields(c.args)...)...)
		if code != 0 || !strings.HasSuffix(stdout, c.want+pourplan.CatalystCaution.Text+"\n") {
			t.Errorf("mix %s: exit %d, want %q, got\n%s%s", c.args, code, c.want, stdout, stderr)
		}
	}
}

func TestMixForAHalf(t *testing.T) {
	job := writeJob(t)
	t.Chdir(filepath.Dir(job))
	editJob(t, job, `# b_tolerance = "5 %"`, `b_tolerance = "10 %"`)
	if code, _, stderr := halfpour(context.Background(), "mix", "job.toml", "50", "--half", "left"); code != 3 || !strings.Contains(stderr, "job.toml is not built yet") {
		t.Errorf("not built: exit %d, %s", code, stderr)
	}
	plan := planBeside(t, "job.toml", "")
	h := plan.Rubber.Halves[0]
	a := pourplan.OnScale(h.AG, 0.1)
	for _, c := range []struct {
		args string
		want []string
	}{
		{a + "g --half left", []string{"left half: planned A " + a, "is enough", "to spare"}},
		{a + "g --half both", []string{"both halves: planned A", " short: pour "}},
		{a + "g --half left -b 1.9g", []string{"% more B than it should be: within the 10 % allowed"}},
	} {
		code, stdout, stderr := halfpour(context.Background(), append([]string{"mix", "job.toml"}, strings.Fields(c.args)...)...)
		missing := slices.IndexFunc(c.want, func(w string) bool { return !strings.Contains(stdout, w) })
		if code != 0 || missing >= 0 {
			t.Errorf("mix job.toml %s: exit %d, want %v, got\n%s%s", c.args, code, c.want, stdout, stderr)
		}
	}
	// What is missing fills the frame: 40 g of A and what the tool asks for.
	_, stdout, _ := halfpour(context.Background(), "mix", "job.toml", "40", "--half", "left", "--json")
	var got mix
	if err := json.Unmarshal([]byte(stdout), &got); err != nil || got.Planned == nil || got.Tolerance == nil {
		t.Fatalf("%v, %s", err, stdout)
	}
	need := h.FrameMassG + h.ResidueG
	if total := (40 + got.Planned.MoreA) * 1.03; got.Planned.Spare >= 0 || total < need-1e-9 || total > need+1e-9 {
		t.Errorf("with the missing A the mix is %g g, frame, cup and brush take %g g", total, need)
	}
	editJob(t, job, `# ratio = "100:3"`, `ratio = "100:5"`)
	if code, _, stderr := halfpour(context.Background(), "mix", "job.toml", "50", "--half", "left"); code != 3 || !strings.Contains(stderr, "job.toml now has 100:5, but was built with 100:3") {
		t.Errorf("changed since: exit %d, %s", code, stderr)
	}
}
