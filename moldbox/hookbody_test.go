package moldbox

import (
	"context"
	"errors"
	"math"
	"strings"
	"sync"
	"testing"

	"halfpour/examples/heads"
	"halfpour/geom"
	"halfpour/geom/column"
	"halfpour/geom/geomtest"
)

// drawnHooks keeps the meshes of hooks that tests draw.
var drawnHooks sync.Map

// drawnHook is the body of a demo hook, its eye at the origin.
func drawnHook(t testing.TB, kind heads.HookKind) *geom.TriMesh {
	t.Helper()
	if m, ok := drawnHooks.Load(kind); ok {
		return m.(*geom.TriMesh)
	}
	m, err := heads.Hook(context.Background(), kind, 0.02)
	if err != nil {
		t.Fatal(err)
	}
	drawnHooks.Store(kind, m)
	return m
}

func measuredHook(t testing.TB, m *geom.TriMesh) *HookBody {
	t.Helper()
	b, err := MeasureHook(context.Background(), m)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// The measures of a body are those it was drawn with, however it lies in its file.
// Its mesh is within 0.02 mm of the hook. Of the straight shank, from corner to bend,
// a little of both counts as straight.
func TestHookMeasuredFromItsBody(t *testing.T) {
	tilted := geom.Rotate(geom.Vec{X: 1, Y: 2, Z: 3}, 0.4).Then(geom.Move(geom.Vec{X: 31, Y: -7, Z: 4}))
	for _, c := range []struct {
		kind  heads.HookKind
		place geom.Transform
		flat  float64
		barbs int
		eye   float64 // turned out of the hook's plane
	}{
		{heads.HookKind{}, geom.Identity(), heads.HookWire, 0, 0},
		{heads.HookKind{}, tilted, heads.HookWire, 0, 0},
		{heads.HookKind{Barbed: true}, tilted, heads.HookWire, 1, 0},
		{heads.HookKind{Forged: true}, tilted, 0.7, 0, 0},
		{heads.HookKind{EyeAcross: true}, tilted, heads.HookWire, 0, math.Pi / 2},
	} {
		b := measuredHook(t, drawnHook(t, c.kind).Transform(c.place.Point, false))
		near(t, "wire", b.Wire, heads.HookWire, 0.02)
		near(t, "eye inside", b.EyeInside, heads.HookEyeInside, 0.02)
		near(t, "eye's middle", b.Eye.Dist(c.place.Point(geom.Vec{})), 0, 0.01)
		near(t, "leg", b.Leg, heads.HookLeg, 0.03)
		near(t, "gape", b.Gape, heads.HookGape, 0.03)
		near(t, "shank", b.Shank, heads.HookShank-1.65+0.5, 0.6)
		near(t, "tail", b.Tail.Dist(c.place.Direction(geom.Vec{X: 1})), 0, 0.01)
		near(t, "back", b.Back.Dist(c.place.Direction(geom.Vec{Y: 1})), 0, 0.01)
		near(t, "eye turned", b.EyeTurned, c.eye, 0.02)
		near(t, "off its plane", b.OffPlane, 0, 0.01)
		near(t, "thinnest", b.Thinnest, c.flat, 0.03)
		near(t, "volume", b.Volume, drawnHook(t, c.kind).Volume(), 1e-9)
		if b.Barbs != c.barbs {
			t.Errorf("%+v: %d barbs", c.kind, b.Barbs)
		}
	}
}

// What is no hook is refused, with the reason.
func TestNoHook(t *testing.T) {
	for name, s := range map[string]geom.Solid{
		"a ball":         geom.Ball(geom.Vec{}, 3),
		"a straight pin": geom.Capsule(geom.Vec{}, geom.Vec{X: 30}, 0.5),
		"a pin with an eye": geom.Union(geom.Torus(geom.Vec{}, geom.Vec{Z: 1}, 1.6, 0.5),
			geom.Capsule(geom.Vec{X: 1.8}, geom.Vec{X: 30}, 0.5)),
	} {
		m, err := geom.Mesh(context.Background(), s, geom.MeshOptions{Tolerance: 0.03})
		if err != nil {
			t.Fatal(err)
		}
		var no *NotWire
		if _, err := MeasureHook(context.Background(), m); !errors.As(err, &no) || no.Reason == "" || no.Remedy == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// drawnCavity is the demo ball's head on a drawn hook, its leg through the middle.
func drawnCavity(t testing.TB, m *geom.TriMesh, asDrawn bool) Cavity {
	t.Helper()
	eye := geom.Vec{X: -1.22, Y: heads.HookLeg}
	b := measuredHook(t, m.Transform(geom.Move(eye).Point, false))
	hook := b.Lay(Hook{Fit: 0.05, EyeRubber: 1.5}, plainPose, asDrawn, 0.4)
	return Cavity{Head: geom.Ball(geom.Vec{}, 5), Pose: plainPose, Eye: b.Eye, Turn: -math.Pi / 2, Hook: &hook, Wall: 0.5}
}

// A drawn hook and one by its dimensions take the same room: volumes, what of them
// lies in the head, and the mold round them.
func TestDrawnHookIsTheSameAsByDimensions(t *testing.T) {
	drawn := drawnCavity(t, drawnHook(t, heads.HookKind{}), true)
	given := drawn
	given.Hook = &Hook{Wire: heads.HookWire, EyeInside: heads.HookEyeInside, Leg: heads.HookLeg, LegAngle: math.Pi / 2,
		Shank: heads.HookShank, Gape: heads.HookGape, Point: heads.HookPoint, Fit: 0.05, EyeRubber: 1.5}
	// The point is a cone of 3 mm down to 0.06 mm instead of a round wire: r²+rs+s² for 3r².
	r, s := heads.HookWire/2, 0.06
	cone := math.Pi * 3 * (r*r - (r*r+r*s+s*s)/3)
	near(t, "volume", drawn.Hook.Volume(), given.Hook.Volume()-cone-2.0/3*math.Pi*r*r*r, 0.01*given.Hook.Volume())
	in := func(v Cavity) float64 { return v.wiresWithin(context.Background(), 1)[0] }
	near(t, "in the head", in(drawn), in(given), 0.02*in(given)) // the mesh's facets are chords
	for _, v := range []Cavity{drawn, given} {
		spec := Default()
		spec.Cavities = []Cavity{v}
		for _, f := range buildOf(t, spec).Findings {
			if f.Severity == Stop {
				t.Errorf("%+v", f)
			}
		}
	}
}

// The bed is the body wider by its clearance: that of the convex hull of no two
// places, by Steiner's formula V + S·c + M·c² + 4/3·π·c³, where M, the mean curvature
// over the surface, is π times the axis' length for a wire (Gray, Tubes, 2nd ed.,
// Birkhäuser 2004), and 0 of what the closed eye adds. It holds the body with a gap of
// the clearance.
func TestBedOfABodyIsItsOffset(t *testing.T) {
	const fit = 0.1
	m := drawnHook(t, heads.HookKind{})
	hook := measuredHook(t, m).Lay(Hook{Fit: fit}, plainPose, true, 0)
	bed := hook.body.bed(fit, geom.Identity())
	v, err := geom.Integrate(context.Background(), bed, geom.IntegrateOptions{RelTol: 3e-3})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "bed", v.Best, m.Volume()+m.Area()*fit+math.Pi*hook.axis().length()*fit*fit, 0.005*m.Volume())
	for _, p := range m.Vertices {
		if d := bed.Evaluate(p); d > -fit+1e-3 { // the eye's middle, the origin, is measured
			t.Fatalf("the bed is only %.9f mm outside the body", -d)
		}
	}
}

// Nothing of a bed is too fine to print: at its point it is as wide as asked.
func TestBedOfAPointIsWideEnough(t *testing.T) {
	hook := measuredHook(t, drawnHook(t, heads.HookKind{})).Lay(Hook{Fit: 0.05}, plainPose, true, 0.4)
	tip := geom.Vec{X: heads.HookShank - heads.HookPoint, Y: heads.HookGape - heads.HookLeg}
	at := tip.Add(geom.Vec{X: 0.25})
	if d := hook.body.solid.Evaluate(at) - 0.05; d < -0.2 {
		t.Fatalf("the point itself is %.2f mm thick there", -2*d)
	}
	near(t, "half its width", -hook.body.bed(0.05, geom.Identity()).Evaluate(at), 0.2, 0.02)
}

// Rubber does not reach into the opening of an eye that stands across: the web closes
// it, as of a wire by its dimensions.
func TestEyeOfABodyIsShutOff(t *testing.T) {
	for _, across := range []bool{false, true} {
		hook := measuredHook(t, drawnHook(t, heads.HookKind{EyeAcross: across})).Lay(Hook{Fit: 0.05}, plainPose, true, 0.4)
		if hook.EyeAcross != across {
			t.Fatalf("across: got %v", hook.EyeAcross)
		}
		bed := hook.body.bed(0.05, geom.Identity())
		for _, p := range []geom.Vec{{}, {Y: 0.7}, {Y: -0.7}, {Z: 0.7}} {
			if got := geom.Inside(bed, p); across && p.Y == 0 && !got || !across && got {
				t.Errorf("across %v: %v is in the bed: %v", across, p, got)
			}
		}
	}
}

// Each fault of a drawn hook is found, and the same mold without it has none.
func TestFindingsOfDrawnHooks(t *testing.T) {
	plain := drawnHook(t, heads.HookKind{})
	with := func(m *geom.TriMesh, more ...geom.Solid) *geom.TriMesh {
		solid, err := geom.NewMeshSolid(m)
		if err != nil {
			t.Fatal(err)
		}
		joined, err := geom.Mesh(context.Background(), geom.Union(append(more, solid)...), geom.MeshOptions{Tolerance: 0.03})
		if err != nil {
			t.Fatal(err)
		}
		return joined
	}
	tilt := geom.Rotate(geom.Vec{Y: 1}, 0.05)
	fluke := geom.Frustum(geom.Vec{X: 22.5, Y: heads.HookGape - heads.HookLeg, Z: 0.3}, geom.Vec{X: 23.9, Y: heads.HookGape - heads.HookLeg, Z: 1.2}, 0.3, 0.3)
	blade := geom.Block(geom.BoxOf(geom.Vec{X: 19, Y: -7, Z: -0.5}, geom.Vec{X: 19.15, Y: -10.5, Z: 0.5}))
	for _, c := range []struct {
		name  string
		mesh  *geom.TriMesh
		drawn bool
		found string // of the codes below
	}{
		{"plain", plain, true, ""},
		{"barbed in its plane", drawnHook(t, heads.HookKind{Barbed: true}), true, ""},
		{"tilted by 3°", plain.Transform(tilt.Point, false), true, "wire-off-parting bed-relieved"},
		{"the same, laid flat", plain.Transform(tilt.Point, false), false, ""},
		{"a barb to the side", with(plain, fluke), true, "bed-relieved"},
		{"turned out of the plane", plain.Transform(geom.Rotate(geom.Vec{X: 1}, 0.6).Point, false), true, "wire-off-parting bed-relieved wire-held eye-turned"},
		{"a thin blade on the shank", with(plain, blade), true, "bed-too-fine"},
	} {
		if (c.found == "" && c.name != "plain" || c.name == "turned out of the plane") && !geomtest.Long() {
			continue
		}
		spec := Default()
		spec.Checks.Undercut = 0.2
		spec.Cavities = []Cavity{drawnCavity(t, c.mesh, c.drawn)}
		m := buildOf(t, spec)
		for code, severity := range map[string]Severity{"wire-off-parting": Warn, "wire-held": Stop, "bed-relieved": Note, "eye-turned": Stop, "bed-too-fine": Warn} {
			if got := hasFinding(m, code, severity); got != strings.Contains(c.found, code) {
				t.Errorf("%s: %s: found %v: %+v", c.name, code, got, m.Findings)
			}
		}
		if off := heldBack(t, m); (off > 0.05) != strings.Contains(c.found, "wire-held") {
			t.Errorf("%s: drawn out of a half, the hook is %.3f mm in its rubber", c.name, off)
		}
	}
}

// heldBack is how deep the hook's body comes to lie in the rubber around its bed on its
// way out of each half, mm: what of it is on upright lines goes down to the parting plane.
// In the head there is no rubber.
func heldBack(t *testing.T, m *Mold) (most float64) {
	t.Helper()
	c := m.Cavities[0]
	grid, err := column.Cut(context.Background(), c.Wires[0].Wire, column.Options{Step: 0.13})
	if err != nil {
		t.Fatal(err)
	}
	for k := range grid.NX * grid.NY {
		i, j := k%grid.NX, k/grid.NX
		for _, s := range grid.Line(i, j) {
			for _, end := range []float64{math.Max(0, s.Hi), math.Min(0, s.Lo)} {
				for z := math.Abs(end); z > 0; z -= 0.05 {
					if q := grid.At(i, j, math.Copysign(z, end)); !geom.Inside(c.Head, q) {
						most = math.Max(most, c.Bed.Evaluate(q))
					}
				}
			}
		}
	}
	return most
}

// A head with the hook cut out of it says so.
func TestBoreOfADrawnHook(t *testing.T) {
	v := drawnCavity(t, drawnHook(t, heads.HookKind{}), true)
	body := geom.Move(v.Eye).Solid(v.Hook.body.solid)
	v.Head = geom.Subtract(v.Head, body)
	spec := Default()
	spec.Cavities = []Cavity{v}
	if m := buildOf(t, spec); !hasFinding(m, "wire-in-hole", Stop) {
		t.Errorf("%+v", m.Findings)
	}
}

// A drawn hook that leaves the mold by its shank takes the room that one by its dimensions
// does: the same frames, a bed that ends beyond their edge, and none for bend and point.
func TestDrawnHookLeavesTheMold(t *testing.T) {
	drawn := drawnCavity(t, drawnHook(t, heads.HookKind{}), true)
	drawn.Hook.Leaves = true
	given := drawn
	given.Hook = &Hook{Wire: heads.HookWire, EyeInside: heads.HookEyeInside, Leg: heads.HookLeg, LegAngle: math.Pi / 2,
		Shank: heads.HookShank, Gape: heads.HookGape, Point: heads.HookPoint, Fit: 0.05, EyeRubber: 1.5, Leaves: true}
	var boxes, beds [2]geom.Box
	for i, v := range []Cavity{drawn, given} {
		spec := Default()
		spec.Cavities = []Cavity{v}
		m := buildOf(t, spec)
		for _, f := range m.Findings {
			if f.Severity == Stop {
				t.Errorf("%+v", f)
			}
		}
		boxes[i], beds[i] = m.Left.Outside, m.Cavities[0].Wires[0].Bed.BoundingBox()
		across := m.Cavities[0].ToMold(v.Eye.Add(geom.Vec{X: 10, Y: heads.HookGape - heads.HookLeg}))
		if geom.Inside(m.Cavities[0].Bed, across) {
			t.Error("there is a bed beside the shank, for a point that is outside")
		}
	}
	near(t, "frame's length", boxes[0].Size().Y, boxes[1].Size().Y, 0.2)
	near(t, "frame's width", boxes[0].Size().X, boxes[1].Size().X, 0.2)
	near(t, "bed's end", beds[0].Min.Y-boxes[0].Min.Y, beds[1].Min.Y-boxes[1].Min.Y, 0.05)
}
