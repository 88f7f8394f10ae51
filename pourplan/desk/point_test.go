package desk

import (
	"context"
	"errors"
	"math"
	"os"
	"strings"
	"sync"
	"testing"

	"halfpour/geom"
	"halfpour/geom/stl"
	"halfpour/pourplan"
)

const pointedJob = `title = "x"
[head]
file = "head.stl"
nose = "-x"  # to the left
eye = [0, 9, 0]  # read off
# gate = [0, 0, 0]
[hook]
wire = 1
eye_inside = 2
leg = 5
shank = 20
gape = 8
[[keeper]]
wire = 0.9
points = [[10, 0, 0],  # in
  [20, 0, 0]]
[weight]
scale = 1
[metal]
preset = "lead"
[rubber]
preset = "tin-cure 100:3"
`

var pointedBall = sync.OnceValues(func() (*geom.TriMesh, error) {
	return geom.Mesh(context.Background(), geom.Ball(geom.Vec{}, 1), geom.MeshOptions{Tolerance: 0.005})
})

// pointedHead is a head of a job: an ellipsoid of 20 x 12 x 8 mm as a mesh, about
// the origin, its file's unit as given.
func pointedHead(t *testing.T, src string) pourplan.LyingHead {
	t.Helper()
	ball, err := pointedBall()
	if err != nil {
		t.Fatal(err)
	}
	job, err := pourplan.ReadJob("job.toml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	heads, _ := job.LyingHeads()
	if len(heads) != 1 {
		t.Fatalf("%d heads", len(heads))
	}
	h := heads[0]
	h.Mesh = ball.Transform(func(v geom.Vec) geom.Vec { return geom.Vec{X: 10 * v.X, Y: 6 * v.Y, Z: 4 * v.Z}.Mul(1 / h.Unit) }, false)
	h.FromFile = geom.Move(geom.Vec{Y: -9})
	return h
}

func from(x, y, z float64, to ...float64) Ray {
	return Ray{geom3{x, y, z}, geom3{to[0] - x, to[1] - y, to[2] - z}}
}

// What is pointed at goes into the job in the file's own coordinates, and changes
// nothing else.
func TestPoint(t *testing.T) {
	side := func(x, y float64) Ray { return from(x, y, 90, x, y, 0) }
	for _, c := range []struct {
		key  string
		item int
		rays []Ray
		was  string
		now  string
	}{
		{"head.eye", -1, []Ray{side(-1.2345, 8.5)}, "[0, 9, 0]", "[-1.23, 8.5, 0]"},
		{"head.eye", -1, []Ray{from(40, 8, 30, 4, 8, 3)}, "[0, 9, 0]", "[0, 8, 0]"},
		{"keeper[0].points", 1, []Ray{side(18, 1.5)}, "[20, 0, 0]", "[18, 1.5, 0]"},
		{"head.nose", -1, []Ray{from(50, 1, 1, 0, 1, 1)}, `"-x"`, `"+x"`},
		{"head.back", -1, []Ray{from(1, -50, 0, 1, 0, 0)}, "eye = [0, 9, 0]  # read off\n", "eye = [0, 9, 0]  # read off\nback = \"-y\"\n"},
		// A nose where the back was: the back goes on to where the nose was not.
		{"head.nose", -1, []Ray{from(0, 50, 0, 0, 0, 0)}, "nose = \"-x\"  # to the left\neye = [0, 9, 0]  # read off\n", "nose = \"+y\"  # to the left\neye = [0, 9, 0]  # read off\nback = \"+x\"\n"},
	} {
		h := pointedHead(t, pointedJob)
		got, err := Point(pointedJob, h, nil, Pointed{c.key, c.item, c.rays})
		if want := strings.Replace(pointedJob, c.was, c.now, 1); err != nil || got != want {
			t.Errorf("%s[%d]: %v\n%s\nwant %s", c.key, c.item, err, got, want)
		}
	}
	// A gate goes to the head's outline.
	for _, c := range [][4]float64{{0, 5, 0, 6}, {-9, 0, -10, 0}, {0, 7, 0, 6}} {
		got, err := Point(pointedJob, pointedHead(t, pointedJob), nil, Pointed{"head.gate", -1, []Ray{side(c[0], c[1])}})
		if err != nil || !strings.Contains(got, "\ngate = [") {
			t.Fatalf("%v\n%s", err, got)
		}
		if at := pointedHead(t, got).Points[1].At; at.Sub(geom.Vec{X: c[2], Y: c[3]}).Norm() > 0.1 {
			t.Errorf("pointed at %g, %g: the gate is at %v", c[0], c[1], *at)
		}
	}
	for _, c := range []struct {
		p    Pointed
		want error
	}{
		{Pointed{"head.nose", -1, []Ray{from(50, 20, 0, 0, 20, 0)}}, ErrBesideHead},
		{Pointed{"head.eye", -1, []Ray{from(50, 2, 2, 0, 2, 2)}}, ErrAlongPlane},
		{Pointed{"head.eye", -1, []Ray{{}}}, ErrAlongPlane},
		{Pointed{"head.eye", 0, []Ray{side(0, 0)}}, errNotPointing},
		{Pointed{"title", -1, []Ray{side(0, 0)}}, errNotPointing},
		{Pointed{"head.eye", -1, nil}, errNotPointing},
		{Pointed{"keeper", -1, []Ray{side(0, 0)}}, errNotPointing},
	} {
		if got, err := Point(pointedJob, pointedHead(t, pointedJob), nil, c.p); !errors.Is(err, c.want) {
			t.Errorf("%+v: %v\n%s", c.p, err, got)
		}
	}
}

// In a file of inches places are inches; keepers of the hook are from its eye.
func TestPointInOtherUnits(t *testing.T) {
	src := strings.Replace(pointedJob, `file = "head.stl"`, "file = \"head.stl\"\nunit = \"in\"", 1)
	src = strings.Replace(src, "[0, 9, 0]", `["0 mm", "9 mm", "0 mm"]`, 1)
	src = strings.Replace(src, "points = [[10, 0, 0],  # in\n  [20, 0, 0]]", "in_hook = [[5, -5], [15, -5]]", 1)
	h := pointedHead(t, src)
	got, err := Point(src, h, nil, Pointed{"head.eye", -1, []Ray{from(2.54, 7.62, 50, 2.54, 7.62, 0)}})
	if err != nil || !strings.Contains(got, "eye = [0.1, 0.3, 0]  # read off") {
		t.Errorf("inches: %v\n%s", err, got)
	}
	got, err = Point(src, h, nil, Pointed{"keeper[0].in_hook", 1, []Ray{from(16, 5, 50, 16, 5, 0)}})
	if err != nil || !strings.Contains(got, "in_hook = [[5, -5], [16, -4]]") {
		t.Errorf("in the hook: %v\n%s", err, got)
	}
}

// A new keeper runs between two places, and the job with it can be read.
func TestPointANewKeeper(t *testing.T) {
	h := pointedHead(t, pointedJob)
	got, err := Point(pointedJob, h, nil, Pointed{"keeper", -1, []Ray{from(8, 1, 50, 8, 1, 0), from(20, 2, 50, 20, 2, 0)}})
	if err != nil || got != pointedJob+"\n[[keeper]]\nwire = 0.9\npoints = [[8, 1, 0], [20, 2, 0]]\n" {
		t.Fatalf("%v\n%s", err, got)
	}
	if _, err := pourplan.ReadJob("job.toml", []byte(got)); err != nil {
		t.Error(err)
	}
}

// Pointing at places of a tilted head gives the axes that were proposed for it; all
// else goes along the ray.
func TestPointAtATiltedHead(t *testing.T) {
	h := pointedHead(t, pointedJob)
	tilt := geom.Rotate(geom.Vec{X: 1, Y: 2, Z: 3}, 0.9)
	h.Mesh = h.Mesh.Transform(tilt.Point, false)
	nose := tilt.Direction(geom.Vec{X: -1})
	at := nose.Mul(9).Add(tilt.Direction(geom.Vec{Y: 2}))
	ray := Ray{geom3{at.X * 9, at.Y * 9, at.Z * 9}, geom3{-at.X, -at.Y, -at.Z}}
	for _, c := range []struct {
		axes []geom.Vec
		off  float64
	}{{[]geom.Vec{tilt.Direction(geom.Vec{X: 1}), tilt.Direction(geom.Vec{Y: 1})}, 1e-4}, {nil, 0.5}} {
		got, err := Point(pointedJob, h, c.axes, Pointed{"head.nose", -1, []Ray{ray}})
		if err != nil {
			t.Fatal(err)
		}
		job, err := pourplan.ReadJob("job.toml", []byte(got))
		if err != nil {
			t.Fatal(err)
		}
		if d := geom.Vec(job.Head.Nose).Unit().Sub(nose.Unit()).Norm(); d > c.off || c.off < 0.1 == (d > 1e-4) {
			t.Errorf("with axes %v the nose is %v, %g off", c.axes, job.Head.Nose, d)
		}
		if _, err := job.Spec(func(string) (geom.Solid, error) { return geom.Ball(geom.Vec{}, 10), nil }); err != nil {
			t.Error(err)
		}
	}
}

// What is pointed at on the example's head is as near to its surface as its
// rounding to 0.01 mm lets it be: the greatest of 40, against the mesh itself.
func TestPointedPlacesAreOnTheOutline(t *testing.T) {
	data, err := os.ReadFile("../../examples/minnow-tray/head.stl")
	if err != nil {
		t.Fatal(err)
	}
	mesh, _, err := stl.Decode(context.Background(), data)
	if err != nil {
		t.Fatal(err)
	}
	solid, err := geom.NewMeshSolid(mesh)
	if err != nil {
		t.Fatal(err)
	}
	h := pointedHead(t, pointedJob)
	h.Mesh = mesh
	box, worst := mesh.BoundingBox(), 0.0
	for i := range 40 {
		x := box.Min.X + (0.02+0.96*float64(i)/39)*box.Size().X
		y := box.Centre().Y + math.Sin(float64(i))*box.Size().Y/3
		got, err := Point(pointedJob, h, nil, Pointed{"head.gate", -1, []Ray{from(x, y, 90, x, y, 0)}})
		if err != nil {
			t.Fatal(err)
		}
		job, err := pourplan.ReadJob("job.toml", []byte(got))
		if err != nil {
			t.Fatal(err)
		}
		heads, _ := job.LyingHeads()
		worst = math.Max(worst, math.Abs(solid.Evaluate(*heads[0].Points[1].At)))
	}
	if worst > 0.0072 { // half a step in two directions, √2 · 0.005 mm
		t.Errorf("up to %.4f mm off the surface", worst)
	}
	t.Logf("up to %.4f mm off the surface", worst)
}
