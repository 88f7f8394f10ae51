package moldbox

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
)

// The saddle between eye ring and wire, against the sum over the wire's
// section of the way from the ring's surface to its outside.
func TestSaddle(t *testing.T) {
	for _, c := range []struct{ ring, wire float64 }{{1.6, 1}, {1.5, 1.1}, {3, 0.8}, {1.2, 1.4}} {
		r := c.wire / 2
		const n = 2000
		sum, d := 0.0, 2*r/n
		for i := range n {
			z := -r + (float64(i)+0.5)*d
			s := math.Sqrt(r*r - z*z) // the section's half width, and the ring's depth
			for j := range n {
				y := s * (2*(float64(j)+0.5)/n - 1)
				sum += (c.ring + r - math.Sqrt((c.ring+s)*(c.ring+s)-y*y)) * d * 2 * s / n
			}
		}
		a := wireAxis{ring: c.ring, wire: c.wire}
		near(t, "saddle", a.saddle(), sum, 0.015*sum)
	}
}

// Steel by hand: wire volume times density, the volume by Pappus.
func TestSteelOfHooks(t *testing.T) {
	const steel = 7.85e-3 // g/mm³ (trade tables)
	section := math.Pi / 4
	for _, c := range []struct {
		name string
		hook Hook
		want float64 // mm of wire of 1 mm
	}{
		// Ring 10.0531, shank from the ring's outside 2.1 mm off the eye to
		// 20, bend π·4, point 5.
		{"straight", Hook{Wire: 1, EyeInside: 2.2, Shank: 20, Gape: 8, Point: 5}, 10.053096 + 17.9 + 12.566371 + 5},
		// The 60° corner turns by 120°: 1.5·2π/3 for twice 1.5·tan 60°.
		{"60° leg", Hook{Wire: 1, EyeInside: 2.2, Leg: 9, LegAngle: math.Pi / 3, Shank: 24, Gape: 9, Point: 6},
			10.053096 + 6.9 + 24 + 3.141593 - 5.196152 + 14.137167 + 6},
		{"30° leg, eye across", Hook{Wire: 1, EyeInside: 2.2, EyeAcross: true, Leg: 20, LegAngle: math.Pi / 6, Shank: 24, Gape: 9, Point: 6},
			10.053096 + 17.9 + 24 + 3.926991 - 11.196152 + 14.137167 + 6},
	} {
		// And half a ball at the point, and the saddle at the eye.
		want := steel * (section*c.want + math.Pi/12 + (math.Pi-8.0/3)/8 + math.Pi/16/(8*2.1))
		near(t, c.name, steel*c.hook.Volume(), want, 1e-6*want)
	}
	// A straight keeper of 15 mm, a ball's volume more for its ends.
	k := Keeper{Wire: 1, Points: []geom.Vec{{X: 3}, {X: 18}}}
	near(t, "keeper", k.Volume(plainPose), section*15+math.Pi/6, 1e-12)
	// Along the left axis a wire has no extent: it lies in the parting plane.
	k.Points[1].Z = 7
	near(t, "keeper off the plane", k.Volume(plainPose), section*15+math.Pi/6, 1e-12)
}

// An eye across is one in the plane, turned about the way of its leg: it holds
// as much steel, and as much of it in a head that is the same all round.
func TestEyeAcross(t *testing.T) {
	flat := *jigHook()
	stands := flat
	stands.EyeAcross = true
	near(t, "volume", stands.Volume(), flat.Volume(), 1e-12)
	ball := geom.Ball(geom.Vec{Y: -2.5}, 2.2)
	near(t, "in a ball round the leg", stands.axis().within(context.Background(), ball), flat.axis().within(context.Background(), ball), 1e-6)
	b := stands.axis().tube(0.5, geom.Identity()).BoundingBox()
	near(t, "height", b.Max.Z, 1.6+0.5, 1e-9)
	near(t, "nose side", b.Min.X, -0.5, 1e-9)
	// The web closes the opening, in the bed only.
	p := geom.Vec{X: 0.2, Y: 0.3, Z: 0.4}
	if geom.Inside(stands.axis().tube(0.5, geom.Identity()), p) || !geom.Inside(stands.axis().bed(0.05, geom.Identity()), p) {
		t.Error("the bed of an eye that stands across has no web")
	}
	if geom.Inside(flat.axis().bed(0.05, geom.Identity()), geom.Vec{X: 0.3}) {
		t.Error("the opening of an eye in the plane is closed")
	}
}

