package moldbox

import (
	"context"
	"math"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/geom/column"
)

// one is a mold of one bare head.
func one(head geom.Solid) Spec {
	spec := Default()
	spec.Cavities = []Cavity{{Head: head, Pose: plainPose}}
	return spec
}

// frustum stands upright on the parting plane's side z0 to z1.
func frustum(x, z0, z1, r0, r1 float64) geom.Solid {
	return geom.Frustum(geom.Vec{X: x, Z: z0}, geom.Vec{X: x, Z: z1}, r0, r1)
}

func block(x0, y0, z0, x1, y1, z1 float64) geom.Solid {
	return geom.Block(geom.Box{Min: geom.Vec{X: x0, Y: y0, Z: z0}, Max: geom.Vec{X: x1, Y: y1, Z: z1}})
}

// fault is a mold with one fault, and the same mended.
type fault struct {
	name, code  string
	fault, mend func() Spec
	value, tol  float64
	off         func(geom.Vec) float64 // how far a place of the head is from the fault
	cause       Cause
	says        string
}

var faults = []fault{
	{
		name: "ball parted 2 mm off its equator", code: "undercut",
		fault: func() Spec {
			s := one(geom.Ball(geom.Vec{}, 6))
			s.Cavities[0].Pose.Parting = -2
			s.Checks.Undercut = 0.3
			return s
		},
		mend: func() Spec {
			s := one(geom.Ball(geom.Vec{}, 6))
			s.Checks.Undercut = 0.3
			return s
		},
		value: 6 - math.Sqrt(32), tol: 0.01,
		// On the ball, in the parting plane.
		off:   func(p geom.Vec) float64 { return math.Hypot(math.Hypot(p.X, p.Y)-math.Sqrt(32), p.Z+2) },
		cause: PartingElsewhere, says: "left",
	}, {
		name: "ball parted near its end", code: "overhang",
		fault: func() Spec {
			s := one(geom.Ball(geom.Vec{}, 6))
			s.Cavities[0].Pose.Parting = 5.5
			return s
		},
		mend:  func() Spec { return one(geom.Ball(geom.Vec{}, 6)) },
		value: math.Asin(5.5/6) * 180 / math.Pi, tol: 1,
		off:  func(p geom.Vec) float64 { return math.Hypot(math.Hypot(p.X, p.Y)-math.Sqrt(36-5.5*5.5), p.Z-5.5) },
		says: "right",
	}, {
		name: "hollow under a brim", code: "bubble",
		fault: func() Spec { return one(mushroom(geom.Ball(geom.Vec{X: 4.5, Z: 3}, 1.2))) },
		mend:  func() Spec { return one(mushroom(nil)) },
		value: 2.0 / 3 * math.Pi * 1.2 * 1.2 * 1.2, tol: 0.05,
		off:  func(p geom.Vec) float64 { return p.Dist(geom.Vec{X: 4.5, Z: 4.2}) },
		says: "left",
	}, {
		name: "fin of 0.3 mm", code: "rib-thinner-than-nozzle",
		fault: func() Spec { return one(geom.Union(geom.Ball(geom.Vec{}, 6), block(-0.15, -3, 4, 0.15, 3, 9))) },
		mend:  func() Spec { return one(geom.Union(geom.Ball(geom.Vec{}, 6), block(-0.4, -3, 4, 0.4, 3, 9))) },
		value: 0.3, tol: 0.01,
		off: func(p geom.Vec) float64 { return inBox(p, -0.15, -3, 4, 0.15, 3, 9) },
	}, {
		name: "slot of 0.25 mm", code: "slot-thinner-than-nozzle",
		fault: func() Spec { return one(geom.Subtract(geom.Ball(geom.Vec{}, 6), block(-9, -0.125, 2, 9, 0.125, 9))) },
		mend:  func() Spec { return one(geom.Subtract(geom.Ball(geom.Vec{}, 6), block(-9, -0.3, 2, 9, 0.3, 9))) },
		value: 0.25, tol: 0.01,
		off: func(p geom.Vec) float64 { return inBox(p, -6, -0.125, 2, 6, 0.125, 6) },
	}, {
		name: "1 mm of rubber over the head", code: "rubber-thin",
		fault: func() Spec {
			s := one(geom.Ball(geom.Vec{}, 8))
			s.Frame.Over = 1
			return s
		},
		mend:  func() Spec { return one(geom.Ball(geom.Vec{}, 8)) },
		value: 1, tol: 0.1,
		off:  func(p geom.Vec) float64 { return math.Hypot(math.Hypot(p.X, p.Y), math.Abs(p.Z)-8.5) },
		says: "the fill line",
	}, {
		name: "bed 0.3 mm wider than its wire", code: "metal-along-wire",
		fault: func() Spec { return fitted(0.3) },
		mend:  func() Spec { return fitted(0.05) },
		// As far as the outside of the bend, over which the place is told.
		value: toBend() + 5.3 - 6*ballScale, tol: 0.1,
		off: func(p geom.Vec) float64 {
			return math.Max(0, math.Abs(ballScale*p.Sub(bendOfBall()).Norm()-4.5)-0.8)
		},
	}, {
		name: "mouth slit", code: "rubber-fin", // across the nose, 3 mm deep
		fault: func() Spec { return one(slit(0.44, 3)) },
		mend:  func() Spec { return one(slit(1.2, 3)) },
		value: 0.44, tol: 0.03,
		off:  func(p geom.Vec) float64 { return inBox(p, -6, -0.22, -6, -3, 0.22, 6) },
		says: "0.44 mm thick and 3.",
	}, {
		name: "slit through the flanks", code: "rubber-fin",
		fault: func() Spec { return one(geom.Subtract(geom.Ball(geom.Vec{}, 6), block(-2, -0.4, -9, 2, 0.4, 9))) },
		mend:  func() Spec { return one(geom.Subtract(geom.Ball(geom.Vec{}, 6), block(-2, -0.4, 4, 2, 0.4, 9))) },
		value: 0.8, tol: 0.03,
		off: func(p geom.Vec) float64 { return inBox(p, -2, -0.4, -6, 2, 0.4, 6) },
	}, {
		name: "head with a face in the parting plane", code: "halves-differ",
		fault: func() Spec {
			return one(geom.Union(geom.Subtract(geom.Ball(geom.Vec{}, 6), block(-9, -9, -9, 9, 9, 0)), geom.Ball(geom.Vec{}, 4)))
		},
		mend:  func() Spec { return one(geom.Ball(geom.Vec{}, 6)) },
		value: math.Pi * (36 - 16), tol: 1.5,
		off: func(p geom.Vec) float64 {
			r := math.Hypot(p.X, p.Y)
			return math.Abs(p.Z) + math.Max(0, math.Max(4-r, r-6))
		},
	},
}

