package pourplan

import (
	"fmt"
	"math"
	"math/rand"
	"reflect"
	"strings"
	"testing"
)

// "100:b" is b g of B to 100 g of A by mass; derived by arithmetic.
func TestSplit(t *testing.T) {
	for _, c := range []struct{ b, wantA, wantB float64 }{
		{10, 136.3636, 13.6364}, {5, 142.8571, 7.1429}, {3, 145.6311, 4.3689},
		{2.5, 146.3415, 3.6585}, {2, 147.0588, 2.9412}, {100, 75, 75},
	} {
		a, b := Ratio{100, c.b}.Split(150)
		near(t, fmt.Sprintf("A at 100:%g", c.b), a, c.wantA, 1e-6)
		near(t, fmt.Sprintf("B at 100:%g", c.b), b, c.wantB, 2e-5)
	}
	// The trap: B is not 10 % of the mix.
	if _, b := (Ratio{100, 10}).Split(150); math.Abs(b-15) < 1 {
		t.Error("B is taken of the mix, not of A")
	}
}

func TestBFor(t *testing.T) {
	// Common practice, no source.
	near(t, "162.22 g at 100:3", BFor(162.22, Ratio{100, 3}), 4.87, 1e-3)
	near(t, "176 g at 10:1", BFor(176, Ratio{10, 1}), 17.6, 1e-12)
	near(t, "back", AFor(BFor(162.22, Ratio{100, 3}), Ratio{100, 3}), 162.22, 1e-12)
}

func TestRubberMass(t *testing.T) {
	near(t, "120 ml of 1.25 g/cm3", RubberMass(120, 1.25, 0, 0), 150, 1e-15)
	near(t, "with 5 % waste and 8 g left in the cup", RubberMass(120, 1.25, 0.05, 8), 165.5, 1e-15)
}

// The rule of mixtures in volume; the mean by mass is the negative check.
func TestMixedDensity(t *testing.T) {
	got := MixedDensity(Ratio{1, 1}, 1.2, 1.0)
	near(t, "1:1 of 1.2 and 1.0", got, 2/(1/1.2+1/1.0), 1e-15)
	if got >= 1.1 {
		t.Errorf("got %g: that is the mean by mass or more", got)
	}
}

// By hand: the first A on the scale, at most 2 % over the exact one, whose B is
// right to 0.5 %; else the A with the best B.
func TestWeighExamples(t *testing.T) {
	for _, c := range []struct{ mass, step, a, b float64 }{
		{150, 0.1, 146, 4.4}, // 145.7 is the nearest, but its B 0.7 % off
		{150, 1, 146, 4},
		{150, 0.01, 145.64, 4.37},
		{165.5, 0.1, 160.7, 4.8},
		{10.3, 0.1, 10, 0.3}, // exact: not pushed up by its last bit
		{1, 1, 1, 1},         // never no B
	} {
		if a, b := (Ratio{100, 3}).Weigh(c.mass, c.step); a != c.a || b != c.b {
			t.Errorf("%g g by %g g: got %v and %v, want %v and %v", c.mass, c.step, a, b, c.a, c.b)
		}
	}
}

// Whatever the ratio: at least the A that is needed, at most a step or 2 % more,
// B within half a step of what belongs to it, and no other A in that reach with
// a better B unless this one is right to 0.5 %.
func TestWeighProperty(t *testing.T) {
	const seed = 7
	t.Logf("seed %d", seed)
	rng := rand.New(rand.NewSource(seed))
	for range 5000 {
		r := Ratio{100, math.Exp(rng.Float64()*5 - 1)}
		mass, step := 20+1000*rng.Float64(), []float64{0.01, 0.1, 0.2, 0.5, 1}[rng.Intn(5)]
		exact, _ := r.Split(mass)
		a, b := r.Weigh(mass, step)
		if a < exact-1e-6 || a > math.Max(exact+step, 1.02*exact)+1e-6 {
			t.Fatalf("%v of %g g by %g g: A %g, exactly %g", r, mass, step, a, exact)
		}
		if off := math.Abs(b - BFor(a, r)); off > step/2+1e-6 && b != step {
			t.Fatalf("%v of %g g by %g g: B %g is %g off", r, mass, step, b, off)
		}
		errorOf := func(a, b float64) float64 { return math.Abs(b/BFor(a, r) - 1) }
		if errorOf(a, b) <= 0.005 {
			continue
		}
		for other := exact; other <= 1.02*exact; other += step {
			onScale := math.Ceil(other/step-1e-9) * step
			belongs := math.Max(step, math.Round(BFor(onScale, r)/step)*step)
			if onScale <= 1.02*exact && errorOf(onScale, belongs) < errorOf(a, b)-1e-6 {
				t.Fatalf("%v of %g g by %g g: A %g and B %g are off by %g, %g and %g by less", r, mass, step, a, b, errorOf(a, b), onScale, belongs)
			}
		}
	}
}

