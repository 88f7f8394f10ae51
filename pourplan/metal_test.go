package pourplan

import (
	"math"
	"testing"
)

// Rule of mixtures, derived from Pb 11.35, Sn 7.287, Sb 6.68, Bi 9.79, Zn
// 7.134, Cu 8.96; beside it the mean weighted by mass, which must not come out.
func TestPresetDensities(t *testing.T) {
	for _, c := range []struct {
		name        string
		want, wrong float64
	}{
		{"lead", 11.35, math.NaN()},
		{"lead-antimony 2", 11.1935, 11.2566},
		{"lead-antimony 4", 11.0412, 11.1632},
		{"lead-antimony 6", 10.8931, 11.0698},
		{"lead-tin-antimony 92-4-4", 10.8068, 11.0007},
		{"lead-tin-antimony 92-2-6", 10.7777, 10.9885},
		{"lead-tin-antimony 84-4-12", 10.2604, 10.6271},
		{"tin-lead 63-37", 8.3995, 8.7903},
		{"tin-lead 60-40", 8.5048, 8.9122},
		{"tin-lead 50-50", 8.8756, 9.3185},
		{"lead-tin 70-30", 9.7235, 10.1311},
		{"lead-tin 90-10", 10.7506, 10.9437},
		{"lead-tin 95-5", 11.0422, 11.1468},
		{"bismuth-tin 58-42", 8.5557, 8.7387},
		{"bismuth-tin 50-50", 8.3551, 8.5385},
		{"bismuth-tin 88-12", 9.4024, 9.4896},
		{"tin-zinc 91-9", 7.2730, 7.2732},
		{"pewter 92", 7.2444, 7.2498},
		{"pewter 91", 7.2679, 7.2780},
	} {
		p, err := metalPresetNamed(c.name)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.name, p.parts.Density(), c.want, 1e-5)
		byMass := p.parts.byMass(func(e element) float64 { return e.density })
		if !math.IsNaN(c.wrong) {
			near(t, c.name+", by mass", byMass, c.wrong, 2e-4)
			if p.parts.Density() >= byMass {
				t.Errorf("%s: not below the mean by mass", c.name)
			}
		}
	}
}

// Published densities of lead-tin alloys (trade tables): within 0.5 %, the
// common solders within 0.1 %.
func TestPublishedLeadTin(t *testing.T) {
	for _, c := range []struct {
		tin, want, band float64
	}{{63, 8.40, 1e-3}, {60, 8.50, 1e-3}, {50, 8.87, 1e-3}, {30, 9.7, 5e-3}, {10, 10.7, 5e-3}, {5, 11.0, 5e-3}} {
		near(t, "lead-tin", Composition{{"lead", 100 - c.tin}, {"tin", c.tin}}.Density(), c.want, c.band)
	}
}

// ASM's liquidus of lead-antimony (from memory), within 3 K of the straight
// line to the eutectic of Ashtakala, Pelton & Bale 1981.
func TestLeadAntimonyLiquidus(t *testing.T) {
	for _, c := range []struct{ sb, want float64 }{{4, 299}, {6, 285}, {2, 313}, {11.1, 251.7}} {
		got, ok := Composition{{"lead", 100 - c.sb}, {"antimony", c.sb}}.liquidus()
		if !ok || math.Abs(got-c.want) > 3 {
			t.Errorf("%g %% antimony: got %g, %v", c.sb, got, ok)
		}
	}
	between, ok := Composition{{"lead", 97}, {"antimony", 3}}.liquidus()
	if !ok || math.Abs(between-307) > 0.1 { // 327.46 - 3·6.825
		t.Errorf("3 %% antimony: got %g, %v", between, ok)
	}
	if _, ok := (Composition{{"lead", 85}, {"antimony", 15}}).liquidus(); ok {
		t.Error("beyond the eutectic nothing is known")
	}
}

func TestMetalResolves(t *testing.T) {
	for _, c := range []struct {
		name string
		t    MetalTable
		want Span
		heat bool
	}{
		{"pure metal: the spread of tables", MetalTable{Preset: "lead"}, Span{11.30, 11.35, 11.35}, true},
		{"alloy: 1 %", MetalTable{Preset: "tin-lead 50-50"}, Span{0.99 * 8.875614, 8.875614, 1.01 * 8.875614}, true},
		{"density alone", MetalTable{Density: 9, Liquidus: ptr(Celsius(200)), Shrink: ptr(Percent(1))}, exactly(9), false},
		{"density and range", MetalTable{Preset: "lead", Density: 11.34, DensityRange: &DensityRange{11.3, 11.36}}, Span{11.3, 11.34, 11.36}, true},
	} {
		m, err := c.t.resolve()
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		near(t, c.name, m.Density.Lo, c.want.Lo, 1e-6)
		near(t, c.name, m.Density.Best, c.want.Best, 1e-6)
		near(t, c.name, m.Density.Hi, c.want.Hi, 1e-6)
		if (m.Heat != nil) != c.heat {
			t.Errorf("%s: heats %v", c.name, m.Heat)
		}
	}
	if _, err := (MetalTable{Preset: "lead", Density: 9, DensityRange: &DensityRange{10, 11}}).resolve(); err == nil {
		t.Error("a range without its best value passes")
	}
}

// Free linear contraction to 25 °C, a·dT with the expansion at 25 °C: lead
// 28.9e-6 (CRC, from memory) gives 0.87 %.
func TestShrinkages(t *testing.T) {
	lead, _ := metalPresetNamed("lead")
	near(t, "lead", lead.parts.shrinkSpan().Best, 28.9e-4*(327.46-25), 0.01)
	tin, _ := metalPresetNamed("tin")
	near(t, "tin", tin.parts.shrinkSpan().Best, 22e-4*(231.93-25), 0.015)
}

func ptr[T any](v T) *T { return &v }