// The pieces are found wherever they stand: the second of two rings has a vent of its
// own, and a crumb of a head hovers over the floor of either half.
func pieceFaults() []fault {
	cubes := func(gap float64) func() Spec {
		return func() Spec { return one(geom.Union(block(-8, -4, -4, 0, 4, 4), block(gap, -4, -4, gap+8, 4, 4))) }
	}
	ring := func(x float64) geom.Solid { return geom.Torus(geom.Vec{X: x}, geom.Vec{Z: 1}, 5, 2) }
	crumb := func(z, thick float64) func() Spec {
		head := geom.Union(geom.Ball(geom.Vec{}, 8), geom.Ball(geom.Vec{X: 2, Z: z}, 0.6))
		if thick > 0 {
			head = geom.Union(head, geom.Capsule(geom.Vec{}, geom.Vec{X: 2, Z: z}, thick))
		}
		return func() Spec { return one(head) }
	}
	return []fault{
		{name: "two cubes 6 mm apart", code: "piece-unfed", fault: cubes(6), mend: cubes(-1), value: 512, tol: 40,
			off: func(p geom.Vec) float64 {
				return math.Min(inBox(p, 6, -4, -4, 14, 4, 4), inBox(p, -8, -4, -4, 0, 4, 4))
			}},
		{name: "two rings", code: "piece-unfed", fault: func() Spec { return one(geom.Union(ring(0), ring(16))) },
			mend: func() Spec { return one(geom.Union(ring(0), ring(12))) }, value: 2 * math.Pi * math.Pi * 5 * 4, tol: 40},
		{name: "crumb 12 mm over the floor", code: "piece-floats", fault: crumb(12.6, 0), mend: crumb(12.6, 0.5), value: 12, tol: 0.1,
			off: func(p geom.Vec) float64 { return p.Dist(geom.Vec{X: 2, Z: 12.6}) }},
		{name: "crumb over the right floor", code: "piece-floats", fault: crumb(-10, 0), mend: crumb(-10, 0.3), value: 9.4, tol: 0.1,
			off: func(p geom.Vec) float64 { return p.Dist(geom.Vec{X: 2, Z: -10}) }},
	}
}

// slit is a ball with a slit in its nose.
func slit(wide, deep float64) geom.Solid {
	return geom.Subtract(geom.Ball(geom.Vec{}, 6), block(-9, -wide/2, -9, deep-6, wide/2, 9))
}

// mushroom is a stem with a brim, less a hollow.
func mushroom(hollow geom.Solid) geom.Solid {
	return geom.Union(frustum(0, -4, 4, 2.5, 2.5), geom.Subtract(frustum(0, 3, 6, 7, 7), hollow))
}