func TestRoundedPath(t *testing.T) {
	// A square corner with an inside radius of 2: 2.5 on the axis.
	ps := rounded([]geom.Vec{{}, {X: 10}, {X: 10, Y: 10}}, 1, 2)
	if len(ps) != 3 || ps[1].radius() != 2.5 || ps[1].sweep < 0 {
		t.Fatalf("got %+v", ps)
	}
	near(t, "straight before", ps[0].length(), 7.5, 1e-12)
	near(t, "end", ps[2].to.Dist(geom.Vec{X: 10, Y: 10}), 0, 1e-12)
	for i := 1; i < len(ps); i++ {
		near(t, "joined", ps[i].from.Dist(ps[i-1].to), 0, 1e-12)
		near(t, "smooth", ps[i].along(0).Dist(ps[i-1].along(1)), 0, 1e-12)
	}
	// To the right it turns clockwise; without room it turns tighter, and not
	// at all where the wire cannot.
	if ps = rounded([]geom.Vec{{}, {X: 10}, {X: 10, Y: -10}}, 1, 2); ps[1].sweep > 0 {
		t.Error("a right turn sweeps left")
	}
	if ps = rounded([]geom.Vec{{}, {X: 10}, {X: 10, Y: 2}, {X: 20, Y: 2}}, 1, 2); ps[1].radius() >= 1.0001 || ps[1].radius() < 0.999 {
		t.Errorf("a bend in half of 2 mm has the radius %g", ps[1].radius())
	}
	if ps = rounded([]geom.Vec{{}, {X: 10}, {X: 10, Y: 0.6}, {X: 20, Y: 0.6}}, 1, 2); len(ps) != 3 {
		t.Errorf("a step of 0.6 mm: %d pieces", len(ps))
	}
	if ps = rounded([]geom.Vec{{X: 1}, {X: 1}}, 1, 2); len(ps) != 0 {
		t.Errorf("a wire of one point: %+v", ps)
	}
}

// What the bench bends is what the axis is long.
func TestStretches(t *testing.T) {
	h := Hook{Wire: 1, EyeInside: 2.2, Points: [][2]float64{{0, -6}, {12, -6}, {12, 0}}}
	for name, a := range map[string]wireAxis{
		"points": h.axis(), "hook": jigHook().axis(),
		"keeper": Keeper{Wire: 0.8, Points: []geom.Vec{{}, {X: 10}, {X: 12, Y: 2}, {X: 12, Y: 9}}}.axis(Cavity{Pose: plainPose}, 1, 0),
		"sharp":  Keeper{Wire: 1, InHook: [][2]float64{{0, 0}, {10, 0}, {10, 0.6}, {20, 0.6}}}.axis(Cavity{Pose: plainPose}, 1, 0),
	} {
		sum := 0.0
		for _, s := range a.stretches() {
			sum += s.Straight
			if s.Inside > 0 {
				sum += math.Abs(s.Bend) * (s.Inside + a.wire/2)
			}
		}
		near(t, name, sum, a.length(), 1e-9)
	}
	list := h.axis().stretches()
	if len(list) != 4 {
		t.Fatalf("got %+v", list)
	}
	near(t, "ring", list[0].Bend, 2*math.Pi, 0)
	near(t, "first straight", list[1].Straight, 6-1.6-1.5, 1e-12)
	near(t, "first bend", list[1].Bend, math.Pi/2, 1e-12)
	near(t, "inside", list[1].Inside, 1, 1e-12)
	near(t, "last bend", list[3].Bend, 0, 0)
}

