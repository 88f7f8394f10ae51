package moldbox

import (
	"context"
	"math"
	"reflect"
	"strconv"
	"testing"

	"halfpour/geom"
)

func hasFinding(m *Mold, code string, severity Severity) bool {
	for _, f := range m.Findings {
		if f.Code == code && f.Severity == severity {
			return true
		}
	}
	return false
}

func TestGoodMoldHasNoStops(t *testing.T) {
	for name, spec := range map[string]Spec{
		"balls": ballSpec(2), "darters": darterSpec(t, 2), "bare balls": plainBalls(6, 8),
	} {
		for _, f := range buildOf(t, spec).Findings {
			if f.Severity != Note {
				t.Errorf("%s: %s %s: %s", name, f.Severity, f.Code, f.Message)
			}
		}
	}
}

func TestFindings(t *testing.T) {
	for _, c := range []struct {
		code     string
		severity Severity
		spoil    func(*Spec)
	}{
		// The eye in the middle of the head is full of metal.
		{"eye-not-clear", Stop, func(s *Spec) { s.Cavities[0].Eye = geom.Vec{} }},
		{"eye-off-parting", Warn, func(s *Spec) { s.Cavities[0].Eye.Z = 0.5 }},
		// The leg comes out of the head 0.3 radii before the middle.
		{"gate-on-hook", Stop, func(s *Spec) {
			s.Cavities[0].Turn = 0
			s.Cavities[0].Gate = &geom.Vec{X: -1.8, Y: 5.7}
		}},
		{"gate-moved", Note, func(s *Spec) { s.Cavities[0].Gate = &geom.Vec{X: 5, Y: 0.5} }},
		{"gate-overhangs", Warn, func(s *Spec) { s.Sprue.GateWidth, s.Sprue.Throat = 14, 14; s.Sprue.Mouth = 16 }},
		{"eye-off-parting", Stop, func(s *Spec) { s.Cavities[0].Eye.Z = 2.2 }}, // its radius is 2.1 mm
		{"hook-misses-head", Stop, func(s *Spec) { s.Cavities[0].Eye = geom.Vec{X: 12, Y: 8.6} }},
		{"hook-misses-head", Stop, func(s *Spec) { s.Cavities[0].Pose.Back = geom.Vec{Y: -1} }},
		{"wire-misses-head", Stop, func(s *Spec) {
			s.Cavities[0].Keepers = []Keeper{{Wire: 0.9, Fit: 0.05, Points: []geom.Vec{{X: 8, Y: 3}, {X: 18, Y: 3}}}}
		}},
		{"thinner-than-nozzle", Warn, func(s *Spec) { s.Vents.Width = 0.3 }},
		{"fewer-keys", Note, func(s *Spec) { s.Keys.Count = 12; s.Keys.Diameter = 9 }},
	} {
		spec := ballSpec(1)
		spec.Cavities[0].MetalVolume = 0
		c.spoil(&spec)
		m := buildOf(t, spec)
		if !hasFinding(m, c.code, c.severity) {
			t.Errorf("no %s %s among %d findings: %v", c.severity, c.code, len(m.Findings), m.Findings)
		}
		for _, f := range m.Findings {
			if f.Message == "" || (f.At == nil) != (f.HeadAt == nil) {
				t.Errorf("%s: finding without message or place: %+v", c.code, f)
			}
		}
	}
}

// A finding's place in the head's file is the same place as in the mold.
func TestFindingPlaces(t *testing.T) {
	spec := ballSpec(1)
	spec.Cavities[0].Eye = geom.Vec{X: 1, Y: 0.5}
	m := buildOf(t, spec)
	for _, f := range m.Findings {
		if f.HeadAt != nil {
			near(t, f.Code, m.Cavities[0].ToMold(*f.HeadAt).Dist(*f.At), 0, 1e-9)
		}
	}
}

