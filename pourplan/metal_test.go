package pourplan

import (
	"errors"
	"math"
	"slices"
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

// The liquidus of lead-antimony lies within 3 K of the straight line to the
// eutectic of Ashtakala, Pelton & Bale 1981, 6.825 K for each percent: alloys
// near a preset count as it, and those near the eutectic as that.
func TestLeadAntimonyLiquidus(t *testing.T) {
	for sb := 0.5; sb <= 11.1; sb += 0.1 {
		got, ok := Composition{{"lead", 100 - sb}, {"antimony", sb}}.liquidus()
		if !ok || math.Abs(got-(327.46-6.825*sb)) > 3.3 {
			t.Errorf("%g %% antimony: got %g, %v", sb, got, ok)
		}
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
	near(t, "lead", lead.parts.shrinkSpan(327.46).Best, 28.9e-4*(327.46-25), 0.01)
	tin, _ := metalPresetNamed("tin")
	near(t, "tin", tin.parts.shrinkSpan(231.93).Best, 22e-4*(231.93-25), 0.015)
}

func ptr[T any](v T) *T { return &v }

// The pure metals, held against other figures of the CRC Handbook than the
// table's own: heat of fusion in kJ/mol and heat capacity in J/(mol·K) over the
// molar mass. From memory: heat capacity of the melt and surface tension (Iida &
// Guthrie, The Physical Properties of Liquid Metals, 1988), conductivity and
// expansion at 25 °C (CRC).
func TestElements(t *testing.T) {
	for _, c := range []struct {
		name                           string
		molar                          float64 // g/mol
		melts, density, melt           float64 // °C, g/cm³
		fusion, heatSolid, heatLiquid  float64 // kJ/mol, J/(mol·K)
		conducts, expansion, tensionMN float64 // W/(m·K), 1e-6/K, mN/m
	}{
		{"lead", 207.2, 327.46, 11.35, 10.66, 4.774, 26.65, 30.6, 35.3, 28.9, 458},
		{"tin", 118.71, 231.93, 7.287, 6.99, 7.15, 27.11, 28.9, 66.8, 22.0, 551},
		{"bismuth", 208.98, 271.41, 9.79, 10.05, 11.106, 25.52, 30.5, 7.97, 13.4, 378},
		{"antimony", 121.76, 630.63, 6.68, 6.53, 19.79, 25.23, 31.38, 24.4, 11.0, 367},
		{"zinc", 65.38, 419.53, 7.134, 6.57, 7.068, 25.39, 31.38, 116, 30.2, 782},
		{"copper", 63.546, 1084.62, 8.96, 8.02, 13.26, 24.44, 31.4, 401, 16.5, 1303},
	} {
		e, ok := elementNamed(c.name)
		if !ok {
			t.Fatalf("no %s", c.name)
		}
		near(t, c.name+": melts", e.melts, c.melts, 1e-9)
		near(t, c.name+": density", e.density, c.density, 1e-9)
		near(t, c.name+": density of the melt", e.liquidDensity, c.melt, 0.004)
		near(t, c.name+": heat of fusion", e.latent, 1000*c.fusion/c.molar, 0.002)
		near(t, c.name+": heat capacity", e.heatSolid, c.heatSolid/c.molar, 0.01)
		near(t, c.name+": heat capacity of the melt", e.heatLiquid, c.heatLiquid/c.molar, 0.015)
		near(t, c.name+": conductivity", e.conductivity, c.conducts, 0.01)
		near(t, c.name+": shrinkage", e.shrink, c.expansion*1e-4*(c.melts-25), 0.012)
		near(t, c.name+": surface tension", e.tension, c.tensionMN/1000, 0.015)
		// Tables of one metal agree to 1 %, and what stands here is among them.
		if !(e.low <= e.density && e.density <= e.high && e.high-e.low < 0.013*e.density) {
			t.Errorf("%s: density %g, in tables %g to %g", c.name, e.density, e.low, e.high)
		}
	}
	if len(elements()) != 6 {
		t.Errorf("%d metals, 6 of them held against published figures", len(elements()))
	}
}

// Where presets are fully molten: pure metals by the CRC Handbook, lead-tin
// 63-37 by NIST, tin-zinc by Moser et al. 1985, pewter by ASTM B560 and trade
// tables, the other lead-tin alloys by trade tables, bismuth-tin 88-12 by a
// regular melt (TestBismuthLimb), the rest from memory.
func TestPresetLiquidus(t *testing.T) {
	want := map[string]float64{"lead": 327.46, "tin": 231.93, "tin-lead 63-37": 183, "tin-zinc 91-9": 198.5, "pewter 92": 295, "pewter 91": 300,
		"lead-tin 95-5": 312, "lead-tin 90-10": 302, "lead-tin 70-30": 257, "tin-lead 50-50": 212, "tin-lead 60-40": 190,
		"lead-antimony 2": 313, "lead-antimony 4": 299, "lead-antimony 6": 285,
		"lead-tin-antimony 92-4-4": 290, "lead-tin-antimony 92-2-6": 285, "lead-tin-antimony 84-4-12": 242,
		"bismuth-tin 58-42": 139, "bismuth-tin 50-50": 155, "bismuth-tin 88-12": 229, "tin-bismuth 60-40": 170}
	for _, p := range metalPresets() {
		if got, ok := p.parts.liquidus(); !ok || got != want[p.name] || p.liquidus != want[p.name] {
			t.Errorf("%s: fully molten at %g °C, as a composition at %g °C, want %g °C", p.name, p.liquidus, got, want[p.name])
		}
		delete(want, p.name)
		sum := 0.0
		for _, part := range p.parts {
			sum += part.Percent
		}
		if sum != 100 {
			t.Errorf("%s: comes to %g %%", p.name, sum)
		}
	}
	for name := range want {
		t.Errorf("no preset %s", name)
	}
}

// Straight lines of published phase diagrams, from the pure metal to the
// eutectic: lead-tin with 61.9 % tin at 183 °C (NIST), bismuth-tin with 43 % tin
// at 139 °C (NIST). A liquidus curves less than these bands away from its line
// (from memory).
func TestPresetLiquidusByTheDiagram(t *testing.T) {
	for _, c := range []struct {
		preset      string
		line, bands float64
	}{
		{"lead-tin 95-5", 327.46 - (327.46-183)*5/61.9, 4},
		{"lead-tin 90-10", 327.46 - (327.46-183)*10/61.9, 4},
		{"lead-tin 70-30", 327.46 - (327.46-183)*30/61.9, 4},
		{"tin-lead 50-50", 327.46 - (327.46-183)*50/61.9, 4},
		{"tin-lead 60-40", 327.46 - (327.46-183)*60/61.9, 4},
		{"bismuth-tin 88-12", 271.41 - (271.41-139)*12/43, 11},
		{"bismuth-tin 50-50", 231.93 - (231.93-139)*50/57, 11},
		{"tin-bismuth 60-40", 231.93 - (231.93-139)*40/57, 11},
	} {
		p, err := metalPresetNamed(c.preset)
		if err != nil || math.Abs(p.liquidus-c.line) > c.bands {
			t.Errorf("%s: %g °C, by the diagram's line %.1f °C, %v", c.preset, p.liquidus, c.line, err)
		}
	}
}

// Where the last liquid freezes, with the sources that solidus.go names.
func TestSolidus(t *testing.T) {
	for _, c := range []struct {
		parts Composition
		want  float64 // 0: not known
	}{
		{Composition{{"lead", 100}}, 327.46},
		{Composition{{"lead", 96}, {"antimony", 4}}, 251.7},
		{Composition{{"lead", 50}, {"tin", 50}}, 182.2},
		{Composition{{"lead", 92}, {"tin", 4}, {"antimony", 4}}, 182.2},
		{Composition{{"lead", 60}, {"bismuth", 40}}, 124},
		{Composition{{"lead", 30}, {"tin", 20}, {"bismuth", 50}}, 95},
		{Composition{{"tin", 42}, {"bismuth", 58}}, 138},
		{Composition{{"tin", 91}, {"zinc", 9}}, 198.5},
		{Composition{{"tin", 95}, {"antimony", 5}}, 231},
		{Composition{{"tin", 99}, {"copper", 1}}, 227},
		{Composition{{"tin", 92}, {"antimony", 7.5}, {"copper", 0.5}}, 227},
		{Composition{{"lead", 90}, {"zinc", 10}}, 0},
		{Composition{{"lead", 90}, {"tin", 9}, {"zinc", 1}}, 0},
		{nil, 0},
	} {
		if got, ok := c.parts.solidus(); got != c.want || ok != (c.want > 0) {
			t.Errorf("%v: last liquid at %g °C, %v, want %g °C", c.parts, got, ok, c.want)
		}
	}
}

// The scatter of practice round the free contraction is -20 % and +30 % (common
// practice, no source); castings that nobody weighed fill 96 to 100 %.
func TestUsualRanges(t *testing.T) {
	s := Composition{{"lead", 100}}.shrinkSpan(327.46)
	near(t, "least shrinkage of lead", s.Lo, 0.8*0.87, 1e-12)
	near(t, "most shrinkage of lead", s.Hi, 1.3*0.87, 1e-12)
	if got := notWeighed(); got != (Span{0.96, 1, 1}) {
		t.Errorf("castings that nobody weighed fill %v", got)
	}
	// Two compositions are the same to 0.3 % of each metal.
	base := Composition{{"lead", 96}, {"antimony", 4}}
	if !base.same(Composition{{"lead", 96.25}, {"antimony", 3.75}}) || base.same(Composition{{"lead", 96.35}, {"antimony", 3.65}}) ||
		base.same(Composition{{"lead", 95.8}, {"antimony", 3.8}, {"tin", 0.4}}) {
		t.Error("alloys are the same to 0.3 % of each metal")
	}
}

// Percent by mass come to 100 to within half a percent.
func TestCompositionReads(t *testing.T) {
	for _, c := range []struct {
		v    any
		want Composition // nil: refused
	}{
		{map[string]any{"lead": int64(96), "antimony": "4 %"}, Composition{{"lead", 96}, {"antimony", 4}}},
		{map[string]any{"tin": 100.5, "lead": int64(0)}, Composition{{"tin", 100.5}}},
		{map[string]any{"tin": 99.5}, Composition{{"tin", 99.5}}},
		{map[string]any{"tin": 100.6}, nil},
		{map[string]any{"tin": 99.4}, nil},
		{map[string]any{"gold": int64(100)}, nil},
		{map[string]any{"tin": "all"}, nil},
		{"lead", nil},
	} {
		var got Composition
		err := got.UnmarshalTOML(c.v)
		if (err == nil) != (c.want != nil) || !slices.Equal(got, c.want) {
			t.Errorf("%v: got %v, %v, want %v", c.v, got, err, c.want)
		}
	}
}

// Where a metal of a job begins and ends to melt, or which key is at fault: by
// the limb of lead-antimony (half way from 313 to 299 °C), by presets, and by
// what the job says itself.
func TestMetalMelts(t *testing.T) {
	c := func(x float64) *Celsius { return ptr(Celsius(x)) }
	for _, m := range []struct {
		name              string
		t                 MetalTable
		liquidus, solidus float64
		key               string // at fault
	}{
		{"composition on the line", MetalTable{Composition: Composition{{"lead", 97}, {"antimony", 3}}}, 306, 251.7, ""},
		{"nearly lead and antimony alone", MetalTable{Composition: Composition{{"lead", 94.9}, {"tin", 0.2}, {"antimony", 4.9}}}, 292.631, 182.2, ""},
		{"just too much else", MetalTable{Composition: Composition{{"lead", 94.65}, {"tin", 0.35}, {"antimony", 5}}}, 0, 0, "metal.liquidus"},
		{"beyond the eutectic", MetalTable{Composition: Composition{{"lead", 88.8}, {"antimony", 11.2}}}, 0, 0, "metal.liquidus"},
		{"composition of a preset", MetalTable{Composition: Composition{{"tin", 42}, {"bismuth", 58}}}, 139, 138, ""},
		{"composition with its own figures", MetalTable{Composition: Composition{{"lead", 85}, {"antimony", 15}}, Liquidus: c(270), Solidus: c(252)}, 270, 252, ""},
		{"preset with its own figures", MetalTable{Preset: "tin", Liquidus: c(232), Solidus: c(230)}, 232, 230, ""},
		{"just one figure", MetalTable{Preset: "tin", Liquidus: c(232), Solidus: c(232)}, 232, 232, ""},
		{"upside down", MetalTable{Preset: "tin", Liquidus: c(232), Solidus: c(232.1)}, 0, 0, "metal.solidus"},
		{"density alone", MetalTable{Density: 9, Shrink: ptr(Percent(1))}, 0, 0, "metal.liquidus"},
		{"density and liquidus", MetalTable{Density: 9, Shrink: ptr(Percent(1)), Liquidus: c(200)}, 200, 0, ""},
		{"density without shrinkage", MetalTable{Density: 9, Liquidus: c(200)}, 0, 0, "metal.shrink"},
		{"two metals", MetalTable{Preset: "tin", Composition: Composition{{"lead", 100}}}, 0, 0, "metal.composition"},
		{"none", MetalTable{}, 0, 0, "metal"},
		{"not a preset", MetalTable{Preset: "tim"}, 0, 0, "metal.preset"},
	} {
		m.t.FillFactor = 1
		got, err := m.t.resolve()
		var k *keyError
		if m.key != "" {
			if !errors.As(err, &k) || k.key != m.key {
				t.Errorf("%s: got %v, want an error of %s", m.name, err, m.key)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", m.name, err)
			continue
		}
		near(t, m.name+": liquidus", got.Liquidus, m.liquidus, 5e-5)
		near(t, m.name+": solidus", got.Solidus, m.solidus, 1e-9)
	}
}