// A keeper's first point goes with the head, the rest keeps its length.
func TestKeeperBesideAScaledHead(t *testing.T) {
	v := throughBall()
	v.Pose = Pose{Nose: geom.Vec{Y: 1}, Back: geom.Vec{Z: 1}, Parting: -0.5}
	v.Eye = geom.Vec{X: -0.5, Y: 9}
	k := Keeper{Wire: 0.8, Points: []geom.Vec{{X: -0.5, Y: -2}, {X: -0.5, Y: -12, Z: 3}}}
	ps := k.axis(v, 0.5, 0).pieces
	near(t, "start", ps[0].from.Dist(geom.Vec{X: 0.5 * 11}), 0, 1e-12)
	near(t, "length", ps[0].length(), math.Hypot(10, 3), 1e-12)
	near(t, "rise", ps[0].to.Y, 3, 1e-12)
	// The third of a row, 2 mm apart towards the tail, true to size.
	k.Count, k.Step = 3, geom.Vec{Y: -2}
	near(t, "third", k.axis(v, 0.5, 2).pieces[0].from.Dist(geom.Vec{X: 0.5*11 + 4}), 0, 1e-12)
	v.Keepers = []Keeper{k}
	if ws := v.wires(0.5); len(ws) != 4 || ws[3].axis.pieces[0].from.Dist(geom.Vec{X: 9.5}) > 1e-12 {
		t.Errorf("a hook and three keepers: %d wires", len(ws))
	}
}

// leavingHook is a ball's hook whose shank runs out at the tail.
func leavingHook() Cavity {
	c := throughBall()
	c.Turn = -math.Pi / 2
	c.Hook.Leaves = true
	return c
}

// A shank that leaves runs through the rubber's edge and needs no room beyond.
func TestWireLeavesTheMold(t *testing.T) {
	spec := Default()
	spec.Cavities = []Cavity{leavingHook()}
	m := buildOf(t, spec)
	for _, f := range m.Findings {
		if f.Severity == Stop {
			t.Errorf("%s: %s", f.Code, f.Message)
		}
	}
	low, at := m.Left.Inside.Min.Y, m.Cavities[0].Eye
	// The lowest that stays is the ball, 6 mm round a middle 9 mm off the eye.
	near(t, "edge below the ball", low, at.Y-9-6-spec.Frame.ToWall, 0.2)
	wire := m.Cavities[0].Wires[0]
	near(t, "bed's end", wire.Bed.BoundingBox().Min.Y, low-spec.Frame.Wall-1-2*0.65, 1e-6)
	if wire.Keeper >= 0 {
		t.Error("the hook is not marked as one")
	}
	near(t, "volume", wire.Volume, throughBall().Hook.Volume(), 1e-9)
	for _, h := range []Half{m.Left, m.Right} {
		rubber := h.Rubber()
		for y := low - 0.5; y < low+6; y += 0.1 {
			if geom.Inside(rubber, h.ToPrint(geom.Vec{X: at.X, Y: y, Z: 0.3 * (2*float64(len(h.Name)%2) - 1)})) {
				t.Fatalf("%s: rubber in the bed at y %.1f", h.Name, y)
			}
		}
	}
	// Rubber, void and block agree with it too.
	left, right := volume(t, m.Left.Rubber(), geom.Box{}), volume(t, m.Right.Rubber(), geom.Box{})
	void, block := volume(t, m.Void, geom.Box{}), volume(t, m.Block, geom.Box{})
	near(t, "left + right + void", left.Best+right.Best+void.Best, block.Best, 1e-3*block.Best)

	spec.Cavities[0].Hook.Shank = 20
	if m = buildOf(t, spec); !hasFinding(m, "wire-ends-inside", Stop) {
		t.Error("a shank that ends before the edge is not found")
	}
}

