package main

import (
	"bytes"
	"context"
	"encoding/json"
	"image"
	_ "image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// The test binary plays the command itself when this is set, so that a
// benchmark can measure a process of its own.
const playVariable = "TRAY_TEST_PLAYS"

func TestMain(m *testing.M) {
	if os.Getenv(playVariable) != "" {
		main()
		return
	}
	os.Exit(m.Run())
}

// headFile writes a head and returns its name and its mesh, as read back.
func headFile(t testing.TB, facets int) (string, *geom.TriMesh) {
	t.Helper()
	name := filepath.Join(t.TempDir(), "head.stl")
	if err := writeHead(facets, name); err != nil {
		t.Fatal(err)
	}
	m, err := readHead(name)
	if err != nil {
		t.Fatal(err)
	}
	return name, m
}

// runJSON runs the command and returns its report.
func runJSON(t testing.TB, args ...string) report {
	t.Helper()
	var out bytes.Buffer
	if err := run(context.Background(), append([]string{"--json"}, args...), &out); err != nil {
		t.Fatal(err)
	}
	var r report
	if err := json.Unmarshal(out.Bytes(), &r); err != nil {
		t.Fatal(err)
	}
	return r
}

// What the command reports is what closed forms give, and the mesh is sound,
// near enough, and the same for any number of workers.
func TestTray(t *testing.T) {
	head, mesh := headFile(t, 2000)
	trayVolume, rubber := exactVolumes(mesh)
	var files [2][]byte
	for i, workers := range []string{"1", "3"} {
		out := filepath.Join(t.TempDir(), "tray.stl")
		r := runJSON(t, "--check", "--tolerance", "0.04", "--workers", workers, head, out)
		if r.HeadFacets != 2000 || r.Triangles == 0 || r.PeakBytes < 1<<20 || len(r.Stages) < 6 {
			t.Errorf("report %+v", r)
		}
		v := r.Rubber
		if v.Low > rubber || v.High < rubber || math.Abs(v.Best-rubber) > 1e-4*rubber {
			t.Errorf("rubber %+v, in closed form %.4f", *v, rubber)
		}
		c := r.Check
		if len(c.Faults) > 0 || c.Deviation > 0.04 || math.Abs(c.Volume-trayVolume) > 1e-4*trayVolume {
			t.Errorf("check %+v, in closed form %.4f", *c, trayVolume)
		}
		var err error
		if files[i], err = os.ReadFile(out); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(files[0], files[1]) {
		t.Error("1 and 3 workers gave different trays")
	}
}

// Every vertex of a head on the tray is on the surface of the tray's mesh:
// no scale and no rim is worn down by more than the tolerance.
func TestTrayKeepsRelief(t *testing.T) {
	head, mesh := headFile(t, 20_000)
	out := filepath.Join(t.TempDir(), "tray.stl")
	runJSON(t, "--mesh", head, out)
	made, err := readHead(out)
	if err != nil {
		t.Fatal(err)
	}
	geomtest.CheckMesh(t, made)
	surface, err := geom.NewMeshSolid(made)
	if err != nil {
		t.Fatal(err)
	}
	worst, looked := 0.0, 0
	for _, seat := range seats() {
		for _, v := range mesh.Vertices {
			if v.Z < 0.01 || v.X < coneStart+0.01 {
				continue // under the floor's top, or where the cone is
			}
			worst = math.Max(worst, math.Abs(surface.Evaluate(seat.Point(v))))
			looked++
		}
	}
	t.Logf("the farthest of %d vertices is %.2g mm off the tray", looked, worst)
	if worst > 0.02 || looked < 20_000 {
		t.Error("want 20,000 or more, none farther than 0.02 mm")
	}
}

func TestRubberOnlyAndText(t *testing.T) {
	head, _ := headFile(t, 2000)
	var out bytes.Buffer
	if err := run(context.Background(), []string{"--rubber", head}, &out); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"measure the rubber ", "head      2000 facets", "mm³, certainly", "MB ("} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %q in\n%s", want, out.String())
		}
	}
	if strings.Contains(out.String(), "triangles") {
		t.Errorf("meshed with --rubber:\n%s", out.String())
	}
}

func TestRunSaysWhatIsWrong(t *testing.T) {
	head, _ := headFile(t, 200)
	odd := filepath.Join(t.TempDir(), "odd.stl")
	for _, c := range []struct {
		args []string
		want string
	}{
		{nil, "want HEAD.stl TRAY.stl"},
		{[]string{head}, "want HEAD.stl TRAY.stl"},
		{[]string{"--rubber", head, "x.stl"}, "want HEAD.stl"},
		{[]string{"--rubber", "--mesh", head}, "nothing to do"},
		{[]string{"--make-head", "301", odd}, "even number"},
		{[]string{"--rubber", filepath.Join(t.TempDir(), "none.stl")}, "none.stl"},
		{[]string{"--tolerance", "0.0001", "--mesh", head, odd}, "tolerance"},
	} {
		var out bytes.Buffer
		if err := run(context.Background(), c.args, &out); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: got %v, want %q", c.args, err, c.want)
		}
	}
}

// Both halves of a picture show a head: as much is painted on either side.
func TestPictures(t *testing.T) {
	head, _ := headFile(t, 2000)
	folder := t.TempDir()
	if err := run(context.Background(), []string{"--tolerance", "0.1", "--pictures", folder, head}, &bytes.Buffer{}); err != nil {
		t.Fatal(err)
	}
	for _, c := range closeUps() {
		f, err := os.Open(filepath.Join(folder, c.name))
		if err != nil {
			t.Fatal(err)
		}
		picture, _, err := image.Decode(f)
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		painted := [2]int{}
		for y := range c.height {
			for x := range c.width {
				if r, g, b, _ := picture.At(x, y).RGBA(); r&g&b != 0xffff {
					painted[2*x/c.width]++
				}
			}
		}
		if least := c.width * c.height / 5; painted[0] < least || painted[1] < least ||
			math.Abs(float64(painted[0]-painted[1])) > 0.1*float64(painted[0]) {
			t.Errorf("%s: %d pixels painted on the left, %d on the right, of %d", c.name, painted[0], painted[1], c.width*c.height)
		}
	}
}