func inBox(p geom.Vec, x0, y0, z0, x1, y1, z1 float64) float64 {
	return geom.Box{Min: geom.Vec{X: x0, Y: y0, Z: z0}, Max: geom.Vec{X: x1, Y: y1, Z: z1}}.Distance(p)
}

// ballScale is what the head of ballSpec is enlarged by in the mold: a ball of
// 6 mm, less the wire in it, drawn to 3/8 oz and the shrinkage of both.
// It is what the mold reports, Scale times Shrink; measure_test.go holds that to
// closed forms.
const ballScale = 1.12025

// bendOfBall is the middle of the bend of ballSpec's hook in the head's file,
// and toBend how far from the ball's that is, mm.
func bendOfBall() geom.Vec {
	hook := geom.Vec{X: 24, Y: -8.6 + 4.5} // from the eye: shank, leg and half the gape
	return geom.Vec{X: -1.8, Y: 8.6}.Add(hook.Mul(1 / ballScale))
}

func toBend() float64 { return ballScale * bendOfBall().Norm() }

func fitted(fit float64) Spec {
	s := ballSpec(1)
	s.Cavities[0].Hook.Fit = fit
	return s
}

// Each fault is found, measured, placed within 0.5 mm and named; the mended
// mold says nothing of it.
func TestFaults(t *testing.T) {
	for _, c := range append(faults, pieceFaults()...) {
		fs := findingsOf(buildOf(t, c.fault()), c.code)
		if len(fs) == 0 {
			t.Errorf("%s: no %s", c.name, c.code)
			continue
		}
		f := fs[0]
		near(t, c.name+": value", f.Value, c.value, c.tol)
		if c.off != nil {
			if off := c.off(*f.HeadAt); off > 0.5 {
				t.Errorf("%s: placed at %.2f of the head, %.2f mm off", c.name, *f.HeadAt, off)
			}
		}
		if f.Cause != c.cause || !strings.Contains(f.Message, c.says) {
			t.Errorf("%s: says %q, cause %q", c.name, f.Message, f.Cause)
		}
		if fs := findingsOf(buildOf(t, c.mend()), c.code); len(fs) != 0 {
			t.Errorf("%s, mended: %s (%.3g)", c.name, fs[0].Message, fs[0].Value)
		}
	}
}

// Cavities that are alike have the same findings, each at its own place.
func TestFaultsOfAlikeCavities(t *testing.T) {
	spec := faults[0].fault()
	spec.Cavities = append(spec.Cavities, spec.Cavities[0])
	m := buildOf(t, spec)
	fs := findingsOf(m, "undercut")
	if len(fs) != 2 || fs[0].Cavity == fs[1].Cavity {
		t.Fatalf("%d findings: %v", len(fs), fs)
	}
	near(t, "apart", fs[1].At.Sub(*fs[0].At).Dist(m.Cavities[1].Eye.Sub(m.Cavities[0].Eye)), 0, 1e-9)
	for i, f := range fs {
		near(t, "place", m.Cavities[i].ToMold(*f.HeadAt).Dist(*f.At), 0, 1e-9)
	}
}

// The thinnest section of metal is known whichever way it lies.
func TestThinMetal(t *testing.T) {
	ball := geom.Ball(geom.Vec{}, 6)
	for _, c := range []struct {
		name string
		head geom.Solid
		want float64 // 0: none
	}{
		{"ball", ball, 0},
		{"upright fin", geom.Union(ball, block(-0.4, -3, 4, 0.4, 3, 9)), 0.8},
		{"fin across", geom.Union(ball, block(-3, -0.5, 4, 3, 0.5, 9)), 1},
		{"level tail", geom.Union(ball, block(4, -3, -0.6, 11, 3, 0.6)), 1.2},
	} {
		m := buildOf(t, one(c.head))
		thin := m.Cavities[0].Thin
		switch {
		case c.want == 0 && thin != nil:
			t.Errorf("%s: thin section of %.2f mm", c.name, thin.Thickness)
		case c.want > 0 && thin == nil:
			t.Errorf("%s: no thin section", c.name)
		case thin != nil:
			near(t, c.name, thin.Thickness, c.want, 0.01)
			near(t, c.name+": place", m.Cavities[0].ToMold(thin.HeadAt).Dist(thin.At), 0, 1e-9)
		}
	}
}

