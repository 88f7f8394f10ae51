package moldbox

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
)

func TestWireFindings(t *testing.T) {
	spike := Keeper{Name: "spike", Wire: 0.9, Fit: 0.05, Points: []geom.Vec{{X: 2, Y: 3}, {X: 12, Y: 3}}}
	says := map[string][]string{}
	for _, c := range []struct {
		code     string
		severity Severity
		spoil    func(*Cavity)
	}{
		// By hand: the eye's centre is √(1.8² + 8.6²) = 8.786 mm off the ball's
		// middle, so the edge of its opening of radius 1.1 is 8.786 - 6 - 1.1 =
		// 1.69 mm off the ball's surface. Of an eye across, seen from the side,
		// the lowest point is 7.5 mm up: √(1.8² + 7.5²) - 6 = 1.71 mm off.
		{"eye-rubber-thin", Warn, func(c *Cavity) { c.Hook.EyeRubber = 1.8 }},
		{"eye-rubber-thin", Warn, func(c *Cavity) { c.Hook.EyeRubber, c.Hook.EyeAcross = 1.75, true }},
		{"eye-not-clear", Stop, func(c *Cavity) { c.Eye.Y = 7.3 }},
		{"eye-not-clear", Stop, func(c *Cavity) { c.Eye.Y = 6 }},
		{"hook-in-metal", Stop, func(c *Cavity) { c.Hook.Shank, c.Hook.Gape, c.Hook.Point = 9, 4, 3 }},
		{"hook-in-metal", Stop, func(c *Cavity) { c.Hook.Points = [][2]float64{{0, -8.6}, {14, -8.6}, {14, -5.5}, {5, -5.5}} }},
		{"wires-cross", Stop, func(c *Cavity) { k := spike; k.Points[1] = geom.Vec{X: 12, Y: -3}; c.Keepers = []Keeper{k} }},
		{"wire-crosses-itself", Stop, func(c *Cavity) {
			c.Hook.Points = [][2]float64{{0, -8.6}, {20, -8.6}, {20, -4}, {15, -4}, {15, -12}}
		}},
		{"wire-crosses-itself", Stop, func(c *Cavity) { c.Hook.Gape, c.Hook.Point = 8.6, 24 }}, // through the eye's ring
		{"wire-off-parting", Warn, func(c *Cavity) {
			c.Keepers = []Keeper{{Name: "spike", Wire: 0.9, Fit: 0.05, Points: []geom.Vec{{X: 2, Y: 3}, {X: 12, Y: 3, Z: 0.4}}}}
		}},
		{"metal-thin", Stop, func(c *Cavity) { c.Wall = 6 }},
		{"wire-breaks-out", Stop, func(c *Cavity) {
			c.Wall = 0.5
			// A neck from -0.35 to 1.05 mm, the wire from -0.5 to 0.5 mm.
			neck := geom.Capsule(geom.Vec{X: 5, Y: 0.35}, geom.Vec{X: 14, Y: 0.35}, 0.7)
			c.Head = geom.Union(c.Head, neck, geom.Ball(geom.Vec{X: 16}, 3))
		}},
		{"wire-breaks-out", Stop, func(c *Cavity) { // along the surface of a collar of 2.2 mm
			c.Wall = 0.5
			c.Head = geom.Union(c.Head, geom.Capsule(geom.Vec{X: 4}, geom.Vec{X: 14}, 2.2))
			c.Keepers = []Keeper{{Wire: 0.9, Fit: 0.05, Points: []geom.Vec{{X: 2, Y: 2.3}, {X: 18, Y: 2.3}}}}
		}},
		{"gate-on-hook", Stop, func(c *Cavity) { // a keeper up into the funnel
			c.Keepers = []Keeper{{Wire: 0.9, Fit: 0.05, Points: []geom.Vec{{X: -3, Y: 0.5}, {X: -12, Y: 0.5}}}}
			c.Gate = &geom.Vec{X: -6}
		}},
	} {
		spec := ballSpec(1)
		spec.Cavities[0].MetalVolume = 0
		spec.Cavities[0].Hook.EyeRubber = 1.2
		spike.Points = []geom.Vec{{X: 2, Y: 3}, {X: 12, Y: 3}}
		c.spoil(&spec.Cavities[0])
		m := buildOf(t, spec)
		if !hasFinding(m, c.code, c.severity) {
			t.Errorf("no %s %s among %+v", c.severity, c.code, m.Findings)
		}
		for _, f := range m.Findings {
			says[f.Code] = append(says[f.Code], f.Message)
			if f.Message == "" || f.Cavity != "" && (f.At == nil || f.HeadAt == nil) {
				t.Errorf("%s: finding without message or place: %+v", c.code, f)
			}
			if f.At != nil && f.HeadAt != nil {
				near(t, f.Code, m.Cavities[0].ToMold(*f.HeadAt).Dist(*f.At), 0, 1e-9)
			}
		}
	}
	if eye := says["eye-not-clear"]; len(eye) != 2 || eye[0] == eye[1] {
		t.Errorf("an opening with a skin of rubber, and one full of metal: %q", eye)
	}
}