func TestRubberTableResolves(t *testing.T) {
	job := read(t, swap(`preset = "tin-cure 100:3"`, `preset = "tin-cure 100:3"
density = 1.3
shrink = 0.4`)(shortJob))
	r, err := job.Rubber.resolve()
	if err != nil {
		t.Fatal(err)
	}
	if r.Density != 1.3 || r.Shrink != exactly(0.4) || r.Ratio != (Ratio{100, 3}) {
		t.Errorf("got %+v", r)
	}
	for _, key := range r.Typical {
		if key == "rubber.density" || key == "rubber.shrink" {
			t.Errorf("%s is stated, not typical", key)
		}
	}
	if len(r.Typical) != 8 { // cure, ratio, expansion, pot_life, demold, rest, both temperatures
		t.Errorf("typical: got %v", r.Typical)
	}
}

// Presets stay within the ranges that their comment quotes.
func TestRubberPresets(t *testing.T) {
	for _, r := range rubberPresets() {
		if r.Density < 1.05 || r.Density > 1.45 || r.PotLife < 300 || r.PotLife > 5400 || r.Demold < 7200 || r.Demold > 86400 || r.Short > 320 || r.Short < r.Continuous {
			t.Errorf("%s: %+v", r.Name, r)
		}
		if r.Shrink.check("x") != nil {
			t.Errorf("%s: shrinkage %+v", r.Name, r.Shrink)
		}
	}
}

// The middles of the ranges that trade notes give, as the presets' comment
// quotes them; a stock of days and hours, not of seconds.
func TestRubberPresetFigures(t *testing.T) {
	want := []Rubber{
		{Name: "tin-cure 100:3", Cure: "tin", Ratio: Ratio{100, 3}, Density: 1.35, Continuous: 250, Short: 315},
		{Name: "tin-cure 100:5", Cure: "tin", Ratio: Ratio{100, 5}, Density: 1.25, Continuous: 200, Short: 250},
		{Name: "tin-cure 100:10", Cure: "tin", Ratio: Ratio{100, 10}, Density: 1.20, Continuous: 200, Short: 250},
		{Name: "platinum 100:10", Cure: "platinum", Ratio: Ratio{100, 10}, Density: 1.12, Continuous: 200, Short: 250},
		{Name: "platinum 1:1", Cure: "platinum", Ratio: Ratio{1, 1}, Density: 1.12, Continuous: 200, Short: 250},
	}
	for i, w := range want {
		w.Shrink, w.PotLife, w.Demold, w.Rest = Span{0.2, 0.5, 1.0}, 1800, 86400, 432000
		if w.Cure == "platinum" {
			w.Shrink, w.PotLife, w.Demold, w.Rest = Span{0, 0.05, 0.1}, 2400, 57600, 86400
		}
		if got := rubberPresets()[i]; !reflect.DeepEqual(got, w) {
			t.Errorf("got %+v, want %+v", got, w)
		}
	}
	if n := len(rubberPresets()); n != len(want) {
		t.Errorf("%d presets", n)
	}
	// A cup holds the rise under vacuum four times over; to stir, a third on top.
	if a, b := (Rubber{Vacuum: true}).Headroom(), (Rubber{}).Headroom(); a != 4 || b != 1.3 {
		t.Errorf("headroom %g under vacuum, %g without", a, b)
	}
}

// What a job without a preset has to say, and which densities go together.
func TestRubberTableRefuses(t *testing.T) {
	const own = "cure = \"tin\"\nratio = \"100:4\"\nshrink = 0.4\npot_life = \"30 min\"\ndemold = \"20 h\"\nrest = \"3 d\"\n" +
		"heat_continuous = 200\nheat_short = 260\n"
	table := func(lines string) string { return swap("preset = \"tin-cure 100:3\"\n", lines)(shortJob) }
	for _, c := range []struct{ lines, key, rule, names string }{
		{own, "rubber", RuleMissing, "density"},
		{strings.Replace(own, "pot_life = \"30 min\"\n", "", 1) + "density = 1.2\n", "rubber", RuleMissing, "pot_life"},
		{own + "density = 1.2\ndensity_b = 1\n", "rubber.density_b", RuleConflict, "rubber.density"},
		{own + "density_b = 1\n", "rubber.density_a", RuleMissing, "rubber.density_b"},
		{own + "density_a = 1.3\n", "rubber", RuleMissing, "density"},
		{own + "density = 1.2\nshrink_range = [0.5, 1]\n", "rubber.shrink_range", RuleConflict, "0.4"},
	} {
		_, err := ReadJob("job.toml", []byte(table(c.lines)))
		list, ok := err.(JobErrors)
		if !ok || len(list) != 1 || list[0].Key != c.key || list[0].Rule != c.rule || !strings.Contains(list[0].Err.Error(), c.names) {
			t.Errorf("%q: got %v, want one error of %s, %s", c.lines, err, c.key, c.rule)
		}
	}
	r, err := read(t, table(own+"density_a = 1.3\ndensity_b = 1\nconductivity = 0.3\nexpansion = 250\n")).Rubber.resolve()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mixed", r.Density, 104/(100/1.3+4/1.0), 1e-12)
	if r.Name != "tin-cure 100:4" || r.DensityA != 1.3 || r.Conductivity != 0.3 || r.PotLife != 1800 || r.Rest != 3*day || len(r.Typical) != 0 {
		t.Errorf("got %+v", r)
	}
}