// The thinnest rubber is named with what it stands between, also where it is
// thick enough.
func TestThinnestRubber(t *testing.T) {
	spec := plainBalls(6)
	spec.Frame.Over = 3
	m := buildOf(t, spec)
	near(t, "thinnest rubber", m.Thinnest.Width, leastRubber, 0.1)
	if m.Thinnest.A == "" || m.Thinnest.B == "" {
		t.Errorf("between %q and %q", m.Thinnest.A, m.Thinnest.B)
	}
	spec.Frame.Over = 1.2
	m = buildOf(t, spec)
	near(t, "thinnest rubber over the head", m.Thinnest.Width, 1.2, 0.05)
	if m.Thinnest.A != "the head of cavity 1" || m.Thinnest.B != "the fill line" {
		t.Errorf("between %q and %q", m.Thinnest.A, m.Thinnest.B)
	}
}

// Every feature lies in its box, and the box no farther out than it must.
func TestFeatureBoxes(t *testing.T) {
	spec := ballSpec(2)
	b := placedOf(t, spec)
	b.keys = []Key{{At: geom.Vec{X: 30, Y: 5}, Diameter: 6, Depth: 2.2, BumpLeft: true}, {At: geom.Vec{X: -30, Y: 5}, Diameter: 6, Depth: 2.2}}
	for _, f := range b.features() {
		tight := reach(f.solid)
		if f.edge { // up to the edge
			tight.Max.Y = math.Min(tight.Max.Y, f.box.Max.Y)
		}
		if f.kind == keyFeature { // on one side of the parting plane or the other
			near(t, f.name+": height", math.Max(tight.Max.Z, -tight.Min.Z), f.box.Max.Z, 2*reachTol)
			near(t, f.name+": both sides", f.box.Min.Z, -f.box.Max.Z, 1e-12)
		}
		for _, d := range []float64{f.box.Min.X - tight.Min.X, f.box.Min.Y - tight.Min.Y, f.box.Min.Z - tight.Min.Z,
			tight.Max.X - f.box.Max.X, tight.Max.Y - f.box.Max.Y, tight.Max.Z - f.box.Max.Z} {
			if d > 2*reachTol {
				t.Errorf("%s reaches %.2f mm out of its box: %v, %v", f.name, d, tight, f.box)
			}
		}
	}
}

// placedOf is a mold with its cavities in place and no more.
func placedOf(t *testing.T, spec Spec) *builder {
	t.Helper()
	parts := partsOf(t, spec)
	b := &builder{spec: spec, parts: parts, row: arrange(parts, spec)}
	for i, p := range parts {
		p.move = b.row.at[i]
	}
	b.placeCavities()
	return b
}

// The thinnest rubber is at the cavity that it stands beside; a key's, at the
// nearest cavity.
func TestThinnestIsAtACavity(t *testing.T) {
	ctx := context.Background()
	for i, radii := range [][]float64{{6, 5}, {5, 6}} {
		b := placedOf(t, plainBalls(radii...))
		b.cavities[i].Eye = geom.Vec{X: 1e3} // not the nearest by its eye
		b.row.heights = heights{6.7, 6.7}
		if got := b.thinnest(ctx); got.of != i || math.Abs(got.Width-0.7) > 2*reachTol {
			t.Errorf("balls of %v: %+v", radii, got)
		}
	}
	b := placedOf(t, plainBalls(6, 6))
	in := b.row.inside
	r := b.spec.Keys.socketRadius()
	b.keys = []Key{{At: geom.Vec{X: in.Max.X - r - 0.8, Y: in.Min.Y + 9}, Diameter: 6, Depth: 2.2}}
	b.row.heights = heights{14, 14}
	if got := b.thinnest(ctx); got.of != 1 || math.Abs(got.Width-0.8) > 1e-6 || got.A != "key 1" || got.B != "a wall" {
		t.Errorf("key beside the wall: %+v", got)
	}
}

// Air under a brim is found in whichever half it stays, at its highest.
func TestBubblesOfBothHalves(t *testing.T) {
	hollow := geom.Ball(geom.Vec{X: 4.5, Z: 3}, 1.2)
	for _, c := range []struct {
		half string
		turn float64 // about the nose
		top  float64
		down bool
	}{{"left", 0, 4.2, false}, {"right", math.Pi, -4.2, true}} {
		b := placedOf(t, one(geom.Rotate(geom.Vec{X: 1}, c.turn).Solid(mushroom(hollow))))
		s := &shapeCheck{builder: b, part: b.parts[0], cavity: &b.cavities[0]}
		if err := s.bubbles(context.Background(), column.Undercut{Room: 9}, column.Draw{Down: c.down}, c.half); err != nil {
			t.Fatal(err)
		}
		if len(s.found) != 1 {
			t.Fatalf("%s: %+v", c.half, s.found)
		}
		near(t, c.half, s.found[0].Value, 2.0/3*math.Pi*1.2*1.2*1.2, 0.05)
		near(t, c.half+": place", s.found[0].HeadAt.Dist(geom.Vec{X: 4.5, Z: c.top}), 0, 0.5)
	}
}