// A head that was drawn with a hole for its hook is not one that is too small.
func TestBoreForTheHook(t *testing.T) {
	for _, c := range []struct {
		radius, long float64 // of the hole, round a wire of 0.5 mm's radius
		found        bool
	}{{0.3, 12, true}, {0.45, 12, true}, {0.7, 12, true}, {0.7, 5, false}, {0, 12, false}} {
		spec := ballSpec(1)
		v := &spec.Cavities[0]
		v.MetalVolume, v.Wall = 0, 0.5
		if c.radius > 0 {
			v.Head = geom.Subtract(v.Head, geom.Capsule(geom.Vec{X: 12 - c.long}, geom.Vec{X: 12}, c.radius))
		}
		m := buildOf(t, spec)
		if got := hasFinding(m, "wire-in-hole", Stop); got != c.found || hasFinding(m, "wire-breaks-out", Stop) {
			t.Errorf("hole of radius %g: %+v", c.radius, m.Findings)
		}
	}
}

// Shanks that leave the mold bend outside it, where neighbours' must not meet.
func TestWiresCrossOutside(t *testing.T) {
	spec := Default()
	spec.Cavities = []Cavity{leavingHook(), leavingHook()}
	spec.Frame.Pitch = 21
	spec.Cavities[0].Hook.Gape = 12 // of 20 in the row's neighbour, whose bend reaches over
	if m := buildOf(t, spec); hasFinding(m, "wires-cross", Stop) {
		t.Error("bends on one side of their shanks, as wide as the pitch, cross")
	}
	spec.Cavities[0].Hook.Gape, spec.Cavities[1].Hook.Gape = 21.4, 21.4
	spec.Cavities[1].Hook.Shank = 66
	spec.Cavities[0].Hook.Point = 12
	if m := buildOf(t, spec); !hasFinding(m, "wires-cross", Stop) {
		t.Errorf("a point that runs into the neighbour's shank is not found: %+v", m.Findings)
	}
}

// The metal beside a straight wire e off the middle of a ball is thinnest where
// it is looked at nearest to the ends of its chord: √(R²-x²) - e - r.
func TestThinnestMetal(t *testing.T) {
	for _, c := range []struct{ e, end float64 }{{0, 9}, {2, 9}, {4, 9}, {5, 9}, {2, 0}} { // the last ends in the ball
		e := c.e
		v := Cavity{Head: geom.Ball(geom.Vec{}, 6), Pose: plainPose, Wall: 8,
			Keepers: []Keeper{{Wire: 0.8, Points: []geom.Vec{{X: -9, Y: e}, {X: c.end, Y: e}}}}}
		p, err := newPart(context.Background(), v, ballVolume, Default(), nil, "Cavities[0]")
		if err != nil {
			t.Fatal(err)
		}
		wall, at, found := p.thinnest(context.Background(), p.wires[0])
		x := math.Sqrt(36-e*e) - atSurface*0.8
		if !found {
			t.Fatalf("%g off: nothing found", e)
		}
		near(t, "wall", wall, math.Sqrt(36-x*x)-e-0.4, 0.2)
		near(t, "place", math.Abs(at.X), x, 0.2)
	}
}

