package pourplan

import (
	"math"
	"strings"
	"testing"
)

// solidAt is the solid share of a path at a temperature, at a eutectic before it
// freezes.
func solidAt(p FreezingPath, c float64) float64 {
	if c >= p[0].C {
		return 0
	}
	for i := 1; i < len(p); i++ {
		if a, b := p[i-1], p[i]; c >= b.C {
			return a.Solid + (a.C-c)/(a.C-b.C)*(b.Solid-a.Solid)
		}
	}
	return 1
}

// presetNamed is a preset as a job gets it.
func presetNamed(t *testing.T, name string) Metal {
	t.Helper()
	m, err := MetalTable{Preset: name, FillFactor: 1}.resolve()
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Every preset against published figures of its diagram: where its last liquid
// freezes, and how much of it freezes there or between. The share left for the
// eutectic is by Scheil's closed form (w0/wE)^(1/(1-k)) with the diagram's k at
// the eutectic, and above that with the k at the liquidus: the path must lie
// between. Sources: lead-antimony: Ashtakala, Pelton & Bale 1981, 251.7 °C, 11.1
// %, k 0.314 and 0.44. Lead-tin: NIST, 182.2 °C, 62.13 %, k 0.304; 0.68 at the
// top from trade tables' solidus of 5 %. Bismuth-tin: 57 % at 139 °C (Gladkikh
// 1987; NIST), k 0.35 in tin, 0 in bismuth. Others as in metal_data.go.
func TestPresetsFreeze(t *testing.T) {
	type share struct{ w0, wE, low, high float64 } // of solute, k at both ends; 0: all at one place
	for name, c := range map[string]struct {
		solidus, eutectic float64
		share             share
	}{
		"lead":                      {327.46, 327.46, share{}},
		"lead-antimony 2":           {251.7, 251.7, share{2, 11.1, 0.314, 0.44}},
		"lead-antimony 4":           {251.7, 251.7, share{4, 11.1, 0.314, 0.44}},
		"lead-antimony 6":           {251.7, 251.7, share{6, 11.1, 0.314, 0.44}},
		"lead-tin-antimony 92-4-4":  {182.2, 0, share{}},
		"lead-tin-antimony 92-2-6":  {239, 239, share{}},
		"lead-tin-antimony 84-4-12": {240, 0, share{}},
		"lead-tin 95-5":             {182.2, 182.2, share{5, 62.13, 0.304, 0.68}},
		"lead-tin 90-10":            {182.2, 182.2, share{10, 62.13, 0.304, 0.68}},
		"lead-tin 70-30":            {182.2, 182.2, share{30, 62.13, 0.304, 0.68}},
		"tin-lead 50-50":            {182.2, 182.2, share{50, 62.13, 0.304, 0.68}},
		"tin-lead 60-40":            {182.2, 182.2, share{60, 62.13, 0.304, 0.68}},
		"tin-lead 63-37":            {182.2, 0, share{}},
		"tin":                       {231.93, 231.93, share{}},
		"bismuth-tin 58-42":         {138, 0, share{}},
		"bismuth-tin 50-50":         {138, 138, share{50, 57, 0.30, 0.36}},
		"bismuth-tin 88-12":         {138, 138, share{12, 43, 0, 0.003}},
		"tin-bismuth 60-40":         {138, 138, share{40, 57, 0.30, 0.36}},
		"tin-zinc 91-9":             {198.5, 198.5, share{}},
		"pewter 92":                 {227, 0, share{}},
		"pewter 91":                 {227, 0, share{}},
	} {
		m := presetNamed(t, name)
		p := m.Freezes
		if m.Solidus != c.solidus || p[0] != (FreezingPoint{m.Liquidus, 0}) || p[len(p)-1] != (FreezingPoint{c.solidus, 1}) {
			t.Errorf("%s freezes from %v to %v, want %g to %g °C", name, p[0], p[len(p)-1], m.Liquidus, c.solidus)
		}
		for i := 1; i < len(p); i++ {
			if p[i].C > p[i-1].C || p[i].Solid < p[i-1].Solid {
				t.Errorf("%s melts as it cools from %v to %v", name, p[i-1], p[i])
			}
		}
		if s := c.share; s.w0 > 0 {
			left := 1 - p[len(p)-2].Solid
			low, high := math.Pow(s.w0/s.wE, 1/(1-s.high)), math.Pow(s.w0/s.wE, 1/(1-s.low))
			if p[len(p)-2].C != c.eutectic || left < low-0.003 || left > high+0.003 {
				t.Errorf("%s: %.3f left for the eutectic at %g °C, want %.3f to %.3f at %g °C", name, left, p[len(p)-2].C, low, high, c.eutectic)
			}
		}
	}
	if want, got := len(metalPresets()), 21; got != want {
		t.Errorf("%d presets, %d of them held against published figures", want, got)
	}
}

// Bismuth with tin: a regular melt over nearly pure bismuth, with bismuth's heat
// of fusion (CRC, 11106 J/mol) and 600 J/mol between the two so that 43 % tin
// begins to freeze at 139 °C (NIST): RT·ln(1-x) + 600·x² = -11106·(1 - T/544.56).
func TestBismuthLimb(t *testing.T) {
	for w := 1.0; w <= 43; w++ {
		x := w / 118.71 / (w/118.71 + (100-w)/208.98)
		at := 500.0
		for range 100 {
			at = 11106 / (11106/544.56 - 8.314*math.Log(1-x) - 600*x*x/at)
		}
		got, ok := Composition{{"tin", w}, {"bismuth", 100 - w}}.liquidus()
		if !ok || math.Abs(got-(at-273.15)) > 3 {
			t.Errorf("%g %% tin: %.1f °C, %v, want %.1f °C", w, got, ok, at-273.15)
		}
	}
}

// Trade tables of solders, solidus and liquidus in °C; within 3 K, since they
// differ among each other by as much.
func TestPublishedMeltingRanges(t *testing.T) {
	for _, c := range []struct {
		a        string
		pa       float64
		b        string
		pb       float64
		from, to float64
	}{
		{"tin", 90, "lead", 10, 183, 213}, {"tin", 63, "lead", 37, 183, 183}, {"tin", 60, "lead", 40, 183, 190}, {"tin", 55, "lead", 45, 183, 200},
		{"tin", 50, "lead", 50, 183, 212}, {"tin", 45, "lead", 55, 183, 227}, {"tin", 40, "lead", 60, 183, 238}, {"tin", 30, "lead", 70, 183, 257},
		{"tin", 10, "lead", 90, 183, 302}, {"tin", 60, "bismuth", 40, 138, 170},
	} {
		m, err := MetalTable{Composition: Composition{{c.a, c.pa}, {c.b, c.pb}}, FillFactor: 1}.resolve()
		if err != nil || math.Abs(m.Solidus-c.from) > 3 || math.Abs(m.Liquidus-c.to) > 3 {
			t.Errorf("%g %s, %g %s: %.1f to %.1f °C, %v, want %g to %g", c.pa, c.a, c.pb, c.b, m.Solidus, m.Liquidus, err, c.from, c.to)
		}
	}
}

// Heats of fusion of alloys, J/g, from memory but for pewter's (a property page):
// tin-lead 63-37 37 to 45, bismuth-tin 44 to 48. By the mean of the pure metals'
// heats, lead-antimony 4 would have 28.6.
func TestLatentHeats(t *testing.T) {
	for name, want := range map[string][2]float64{
		"lead": {23.04, 23.07}, "tin": {60.2, 60.2}, "tin-lead 63-37": {37, 45}, "bismuth-tin 58-42": {43.5, 48}, "lead-antimony 4": {23.5, 25}, "pewter 91": {60, 69},
	} {
		l := presetNamed(t, name).Heat.Latent
		if l.Best < want[0]-0.01 || l.Best > want[1]+0.01 {
			t.Errorf("%s: %.2f J/g, want %v", name, l.Best, want)
		}
		near(t, name+": range", l.Hi/l.Best, 1.15, 1e-9)
	}
	m, err := MetalTable{Preset: "lead-antimony 4", FillFactor: 1, Latent: ptr(28.6)}.resolve()
	if err != nil || m.Heat.Latent != exactly(28.6) {
		t.Errorf("measured: %v, %v", m.Heat.Latent, err)
	}
}

// Conductivities of solids, W/(m·K): trade tables of solders, 63-37 to 50-50;
// 19 to 21 for bismuth-tin, from memory. The rule alone is within 30 %.
func TestConductivities(t *testing.T) {
	for name, want := range map[string]float64{"tin-lead 63-37": 50, "tin-lead 60-40": 49, "tin-lead 50-50": 48, "bismuth-tin 58-42": 20} {
		m := presetNamed(t, name)
		near(t, name, m.Heat.Conductivity, want, 0.06)
		rule := math.Exp(m.Parts.byVolume(func(e element) float64 { return math.Log(e.conductivity) }))
		near(t, name+" by the rule", rule, want, 0.3)
	}
	near(t, "between two", Composition{{"lead", 97}, {"antimony", 3}}.conductivity(), 34.7, 0.01)
}

// Melt of lead, tin and bismuth at 400 °C: CRC's fall of 1.22, 0.652 and 1.35
// kg/m³ for each K; OECD/NEA 7268 has 10579.7 for lead at 673.15 K and 9903.8
// for bismuth (10725 - 1.22·T).
func TestMeltDensities(t *testing.T) {
	for name, want := range map[string]float64{"lead": 10.5797, "bismuth": 9.9038} {
		near(t, name, Composition{{name, 100}}.meltDensity(400), want, 0.003)
	}
	half := Composition{{"lead", 50}, {"tin", 50}}.meltDensity(300)
	near(t, "mixed in volume", half, 100/(50/(10.66-1.22e-3*(300-327.46))+50/(6.979-0.652e-3*(300-231.93))), 1e-12)
}

// Own figures stretch the path; without a diagram it is even.
func TestPathOfOwnFigures(t *testing.T) {
	c := func(x float64) *Celsius { return ptr(Celsius(x)) }
	own := presetNamed(t, "lead-antimony 4").Freezes
	m, err := MetalTable{Preset: "lead-antimony 4", FillFactor: 1, Liquidus: c(305), Solidus: c(240)}.resolve()
	if err != nil {
		t.Fatal(err)
	}
	for _, share := range []float64{0, 0.1, 0.4, 0.9} {
		from, to := 299-share*(299-251.7), 305-share*(305-240)
		near(t, "stretched", solidAt(m.Freezes, to)+1, solidAt(own, from)+1, 1e-9)
	}
	m, err = MetalTable{Composition: Composition{{"lead", 85}, {"antimony", 15}}, FillFactor: 1, Liquidus: c(270), Solidus: c(252)}.resolve()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "even", solidAt(m.Freezes, 261), 0.5, 1e-12)
	if m, err := (MetalTable{Composition: Composition{{"lead", 90}, {"zinc", 10}}, FillFactor: 1, Liquidus: c(320)}).resolve(); err != nil || m.Freezes != nil || m.fed() != exactly(1) {
		t.Errorf("without a solidus: %v, %v", m.Freezes, err)
	}
}

