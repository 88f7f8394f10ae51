package moldbox

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
)

func TestCollisions(t *testing.T) {
	at := func(x float64) Placed {
		return Placed{
			Name: "ball", Head: geom.Ball(geom.Vec{X: x}, 6),
			Bed: geom.Capsule(geom.Vec{X: x}, geom.Vec{X: x + 14, Y: 2}, 0.6),
		}
	}
	for _, c := range []struct {
		x    float64
		code string
	}{
		{40, ""}, {28.65, ""}, {28, "cavities-too-near"}, {20, "wire-crosses"}, {10, "wire-crosses"},
	} {
		code := ""
		b := &builder{spec: Spec{Frame: FrameSpec{Between: 7.9 + betweenTol}}, cavities: []Placed{at(0), at(c.x)}}
		for _, x := range []float64{0, c.x} {
			box := geom.Box{Min: geom.Vec{X: -6, Y: -6, Z: -6}, Max: geom.Vec{X: 14.6, Y: 6, Z: 6}}
			b.parts = append(b.parts, &part{headBox: box, bedBox: geom.EmptyBox(), move: geom.Vec{X: x}})
		}
		for _, n := range b.nearNeighbours(context.Background()) {
			code = n.code
		}
		if code != c.code {
			t.Errorf("at %g mm: finding %q, want %q", c.x, code, c.code)
		}
	}
}

func TestNearest(t *testing.T) {
	a, b := geom.Ball(geom.Vec{}, 5), geom.Ball(geom.Vec{X: 9, Y: 9, Z: 3}, 4)
	gap := geom.Vec{X: 9, Y: 9, Z: 3}.Norm() - 9
	if _, near := nearest(a, b, gap-0.05); near {
		t.Error("found nearer than they are")
	}
	n, near := nearest(a, b, gap+0.05)
	if !near {
		t.Fatal("not found")
	}
	near4 := 4 * 0.02
	if math.Abs(n.gap-gap) > near4 || a.Evaluate(n.at) > gap/2+0.03 || b.Evaluate(n.at) > gap/2+0.03 {
		t.Errorf("gap %.3f at %v, want %.3f", n.gap, n.at, gap)
	}
	// Two balls of 5 mm whose centres are 7 mm apart overlap by 3 mm.
	if n, _ := nearest(a, geom.Ball(geom.Vec{Y: 7}, 5), 1); math.Abs(n.gap+3) > near4 {
		t.Errorf("overlap %.3f, want 3", -n.gap)
	}
}

// A pitch by hand is from sprue to sprue; the row's ends keep their rubber.
func TestPitchByHand(t *testing.T) {
	spec := plainBalls(8, 10, 7)
	spec.Frame.Pitch = 31
	row := arrange(partsOf(t, spec), spec)
	for i := 1; i < 3; i++ {
		near(t, "pitch", row.at[i].X-row.at[i-1].X, 31, 1e-3)
	}
	near(t, "width", row.inside.Size().X, 8+2*31+7+2*spec.Frame.ToWall, 2*reachTol)
	near(t, "middle", row.inside.Centre().X, 0, 1e-9)

	// At a tight pitch the widest ball, in the middle, decides the row's ends.
	spec.Frame.Pitch = 1
	row = arrange(partsOf(t, spec), spec)
	near(t, "width of a tight row", row.inside.Size().X, 2*10+2*spec.Frame.ToWall, 2*reachTol)
}

func TestPitchFindings(t *testing.T) {
	for _, c := range []struct {
		pitch    float64
		code     string
		severity Severity
		value    float64
		message  string
	}{
		{24, "", "", 0, ""}, // 2·8 of balls and 8 of rubber
		{20, "cavities-too-near", Warn, 4, "leaves too little rubber next to cavity 2, the worst of 2 pairs"},
		{13, "cavities-collide", Stop, 0, "runs into cavity 2, 3.0 mm deep, the worst of 2 pairs"},
	} {
		spec := plainBalls(8, 8, 8)
		spec.Frame.Pitch = c.pitch
		var found []Finding
		for _, f := range buildOf(t, spec).Findings {
			if f.Severity != Note && f.Code != "vent-blocked" {
				found = append(found, f)
			}
		}
		if c.code == "" {
			if len(found) > 0 {
				t.Errorf("pitch %g: %v", c.pitch, found)
			}
			continue
		}
		if len(found) != 1 {
			t.Errorf("pitch %g: %d findings: %v", c.pitch, len(found), found)
			continue
		}
		f := found[0]
		if f.Code != c.code || f.Severity != c.severity || f.Cavity != "cavity 1" || f.At == nil || f.HeadAt == nil ||
			math.Abs(f.Value-c.value) > 0.1 || f.Limit != 8 || f.Message != c.message ||
			len(f.Figures) != 1 || f.Figures[0] != 24.0 {
			t.Errorf("pitch %g: %+v", c.pitch, f)
		}
	}
}
