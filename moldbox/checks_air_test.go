package moldbox

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"halfpour/geom/column"

	"halfpour/geom"
)

// findingsOf are the findings of a code.
func findingsOf(m *Mold, code string) []Finding {
	var fs []Finding
	for _, f := range m.Findings {
		if f.Code == code {
			fs = append(fs, f)
		}
	}
	return fs
}

// hornSpec is a bare ball with a horn on its left flank, which ends in half a
// ball of 1.5 mm about (4, 4, 7): 14.1 mm³ and more of air when it stands up.
func hornSpec(turn float64) Spec {
	spec := plainBalls(6)
	spec.Cavities[0].Head = geom.Union(geom.Ball(geom.Vec{}, 6), geom.Capsule(geom.Vec{X: 3, Z: 4}, geom.Vec{X: 4, Y: 4, Z: 7}, 1.5))
	spec.Cavities[0].Turn = turn
	return spec
}

// Air in a horn that no vent in the parting plane can reach is found at its
// tip; upside down the horn fills.
func TestTrappedAir(t *testing.T) {
	fs := findingsOf(buildOf(t, hornSpec(0)), "air-trapped")
	if len(fs) != 1 || fs[0].Severity != Stop {
		t.Fatalf("%d findings of trapped air, want one that says stop: %v", len(fs), fs)
	}
	near(t, "place of the air", fs[0].HeadAt.Dist(geom.Vec{X: 4, Y: 5.5, Z: 7}), 0, 0.5)
	if v := fs[0].Value; v < 2.0/3*math.Pi*1.5*1.5*1.5 || v > 40 {
		t.Errorf("%.2f mm³ stay, want between half a ball's and all of the horn's", v)
	}
	if fs := findingsOf(buildOf(t, hornSpec(math.Pi)), "air-trapped"); len(fs) != 0 {
		t.Errorf("upside down: %v", fs)
	}
}

// Beside a wire some air may leave, but not a share of the head that nobody can
// weigh: what stays is no more than the fill of a head leaves open.
func TestTrappedAirShare(t *testing.T) {
	fin := func(wide float64) Spec { // up over the gate, beside the parting plane
		spec := plainBalls(6)
		spec.Cavities[0].Head = geom.Union(geom.Ball(geom.Vec{}, 6), block(2, 0, 0.8, 2+wide, 9, 2.8))
		spec.Cavities[0].Gate = &geom.Vec{X: -3}
		spec.Cavities[0].Keepers = []Keeper{{Wire: 1, Fit: 0.05, Points: []geom.Vec{{X: 0, Y: 8.6}, {X: 14, Y: 8.6}}}}
		return spec
	}
	for r, want := range map[float64]Severity{1.5: Warn, 8: Stop} {
		m := buildOf(t, fin(r))
		fs := findingsOf(m, "air-trapped")
		if len(fs) != 1 || fs[0].Severity != want {
			t.Errorf("fin %g mm wide: %v", r, fs)
			continue
		}
		if share := fs[0].Value / m.Cavities[0].HeadVolume; (share > airShare) != (want == Stop) {
			t.Errorf("fin %g mm wide: %.2f mm³, %.3f of the head", r, fs[0].Value, share)
		}
	}
}

// Held to choose a turn by: half a ball's air and more, where the parting plane does
// not meet it; none with the horn hanging down.
func TestStrandedAir(t *testing.T) {
	for turn, most := range map[float64]float64{0: 40, math.Pi: 0} {
		spec := hornSpec(turn)
		p := partsOf(t, spec)[0]
		air, err := p.strandedAir(context.Background(), spec.Checks.Air)
		if err != nil {
			t.Fatal(err)
		}
		if least := min(most, 2.0/3*math.Pi*1.5*1.5*1.5); air < least || air > most {
			t.Errorf("turned by %.2f: %.2f mm³, want %.2f to %.2f", turn, air, least, most)
		}
	}
}

// The limit may be raised.
func TestTrappedAirLimit(t *testing.T) {
	spec := hornSpec(0)
	spec.Checks.Air = 60
	if fs := findingsOf(buildOf(t, spec), "air-trapped"); len(fs) != 0 {
		t.Errorf("with a limit of 60 mm³: %v", fs)
	}
}

