package pourplan

import (
	"context"
	"math"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
)

func TestRangeParts(t *testing.T) {
	m := Metal{Density: Span{11.30, 11.34, 11.35}, Shrink: Span{0.8, 0.87, 0.95}, FillFactor: 0.98, FillRange: Span{0.97, 0.98, 1}}
	r := Rubber{Shrink: Span{0.2, 0.5, 1.0}}
	v := headVolumes{1000, 20}
	parts := rangeParts(v, m, r, 60)
	if len(parts) != 4 {
		t.Fatalf("got %+v", parts)
	}
	for i, want := range []struct {
		from      string
		low, high float64
	}{
		{"metal.fill_range", -0.01 * 11.34 * 0.980, 0.02 * 11.34 * 0.980},
		{"metal.density_range", -0.04 * 0.98 * 0.980, 0.01 * 0.98 * 0.980},
		{"rubber.shrink_range", 11.34 * 0.98 * (cube(0.990/0.995) - 1), 11.34 * 0.98 * (cube(0.998/0.995) - 1)},
		{"metal.shrink_range", 11.34 * 0.98 * (cube(0.9905/0.9913) - 1), 11.34 * 0.98 * (cube(0.992/0.9913) - 1)},
	} {
		if parts[i].From != want.from {
			t.Errorf("part %d is from %q, want %q", i, parts[i].From, want.from)
		}
		near(t, want.from+" low", parts[i].LowG, want.low, 1e-9)
		near(t, want.from+" high", parts[i].HighG, want.high, 1e-9)
	}
	// One at a time they come to nearly all of the range.
	low, high, span := 0.0, 0.0, predict(v, m, r, 60)
	for _, p := range parts {
		low, high = low+p.LowG, high+p.HighG
	}
	near(t, "sum of the lows", low, span.Lo-span.Best, 0.03)
	near(t, "sum of the highs", high, span.Hi-span.Best, 0.03)
	if got, want := FormatRange(parts[:2]), "how well it fills -0.11 +0.22 g, density of the metal -0.04 +0.01 g"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	exact := Metal{Density: exactly(11), Shrink: exactly(0.9), FillFactor: 1}
	if parts := rangeParts(v, exact, Rubber{Shrink: exactly(0.5)}, 60); len(parts) != 0 || FormatRange(parts) != "" {
		t.Errorf("exact figures make a range: %+v", parts)
	}
}

// A factor that somebody weighed is exact; one that nobody did is 0.96 to 1.
func TestFillRange(t *testing.T) {
	for name, c := range map[string]struct {
		lines   string
		want    Span
		typical bool
	}{
		"left out": {"", Span{0.96, 1, 1}, true},
		"weighed":  {"fill_factor = 0.985\n", Span{0.985, 0.985, 0.985}, false},
		"both":     {"fill_factor = 0.985\nfill_range = [0.98, \"99 %\"]\n", Span{0.98, 0.985, 0.99}, false},
		"range":    {"fill_range = [0.9, 1]\n", Span{0.9, 1, 1}, false},
	} {
		m, err := read(t, swap("[rubber]", c.lines+"[rubber]")(shortJob)).Metal.resolve()
		if err != nil {
			t.Fatal(err)
		}
		if got := m.fill(); got != c.want {
			t.Errorf("%s: got %v, want %v", name, got, c.want)
		}
		if got := strings.Contains(strings.Join(m.Typical, " "), "metal.fill_range"); got != c.typical {
			t.Errorf("%s: typical is %v", name, got)
		}
	}
	_, err := ReadJob("job.toml", []byte(swap("[rubber]", "fill_factor = 0.9\nfill_range = [0.95, 1]\n[rubber]")(shortJob)))
	if err == nil || !strings.Contains(err.Error(), "metal.fill_range: must hold 0.9") {
		t.Errorf("got %v", err)
	}
}

// workedJob is a head of 0.547 oz of lead by volume alone, 1366.3 mm³ at 11.35
// g/cm³: here a ball of 13.767 mm on a 90° hook, in a mold that somebody drew by
// hand.
const workedJob = `
turn = -90
[head]
file = "ball.stl"
eye = [-2, 9.6, 0]
[hook]
wire = 1.1
eye_inside = 2
leg = 9.6
shank = 28
gape = 10
point = 11.5
mass = "0.019 oz"
[weight]
scale = 1
[metal]
preset = "lead"
[rubber]
preset = "tin-cure 100:3"
`

// worked is the worked casting: all that a weight of it is computed from.
type worked struct {
	volumes headVolumes
	metal   Metal
	rubber  Rubber
	steel   float64
}

