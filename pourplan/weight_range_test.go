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
	parts := rangeParts(v, m, r)
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
	low, high, span := 0.0, 0.0, predict(v, m, r)
	for _, p := range parts {
		low, high = low+p.LowG, high+p.HighG
	}
	near(t, "sum of the lows", low, span.Lo-span.Best, 0.03)
	near(t, "sum of the highs", high, span.Hi-span.Best, 0.03)
	if got, want := FormatRange(parts[:2]), "how well it fills -0.11 +0.22 g, density of the metal -0.04 +0.01 g"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	exact := Metal{Density: exactly(11), Shrink: exactly(0.9), FillFactor: 1}
	if parts := rangeParts(v, exact, Rubber{Shrink: exactly(0.5)}); len(parts) != 0 || FormatRange(parts) != "" {
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
// hand. Nothing was made larger for shrinkage, so that both shrinkages are
// between nothing and all they come to; and the lead is lead.
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
shrink = 0
shrink_range = [0, 1.13] # 0.87 and 30 % more
[rubber]
preset = "tin-cure 100:3"
shrink = 0
shrink_range = [0, 1]
`

// Castings of it weighed 0.500, 0.517 and 0.52 oz, their mean is 0.5123 oz
// (one maker's scale, no published source). The range must hold it. Which allowances close
// the gap of 0.054 oz to the naive 0.566 oz of volume and hook: what the hook
// displaces takes 0.006, the two shrinkages up to 0.034, and filling that is
// not perfect up to 0.022 oz; without the last the range begins above the mean.
func TestWorkedCastings(t *testing.T) {
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
	m := moldbox.MeasuredCavity{Name: placed.Name, Scale: placed.Scale, Shrink: placed.Shrink, Head: placed.HeadVolume,
		WireInHead: placed.WireInHead, Wires: placed.Wires}
	metal, err := job.Metal.resolve()
	if err != nil {
		t.Fatal(err)
	}
	rubber, err := job.Rubber.resolve()
	if err != nil {
		t.Fatal(err)
	}
	h := planHead(job.Placed()[0], m, metal, rubber)
	const mean = (0.500 + 0.517 + 0.52) / 3
	low, high := h.FinishedG.Low/GramPerOz, h.FinishedG.High/GramPerOz
	t.Logf("%.4f to %.4f oz, %s; the hook displaces %.4f oz", low, high, FormatRange(h.RangeFrom), m.WireInHead*11.35e-3/GramPerOz)
	if !(low <= mean && mean <= high) {
		t.Errorf("the range %.4f to %.4f oz does not hold %.4f oz", low, high, mean)
	}
	metal.FillRange = exactly(1)
	h = planHead(job.Placed()[0], m, metal, rubber)
	if low = h.FinishedG.Low / GramPerOz; low <= mean {
		t.Errorf("with perfect filling the range begins at %.4f oz: the note above is no longer true", low)
	}
}
