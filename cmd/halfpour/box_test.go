package main

import (
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/geom/stl"
	"halfpour/pourplan"
)

// boxJob is invented demo data.
const boxJob = `title = "Old tray"
[box]
left = "frame.stl"
right = "frame.stl"
[rubber]
preset = "tin-cure 100:3"
density = 1.33
`

// writeTray writes a frame with a room of 40 x 30 mm, 15 mm deep, and half a
// ball on its floor.
func writeTray(t *testing.T) {
	t.Helper()
	block := func(x, y, low, high float64) geom.Solid {
		return geom.Block(geom.Box{Min: geom.Vec{X: -x, Y: -y, Z: low}, Max: geom.Vec{X: x, Y: y, Z: high}})
	}
	s := geom.Union(geom.Subtract(block(23, 18, -4, 15), block(20, 15, 0, 20)), geom.Ball(geom.Vec{}, 5))
	m, err := geom.Mesh(t.Context(), s, geom.MeshOptions{Tolerance: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	var file strings.Builder
	if err := stl.Write(&file, m, "tray"); err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string]string{"frame.stl": file.String(), "job.toml": boxJob} {
		if err := os.WriteFile(name, []byte(data), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

func TestBox(t *testing.T) {
	t.Chdir(t.TempDir())
	writeTray(t)
	code, out, errs := halfpour(t.Context(), "check", "job.toml")
	if code != 0 || !strings.Contains(out, "left: 14.1 ml (0.48 US fl oz) up to 12.0 mm") {
		t.Fatalf("exit %d: %s%s", code, out, errs)
	}
	if code, out, errs = halfpour(t.Context(), "build", "job.toml", "--json"); code != 0 {
		t.Fatalf("exit %d: %s%s", code, out, errs)
	}
	var report boxReport
	if err := json.Unmarshal([]byte(out), &report); err != nil {
		t.Fatal(err)
	}
	ml := (40*30*12 - 2*math.Pi/3*125) / 1000
	if got := report.Plan.Rubber.Halves[1].VolumeML.Best; math.Abs(got/ml-1) > 1e-3 {
		t.Errorf("the right frame holds %g ml, want %g", got, ml)
	}
	if strings.Contains(out, `"casting"`) || strings.Contains(out, `"metal"`) {
		t.Error("the plan says something about metal")
	}
	want := pourplan.RubberMass(ml, 1.33, 0.05, 8)
	if got := report.Plan.Rubber.Halves[0].ExactMassG; math.Abs(got/want-1) > 1e-2 {
		t.Errorf("a half takes %g g, want %g", got, want)
	}
	for _, name := range boxOutputs {
		if _, err := os.Stat("job-out/" + name); err != nil {
			t.Error(err)
		}
	}
	if code, out, errs = halfpour(t.Context(), "mix", "job.toml", "30g", "--half", "left"); code != 0 || !strings.Contains(out, "left half: planned") {
		t.Errorf("mix: exit %d: %s%s", code, out, errs)
	}
	for _, args := range [][]string{{"compare", "job.toml", "job.toml"}, {"compare", "job-out", "job-out"}, {"log", "job.toml"}, {"check", "job.toml", "--picture", "a.png"}} {
		if code, out, errs = halfpour(t.Context(), args...); code != int(exitUsage) || !strings.Contains(errs, "[box]") {
			t.Errorf("%v: exit %d: %s%s", args, code, out, errs)
		}
	}
}

// A fill line over the rim is a stop: no sheet is written, not even asked anyway.
func TestBoxThatRunsOver(t *testing.T) {
	t.Chdir(t.TempDir())
	writeTray(t)
	if err := os.WriteFile("job.toml", []byte(strings.Replace(boxJob, "[rubber]", "fill = 16\n[rubber]", 1)), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"check"}, {"build"}, {"build", "--anyway"}} {
		code, out, errs := halfpour(t.Context(), append(args, "job.toml")...)
		if code != int(exitStop) || !strings.Contains(out+errs, "the fill line is 16.0 mm over the floor") {
			t.Errorf("%v: exit %d: %s%s", args, code, out, errs)
		}
		if _, err := os.Stat("job-out/plan.json"); err == nil {
			t.Errorf("%v: a plan was written", args)
		}
	}
}