// The metal beside the shank in a collar is found whatever the collar's length, also
// where the wire leaves it at once; one that has the wire in its middle is passed.
func TestThinMetalInCollar(t *testing.T) {
	for _, length := range []float64{0.6, 1, 2, 3, 5, 9} {
		for _, wall := range []float64{0.5, 1} {
			for _, off := range []float64{0, 0.61, -0.95} { // of the collar from the wire
				spec := ballSpec(1)
				v := &spec.Cavities[0]
				v.MetalVolume, v.Shrink, v.Wall = 0, 1, wall
				v.Head = geom.Union(v.Head, geom.Frustum(geom.Vec{X: 3, Y: off}, geom.Vec{X: 5.9 + length, Y: off}, 1.4, 1.4))
				p, err := newPart(context.Background(), *v, ballVolume, spec, nil, "Cavities[0]")
				if err != nil {
					t.Fatal(err)
				}
				got, at, found := p.thinnest(context.Background(), p.wires[0])
				if want := 1.4 - math.Abs(off) - 0.5; want >= wall {
					if found && got < wall-0.01 {
						t.Errorf("%g mm of collar: %.3g mm of metal, has %g", length, got, want)
					}
				} else if !found || math.Abs(got-want) > 0.03 {
					t.Errorf("%g mm of collar, %g off, wall %g: found %v, %.3g mm, want %.3g", length, off, wall, found, got, want)
				} else if x := p.toPart.Inverse().Point(at).X; x < 5.5 || x > 5.9+length {
					t.Errorf("%g mm of collar: placed at x = %.2f", length, x)
				}
			}
		}
	}
}

// A head grows about the hook's eye: under one that is small for its hook the
// shank lies too deep, in one that is large too near to the eye's side.
func TestCauseOfThinMetal(t *testing.T) {
	for scale, want := range map[float64]Cause{0.72: "", 2.6: HookOutgrown} {
		spec := ballSpec(1)
		v := &spec.Cavities[0]
		v.MetalVolume, v.Scale, v.Wall = 0, scale, 2
		v.Shrink = 1
		found := false
		for _, f := range buildOf(t, spec).Findings {
			if f.Code == "metal-thin" {
				found = true
				if f.Cause != want {
					t.Errorf("at scale %g: cause %q, want %q", scale, f.Cause, want)
				}
			}
		}
		if !found {
			t.Errorf("at scale %g nothing is found", scale)
		}
	}
}

// Two places of a wire of 1 mm cross when they are nearer than 0.95 mm, also where a
// piece shorter than a step of the search brings them so near.
func TestCrossesItself(t *testing.T) {
	for _, c := range []struct {
		ends  []geom.Vec
		found bool
	}{
		{[]geom.Vec{{}, {X: 20}, {X: 20, Y: 5}, {X: 10, Y: 5}, {X: 10, Y: 1.1}}, false},
		{[]geom.Vec{{}, {X: 20}, {X: 20, Y: 5}, {X: 10, Y: 5}, {X: 10, Y: 1.1}, {X: 10, Y: 0.92}}, true},
		{[]geom.Vec{{}, {X: 20}, {X: 20, Y: 5}, {X: 10, Y: 5}, {X: 10, Y: -3}}, true},
		{[]geom.Vec{{}, {X: 3}, {X: 3, Y: 0.9}, {X: 0, Y: 0.9}}, true},
		{[]geom.Vec{{}, {X: 1.4}, {X: 1.4, Y: 0.9}, {X: 0, Y: 0.9}}, false}, // no more than 4 mm of wire between
	} {
		a := wireAxis{wire: 1}
		for i := 1; i < len(c.ends); i++ {
			a.pieces = append(a.pieces, line(c.ends[i-1], c.ends[i]))
		}
		at, found := a.crossesItself(context.Background())
		if found != c.found {
			t.Errorf("%v: found %v at %v", c.ends, found, at)
		}
		if last := c.ends[len(c.ends)-1]; found && math.Abs(at.X-last.X) > 3 {
			t.Errorf("%v: at %v", c.ends, at)
		}
	}
}