// The severe come first, and what is alike keeps its order.
func TestSortFindings(t *testing.T) {
	fs := []Finding{{Severity: Note, Code: "5"}, {Severity: Warn, Code: "3"}, {Severity: Stop, Code: "1"},
		{Severity: Note, Code: "6"}, {Severity: Warn, Code: "4"}, {Severity: Stop, Code: "2"}}
	sortFindings(fs)
	for i, f := range fs {
		if f.Code != strconv.Itoa(i+1) {
			t.Errorf("at %d: %s %s", i+1, f.Severity, f.Code)
		}
	}
}

// A throat may be ten times as long as it is wide.
func TestLongSprue(t *testing.T) {
	p := partsOf(t, plainBalls(6))[0]
	for long, want := range map[float64]int{40: 0, 40.001: 1} {
		fs := findingsOf(&Mold{Findings: checkCavity(context.Background(), p, &Placed{Throat: long})}, "long-sprue")
		if len(fs) != want || want == 1 && (fs[0].Severity != Note || fs[0].Value != long || fs[0].Limit != 40) {
			t.Errorf("%g mm of 4 mm wide: %v", long, fs)
		}
	}
}

// A head holds a wire by its thickness at least: here by a slab across a straight
// shank. Turned upside down a head that is the same both ways holds as much.
func TestHeldByASlab(t *testing.T) {
	for _, wire := range []float64{0.5, 2} {
		for thick, held := range map[float64]bool{0.7: false, 1.3: true} {
			slab := block(10, -6, -6, 10+thick*wire, 6, 6)
			v := Cavity{Head: slab, Pose: plainPose, Hook: &Hook{Wire: wire, EyeInside: 3, Shank: 60, Gape: 20, Point: 4}}
			w, err := weigh(context.Background(), v, 144*thick*wire, "cavities[0]")
			if err != nil {
				t.Fatal(err)
			}
			p := &part{Cavity: v, weighed: w, wires: v.wires(1), toPart: v.toHook(1)}
			fs := checkHeld(context.Background(), p, &Placed{Name: "slab"})
			if (len(fs) == 0) != held || p.heldUpsideDown(context.Background()) != held {
				t.Errorf("%g of %g mm wire in metal: %v, upside down %v", thick*wire, wire, fs, p.heldUpsideDown(context.Background()))
			}
			if !held && len(fs) == 1 {
				near(t, "length held", fs[0].Value, thick*wire, 0.05)
				near(t, "of", fs[0].Limit, wire, 1e-12)
			}
		}
	}
}

// What is found of cavities that are alike is what each of them shows by itself, in one
// row as in two, where throats differ.
func TestAlikeCavitiesAreCheckedOnce(t *testing.T) {
	spec := ballSpec(4)
	spec.Layout.Rows = 2
	spec.Sprue.Throat = 1.2 // so that the throats of the lower row are long
	spec.Cavities[2].Wall, spec.Cavities[3].Wall = 5, 5
	m := buildOf(t, spec)
	b, codes := m.made.by, map[string]int{}
	var want []Finding
	for i, p := range b.parts {
		want = append(want, checkCavity(context.Background(), p, &b.cavities[i])...)
	}
	got := b.checkCavities(context.Background())
	if len(got) != len(want) {
		t.Fatalf("%d findings, %d of each by itself", len(got), len(want))
	}
	for i, f := range got {
		w := want[i]
		if f.At.Dist(*w.At) > 1e-9 || f.HeadAt.Dist(*w.HeadAt) > 1e-9 || math.Abs(f.Value-w.Value) > 1e-9 {
			t.Errorf("%s of %s at %v: %g, want %g at %v", f.Code, f.Cavity, *f.At, f.Value, w.Value, *w.At)
		}
		f.At, f.HeadAt, f.Value = w.At, w.HeadAt, w.Value
		if !reflect.DeepEqual(f, w) {
			t.Errorf("got %+v, want %+v", f, w)
		}
		codes[f.Code]++
	}
	if codes["long-sprue"] == 0 || codes["metal-thin"] == 0 {
		t.Errorf("found %v", codes)
	}
}