// oz is what it weighs when the figures come out as u, from a print that was made
// larger for nothing.
func (w worked) oz(u unsure) float64 {
	f := ShrinkFactor(u.rubberShrink, u.metalShrink, u.grown)
	return (FinishedMass(u.density, u.fill*u.fed, w.volumes.head/cube(f)-w.volumes.inHead, 0) + w.steel) / GramPerOz
}

func workedCasting(t *testing.T) worked {
	t.Helper()
	job := read(t, workedJob)
	spec, err := job.Spec(func(string) (geom.Solid, error) {
		return geom.Ball(geom.Vec{}, math.Cbrt(3.0/4/math.Pi*0.547*GramPerOz/11.35e-3)), nil
	})
	if err != nil {
		t.Fatal(err)
	}
	// The hook by volume comes to what it weighs, to 1 %.
	near(t, "hook", 7.85e-3*spec.Cavities[0].Hook.Volume()/GramPerOz, 0.019, 0.01)
	mold, err := moldbox.Build(context.Background(), spec)
	if err != nil {
		t.Fatal(err)
	}
	placed := mold.Cavities[0]
	near(t, "by volume alone", placed.HeadVolume*11.35e-3/GramPerOz, 0.547, 1e-3)
	w := worked{volumes: headVolumes{placed.HeadVolume, placed.WireInHead}, steel: 0.019 * GramPerOz}
	cases, _ := job.CastCases()
	var cast moldbox.MeasuredCast
	if cast.Best, err = mold.Freeze(context.Background(), cases.Best, cases.Limits[:]); err != nil {
		t.Fatal(err)
	}
	if cast.Slow, err = mold.FreezeRoughly(context.Background(), cases.Slow, cases.Limits[:]); err != nil {
		t.Fatal(err)
	}
	if w.metal, err = job.Metal.resolve(); err != nil {
		t.Fatal(err)
	}
	w.metal = job.WithCast(cast).inCavity(0, w.metal)
	if w.rubber, err = job.Rubber.resolve(); err != nil {
		t.Fatal(err)
	}
	return w
}

// Castings of it weighed 0.500, 0.517 and 0.52 oz, their mean is 0.5123 oz
// (one maker's scale, no published source). Volume and hook alone make 0.566 oz.
// Term by term, then what is left: docs/accuracy.md has the same table.
func TestWorkedCastings(t *testing.T) {
	w := workedCasting(t)
	fed, grown := w.metal.fed(), w.rubber.grown(60)
	t.Logf("solid when the gate shuts: %.3f, as it is fed: %.4f", w.metal.Fed, fed)
	u := unsure{density: 11.35, fill: 1, fed: 1}
	for _, step := range []struct {
		what string
		with func()
		oz   float64
	}{
		{"less what the hook displaces", func() {}, 0.560},
		{"lead shrinks from 327 °C", func() { u.metalShrink = w.metal.Shrink.Best }, 0.546},
		{"the rubber had shrunk", func() { u.rubberShrink = w.rubber.Shrink.Best }, 0.538},
		{"and had grown in a mold of 60 °C", func() { u.grown = grown.Best }, 0.554},
		{"four fifths of the head are cut off as melt, by the computed shot", func() { u.fed = fed.Best }, 0.538},
	} {
		step.with()
		if got := w.oz(u); math.Abs(got-step.oz) > 6e-4 {
			t.Errorf("%s: %.4f oz, want %.3f", step.what, got, step.oz)
		}
	}
	// In a cold mold, at the best of the rest: 0.523 oz.
	cold := u
	cold.grown = 0
	if got := w.oz(cold); math.Abs(got-0.523) > 6e-4 {
		t.Errorf("cold mold: %.4f oz", got)
	}
	low := unsure{11.30, 1, fed.Lo, w.rubber.Shrink.Hi, w.metal.Shrink.Hi, grown.Lo}
	high := unsure{11.35, 1, fed.Hi, w.rubber.Shrink.Lo, w.metal.Shrink.Lo, grown.Hi}
	t.Logf("full: %.4f to %.4f oz", w.oz(low), w.oz(high))
	if got := w.oz(high); math.Abs(got-0.554) > 6e-4 {
		t.Errorf("at most %.4f oz", got)
	}
	// What is left for filling when all else is at its low end: the range of filling
	// is what these castings need, and no more.
	least := 1.0
	for _, oz := range []float64{0.500, 0.517, 0.52} {
		left := (oz*GramPerOz - w.steel) / (w.oz(low)*GramPerOz - w.steel)
		t.Logf("%.3f oz: %.3f of it", oz, left)
		least = math.Min(least, left)
	}
	if fill := notWeighed(); !(fill.Lo <= least && least < fill.Lo+0.01) || fill.Hi != 1 {
		t.Errorf("the lightest needs a filling of %.3f, the range is %v", least, fill)
	}
}