// A frame with an eye across and a keeper is one closed body.
func TestEyeAcrossMeshes(t *testing.T) {
	spec := ballSpec(1)
	spec.Cavities[0].MetalVolume = 0
	spec.Cavities[0].Hook.EyeAcross = true
	spec.Cavities[0].Keepers = []Keeper{{Name: "spike", Wire: 0.9, Fit: 0.05, Points: []geom.Vec{{X: 2, Y: 2.5}, {X: 9, Y: 2.5}, {X: 10.5, Y: 4}}}}
	m := buildOf(t, spec)
	mesh, err := geom.Mesh(context.Background(), m.Left.Frame, geom.MeshOptions{Tolerance: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range geom.Audit(mesh) {
		t.Error(f)
	}
	if !oneShell(mesh) {
		t.Error("the frame falls apart")
	}
	if n := len(m.Cavities[0].Wires); n != 2 {
		t.Fatalf("%d wires", n)
	}
	spike := m.Cavities[0].Wires[1]
	if spike.InHead <= 0 || spike.InHead >= spike.Volume {
		t.Errorf("the spike has %g of %g mm³ in the head", spike.InHead, spike.Volume)
	}
}

// A ring that stands across lies in the plane through the leg, a wire thick; one in
// the plane reaches out to both sides. Bed and wire are round their axis.
func TestRingAcrossWithin(t *testing.T) {
	flat := *jigHook()
	stands := flat
	stands.EyeAcross = true
	nose := geom.HalfSpace(geom.Vec{X: 1}, -0.6) // all before the wire
	near(t, "across", stands.axis().within(context.Background(), nose), 0, 0)
	if v := flat.axis().within(context.Background(), nose); v < 2 {
		t.Errorf("%g mm³ of a ring in the plane", v)
	}
	bed := flat.axis().bed(0.05, geom.Identity()).BoundingBox()
	near(t, "bed's height", bed.Max.Z, 0.5+0.05, 1e-9)
	near(t, "bed's nose side", bed.Min.X, -1.6-0.5-0.05, 1e-9)
}

// A bend takes up to half of a stretch between two, and nine tenths of one that has
// no other.
func TestRoundedTakesItsShare(t *testing.T) {
	for _, c := range []struct {
		points []geom.Vec
		radii  []float64 // asked are 2.5 on the axis
	}{
		{[]geom.Vec{{}, {X: 2}, {X: 2, Y: 9}}, []float64{1.8}},
		{[]geom.Vec{{}, {X: 9}, {X: 9, Y: 2}}, []float64{1.8}},
		{[]geom.Vec{{}, {X: 2}, {X: 2, Y: 9}, {X: 11, Y: 9}}, []float64{1.8, 2.5}},
		{[]geom.Vec{{}, {X: 9}, {X: 9, Y: 4}, {X: 18, Y: 4}}, []float64{2, 2}},
		{[]geom.Vec{{}, {X: 9}, {X: 9, Y: 9}, {X: 11, Y: 9}}, []float64{2.5, 1.8}},
	} {
		var got []float64
		for _, p := range rounded(c.points, 1, 2) {
			if !p.straight() {
				got = append(got, p.radius())
			}
		}
		if len(got) != len(c.radii) {
			t.Errorf("%v: bends of %v", c.points, got)
			continue
		}
		for i, r := range c.radii {
			near(t, "radius", got[i], r, 1e-9)
		}
	}
}

// A keeper that leaves does so by its last piece.
func TestKeeperLeaves(t *testing.T) {
	k := Keeper{Wire: 0.8, Points: []geom.Vec{{}, {X: 10}, {X: 10, Y: 9}}}
	for leaves, want := range map[bool]int{false: 0, true: 3} {
		k.Leaves = leaves
		if got := k.axis(Cavity{Pose: plainPose}, 1, 0).out; got != want {
			t.Errorf("leaves %v: by piece %d, want %d", leaves, got, want)
		}
	}
}