// Pockets that the vents of the outline leave are vented too: a horn that leans
// out of the parting plane so little that its roof is still cut by it.
func TestVentFromPocket(t *testing.T) {
	spec := plainBalls(6)
	spec.Cavities[0].Head = geom.Union(geom.Ball(geom.Vec{}, 6), geom.Capsule(geom.Vec{X: 3}, geom.Vec{X: 8, Y: 3, Z: 0.6}, 1.5))
	m := buildOf(t, spec)
	if fs := findingsOf(m, "air-trapped"); len(fs) != 0 {
		t.Errorf("air stays: %v", fs)
	}
	if len(m.Cavities[0].VentsAt) == 0 {
		t.Error("no vent")
	}
}

// Two humps beside a gate between them hold air without vents: half of a ball's
// cap each, under a spill at the height of the saddle. Each is told with the
// vent that frees it; what no vent frees is told as staying.
func TestAirThatVentsFree(t *testing.T) {
	spec := plainBalls(6)
	c := &spec.Cavities[0]
	c.Head = geom.Union(geom.Capsule(geom.Vec{X: -9}, geom.Vec{X: 9}, 3), geom.Ball(geom.Vec{X: -9}, 5), geom.Ball(geom.Vec{X: 9}, 5))
	c.Gate = &geom.Vec{Y: 3}
	m := buildOf(t, spec)
	placed := m.Cavities[0]
	if len(placed.Air) != 2 {
		t.Fatalf("%d pockets, want one in each hump: %+v", len(placed.Air), placed.Air)
	}
	// A cap of the ball 2 mm high, less a little under the neck.
	want := math.Pi * 2 * 2 * (5 - 2.0/3)
	for _, p := range placed.Air {
		near(t, "air", p.Volume, want, 0.05*want)
		near(t, "top", p.HeadAt.Dist(geom.Vec{X: math.Copysign(9, p.HeadAt.X), Y: 5}), 0, 0.3)
		if p.Vent < 0 || placed.VentsAt[p.Vent].Dist(p.Top) > 1 {
			t.Errorf("freed by vent %d of %v, its top is at %v", p.Vent, placed.VentsAt, p.Top)
		}
	}
	if air := buildOf(t, hornSpec(0)).Cavities[0].Air; len(air) == 0 || air[0].Vent != noVent {
		t.Errorf("in a horn that no vent reaches: %+v", air)
	}
}

// Left to itself the horn hangs down, or lies where its air can rise; a twin is
// turned alike.
func TestAutoTurn(t *testing.T) {
	spec := hornSpec(0)
	spec.Cavities[0].AutoTurn = true
	spec.Cavities = append(spec.Cavities, spec.Cavities[0])
	m := buildOf(t, spec)
	if fs := findingsOf(m, "air-trapped"); len(fs) != 0 {
		t.Errorf("air stays: %v", fs[0])
	}
	near(t, "turn in steps of 15°", math.Remainder(m.Spec.Cavities[0].Turn, 15*math.Pi/180), 0, 1e-9)
	if !hasFinding(m, "turn-chosen", Note) || m.Spec.Cavities[0].Turn != m.Spec.Cavities[1].Turn || m.Cavities[1].AlikeTo != 0 {
		t.Errorf("turns %.2f and %.2f: %v", m.Spec.Cavities[0].Turn, m.Spec.Cavities[1].Turn, m.Findings)
	}
}

// Of turns without trapped air the one with the least rubber is taken: a long
// head lies along, or stands, whichever takes less.
func TestAutoTurnSavesRubber(t *testing.T) {
	head := geom.Capsule(geom.Vec{X: -14}, geom.Vec{X: 14}, 4)
	spec := one(head)
	area := func(s Spec) float64 { b := buildOf(t, s).Left.Inside.Size(); return b.X * b.Y }
	least := math.Inf(1)
	for _, turn := range []float64{0, math.Pi / 4, math.Pi / 2} {
		spec.Cavities[0].Turn = turn
		least = math.Min(least, area(spec))
	}
	spec.Cavities[0].AutoTurn = true
	if got := area(spec); got > least*1.02 {
		t.Errorf("auto takes %.0f mm² of the parting plane, turned by hand %.0f", got, least)
	}
}

