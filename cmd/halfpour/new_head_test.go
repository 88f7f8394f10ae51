package main

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"halfpour/examples/heads"
	"halfpour/geom"
	"halfpour/geom/geomtest"
	"halfpour/geom/stl"
	"halfpour/pourplan"
)

// writeTilted writes the demo minnow as a person's CAD may have it: in inches,
// tilted and away from the origin.
func writeTilted(t *testing.T, path string) {
	t.Helper()
	tilt := geom.Rotate(geom.Vec{X: 1, Y: -2, Z: 0.5}, 128*math.Pi/180).Then(geom.Move(geom.Vec{X: 31, Y: -14, Z: 8})).Then(geom.Scale(1 / 25.4))
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := stl.Write(f, heads.Minnow(2000).Transform(tilt.Point, false), "minnow, invented demo data"); err != nil {
		t.Fatal(err)
	}
}

// From a mesh in any pose to a mold that the checks pass, with two keepers, and no
// coordinate typed.
func TestNewForHead(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds of proposals and a check")
	}
	ctx := context.Background()
	t.Chdir(t.TempDir())
	writeTilted(t, "grey_minnow.stl")
	code, stdout, stderr := halfpour(ctx, "new", "molds/first", "--head", "grey_minnow.stl", "--weight", "1/2 oz", "--cavities", "2", "--keepers", "2")
	if code != 0 || stderr != "" {
		t.Fatalf("exit %d\n%s%s", code, stdout, stderr)
	}
	for _, want := range []string{`wrote ` + filepath.Join("molds", "first", "job.toml") + `, for ../../grey_minnow.stl`, "sure", "not sure: head.eye", "--picture"} {
		if !strings.Contains(stdout, want) {
			t.Errorf("no %q in\n%s", want, stdout)
		}
	}
	job := filepath.Join("molds", "first", "job.toml")
	text := readText(t, job)
	for _, want := range []string{`title = "grey minnow"`, `unit = "in"`, "# sure: the collar is at the tail", `anchor = "shank"`, `name = "keeper under the shank"`, "# back = ["} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in the job", want)
		}
	}
	if strings.Contains(text, "The head and every figure here") {
		t.Error("the job calls the head demo data")
	}
	code, stdout, stderr = halfpour(ctx, "check", job)
	if code != 0 || !strings.Contains(stdout, "14.17 g (0.500 oz)") || strings.Contains(stdout, "warn  ") {
		t.Errorf("check: exit %d\n%s%s", code, stdout, stderr)
	}
	// A second time the job is left alone.
	if code, _, stderr = halfpour(ctx, "new", "molds/first", "--head", "grey_minnow.stl"); code != 1 || !strings.Contains(stderr, "already exists") {
		t.Errorf("again: exit %d, %s", code, stderr)
	}
}

func TestNewForHeadReports(t *testing.T) {
	ctx := context.Background()
	t.Chdir(t.TempDir())
	f, err := os.Create("ball.stl")
	if err != nil {
		t.Fatal(err)
	}
	if err := stl.Write(f, coarseBall(), "ball"); err != nil {
		t.Fatal(err)
	}
	f.Close()
	code, stdout, stderr := halfpour(ctx, "new", "b", "--head", "ball.stl", "--leg", "9.5", "--json")
	var report newReport
	if err := json.Unmarshal([]byte(stdout), &report); err != nil || code != 0 {
		t.Fatalf("exit %d, %v\n%s%s", code, err, stdout, stderr)
	}
	got := map[string]pourplan.ProposedKey{}
	for _, k := range report.Proposed {
		got[k.Key] = k
	}
	if len(report.Files) != 1 || got["head.nose"].Value != `"-x"` || got["head.nose"].Trust != "sure" || got["head.back"].Trust != "not sure" {
		t.Errorf("got %+v", report)
	}
	text := readText(t, filepath.Join("b", "job.toml"))
	if !strings.Contains(text, "\nleg = 9.5 ") || !strings.Contains(text, "\nscale = 1 ") || strings.Contains(text, "\ntarget = ") {
		t.Errorf("the leg is not the one given, or the head is scaled:\n%s", text)
	}
	for _, c := range []struct {
		args []string
		code exitCode
		says string
	}{
		{[]string{"--weight", "1/2 oz"}, exitUsage, "--weight needs --head"},
		{[]string{"--head", "ball.stl", "--weight", "heavy"}, exitUsage, "--weight: want a mass"},
		{[]string{"--head", "ball.stl", "--cavities", "0"}, exitUsage, "--cavities must be 1 to 64"},
		{[]string{"--head", "ball.stl", "--keepers", "3"}, exitUsage, "--keepers must be 0 to 2"},
		{[]string{"--head", "ball.stl", "--unit", "mile"}, exitUsage, "--unit must be mm"},
		{[]string{"--head", "ball.stl", "--leg", "-1"}, exitUsage, "--leg must be"},
		{[]string{"--head", "ball.stl", "--leg", "2.6"}, exitUsage, "--leg must be 2.7 to 200 mm"},
		{[]string{"--head", "ball.stl", "--unit", "m"}, exitUsage, "give its unit with --unit"},
		{[]string{"--head", "none.stl"}, exitMesh, "no such file"},
	} {
		code, _, stderr := halfpour(ctx, append([]string{"new", "c"}, c.args...)...)
		if code != int(c.code) || !strings.Contains(stderr, c.says) {
			t.Errorf("%v: exit %d, %s", c.args, code, stderr)
		}
	}
	if _, err := os.Stat("c"); err == nil {
		t.Error("a folder was made for nothing")
	}
}

// A head that was exported with its hook gets a job that takes the hook from its
// file, and the hook says how the head faces.
func TestNewForHeadWithItsHook(t *testing.T) {
	dir := t.TempDir()
	copyInto(t, filepath.Join(badFolder, "hook-in-head-file"), dir)
	t.Chdir(dir)
	code, stdout, stderr := halfpour(context.Background(), "new", "own", "--head", "head.stl")
	if code != 0 || !strings.Contains(stdout, "the point of the hook in the file is on that side") || strings.Contains(stdout, "not sure") {
		t.Fatalf("exit %d\n%s%s", code, stdout, stderr)
	}
	text := readText(t, filepath.Join("own", "job.toml"))
	for _, want := range []string{"\nnose = \"-x\"", "\nback = \"+y\"", "[hook]\nfile = \"../head.stl\""} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in the job", want)
		}
	}
	if strings.Contains(text, "\nwire = 1.1") || strings.Contains(text, "\neye = ") {
		t.Error("the job gives the hook's dimensions too")
	}
}

// Of heads for which no hook is right a job is proposed that reads all the same: here the
// axis of the shank passes the head by.
func TestProposedJobReads(t *testing.T) {
	t.Chdir(t.TempDir())
	writeHead(t, "eight.stl", geomtest.FigureEight(8, 2, 9))
	if code, stdout, stderr := halfpour(context.Background(), "new", "e", "--head", "eight.stl"); code != 0 {
		t.Errorf("exit %d\n%s%s", code, stdout, stderr)
	}
}