// The curve that the computation of heat gets: all latent heat comes free between
// solidus and liquidus, half of it at half of the solid share, specific heats
// beyond. Lead by hand: 11.35 g/cm³ less 0.87 % each way.
func TestSubstanceOfMetal(t *testing.T) {
	for _, p := range metalPresets() {
		m := presetNamed(t, p.name)
		s, ok := m.Substance(m.Heat.Latent.Best)
		if err := s.Check(); !ok || err != nil {
			t.Errorf("%s: %v, %v", p.name, ok, err)
		}
		if s.Solidus() != m.Solidus || s.Liquidus() != m.Liquidus {
			t.Errorf("%s: solid at %g, liquid at %g °C", p.name, s.Solidus(), s.Liquidus())
		}
		const over, under = 50.0, 50.0
		got := s.At(m.Liquidus+over).H - s.At(m.Solidus-under).H
		rho := m.Heat.HotDensity * 1e-3
		least := rho * (m.Heat.Latent.Best + over*m.Heat.HeatLiquid + under*m.Heat.HeatSolid + (m.Liquidus-m.Solidus)*math.Min(m.Heat.HeatSolid, m.Heat.HeatLiquid))
		most := rho * (m.Heat.Latent.Best + over*m.Heat.HeatLiquid + under*m.Heat.HeatSolid + (m.Liquidus-m.Solidus)*math.Max(m.Heat.HeatSolid, m.Heat.HeatLiquid))
		if got < least-1e-12 || got > most+1e-12 {
			t.Errorf("%s: gives off %g J/mm³, want %g to %g", p.name, got, least, most)
		}
	}
	lead := presetNamed(t, "lead")
	s, _ := lead.Substance(23.04)
	rho := 11.35e-3 * math.Pow(1-0.0087, 3)
	near(t, "lead from 400 to 300 °C", s.At(400).H-s.At(300).H, rho*(72.54*0.148+23.04+27.46*0.129), 1e-9)
	if melt := s.At(327.46); melt.Solid != 0 || math.Abs(melt.K-15.8) > 1e-9 || math.Abs(s.At(300).K-35.3) > 1e-9 {
		t.Errorf("lead at its melting point: %+v", melt)
	}
	if _, ok := (Metal{Liquidus: 200}).Substance(30); ok {
		t.Error("a curve out of nothing")
	}
	// In the middle of a path.
	four := presetNamed(t, "lead-antimony 4")
	s, _ = four.Substance(24)
	near(t, "solid share at 280 °C", s.At(280).Solid, solidAt(four.Freezes, 280), 0.02)
	if !strings.HasPrefix(s.Name, "lead-antimony") {
		t.Errorf("named %q", s.Name)
	}
}