// Air stops a mold from ten times the limit on, unless some of it may leave along a
// wire; a share of more than 4 % of the head stops it in any case.
func TestTrappedSeverity(t *testing.T) {
	for _, c := range []struct {
		what    string
		spec    Spec
		at      geom.Vec
		volumes []float64
		want    Severity
	}{
		{"below ten times", plainBalls(6), geom.Vec{Y: 5}, []float64{4.999}, Warn},
		{"ten times", plainBalls(6), geom.Vec{Y: 5}, []float64{5}, Stop},
		{"3.9 %", plainBalls(6), geom.Vec{Y: 5}, []float64{0.035 * ballVolume, 0.004 * ballVolume}, Stop},
		{"two small ones over 4 %", plainBalls(6), geom.Vec{Y: 5}, slices.Repeat([]float64{4.9}, 8), Stop},
		{"at a wire", one(nil), geom.Vec{X: 9 + 5, Y: 0.7 + 1.5}, []float64{20}, Warn},
		{"off the wire", one(nil), geom.Vec{X: 9 + 5, Y: 0.7 + 3}, []float64{20}, Stop},
		{"4.1 % at a wire", one(nil), geom.Vec{X: 9 + 5}, []float64{0.041 * ballVolume}, Stop},
	} {
		if c.spec.Cavities[0].Head == nil {
			c.spec.Cavities[0] = throughBall()
		}
		parts := partsOf(t, c.spec)
		b := &builder{spec: c.spec, parts: parts, cavities: []Placed{{Name: "ball"}}}
		var left []column.Pocket
		for _, v := range c.volumes {
			left = append(left, column.Pocket{Volume: v, Top: c.at, Box: geom.Box{Min: geom.Vec{Z: -1}, Max: geom.Vec{Z: 1}}})
		}
		fs := b.trapped(0, left)
		if len(fs) != len(c.volumes) {
			t.Fatalf("%s: %d findings", c.what, len(fs))
		}
		f := fs[0]
		if f.Severity != c.want || f.Value != c.volumes[0] || f.Limit != 0.5 || *f.At != c.at || f.Code != "air-trapped" || f.Cavity != "ball" {
			t.Errorf("%s: %+v", c.what, f)
		}
		near(t, c.what+": place in the head", f.HeadAt.Dist(parts[0].toPart.Inverse().Point(c.at)), 0, 1e-9)
		if strings.Contains(f.Message, "wire") != (c.what == "at a wire") {
			t.Errorf("%s: %s", c.what, f.Message)
		}
	}
}

// The parting plane meets a pocket that comes within half a step of it.
func TestMeetsParting(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		want   bool
	}{{-1, 1, true}, {airStep / 2, 1, true}, {airStep, 1, false}, {-1, -airStep / 2, true}, {-1, -airStep, false}} {
		p := column.Pocket{Box: geom.Box{Min: geom.Vec{Z: c.lo}, Max: geom.Vec{Z: c.hi}}}
		if meetsParting(p) != c.want {
			t.Errorf("from %g to %g mm: %v", c.lo, c.hi, !c.want)
		}
	}
}

// A vent out of a pocket starts at its highest place in the parting plane that
// lies over where the pocket spills.
func TestFreeStartsOverTheSpill(t *testing.T) {
	v := ventingUnder(-30, -20)
	v.part = &part{cut: traceSection(v.ctx, v.head, v.head.BoundingBox())}
	roof := []geom.Vec{{X: 1, Y: 3, Z: airStep}, {X: 2, Y: 3.46}, {Y: 4}}
	for spill, want := range map[float64]bool{3.9: true, 4: false} {
		ch, ok := v.free(column.Pocket{Reach: roof, Spill: spill}, nil)
		if ok != want || ok && ch.way[0] != (geom.Vec{Y: 4}) {
			t.Errorf("spill at %g mm: %v, %v", spill, ok, ch.way)
		}
	}
}

// A bare ball of 8 mm takes 16 mm along the row, its share of the rubber between
// two and to the walls, and from the top edge to the wall below.
func TestTakenByABall(t *testing.T) {
	spec := plainBalls(8, 8)
	for _, c := range []struct{ wall, want float64 }{
		{11, (16 + (8+22)/2.0) * (18 + 16 + 11)},
		{30, (16 + (8+60)/2.0) * (30 + 16 + 30)}, // the wall's rubber decides the top
	} {
		spec.Frame.ToWall = c.wall
		near(t, "area", partsOf(t, spec)[0].taken(spec), c.want, 0.01*c.want)
	}
}
