package pourplan

import (
	"math"
	"testing"

	"halfpour/moldbox"
)

func lumpOf(shape string, modulus float64) moldbox.Lump {
	return moldbox.Lump{Modulus: modulus, Depth: modulus * map[string]float64{"plate": 1, "bar": 2, "ball": 3}[shape]}
}

// A metal that freezes at one temperature and is poured at it has closed forms:
// a plate exactly (Flemings, Solidification Processing, 1974, chapter 1); a bar
// lies between plate and ball of its modulus.
func TestLastFreezing(t *testing.T) {
	for _, metal := range []MetalHeat{caseLead, caseSnBi, caseTin} {
		f := Freezing{Metal: metal, Rubber: caseRubber, Pour: metal.Melts, Mold: 25}
		solid := func(shape string) float64 {
			return lastFreezing{metal: metal, solidus: metal.Melts, latent: metal.Latent.Hi, rubber: caseRubber, pour: metal.Melts, mold: 25, lump: lumpOf(shape, 2), patience: 1e4}.solid()
		}
		near(t, "plate", solid("plate"), f.Plane(2), 0.01)
		if bar := solid("bar"); bar >= f.Plane(2) || bar <= f.Sphere(2) {
			t.Errorf("bar: %.2f s, plate %.2f s, ball %.2f s", bar, f.Plane(2), f.Sphere(2))
		}
		if solid("ball") != solid("bar") {
			t.Error("a lump that looks like a ball is taken as a bar")
		}
	}
}

// ballOfMetal finds when a ball of metal in endless rubber is solid at its
// middle, with the metal's own conduction, by small steps of enthalpy on shells
// of both. It knows nothing of lumps.
func ballOfMetal(m Metal, r RubberHeat, pour, mold, radius float64) float64 {
	const inside, cells = 8, 90
	h := m.Heat
	dx := radius / inside * 1e-3
	span := math.Max(m.Liquidus-m.Solidus, 0.5)
	full := h.Latent.Hi + h.HeatLiquid*span
	var heat, volume, area [cells]float64 // J/m³, m³ and m² for 4π
	for i := range heat {
		at := float64(i) * dx
		volume[i], area[i] = (math.Pow(at+dx, 3)-math.Pow(at, 3))/3, (at+dx)*(at+dx)
		heat[i] = r.Density * r.SpecificHeat * 1e6 * mold
		if i < inside {
			heat[i] = h.Density * 1e6 * (full + h.HeatLiquid*(pour-m.Liquidus))
		}
	}
	temperature := func(i int) float64 {
		if i >= inside {
			return heat[i] / (r.Density * r.SpecificHeat * 1e6)
		}
		switch e := heat[i] / (h.Density * 1e6); {
		case e >= full:
			return m.Liquidus + (e-full)/h.HeatLiquid
		case e >= 0:
			return m.Solidus + span*e/full
		default:
			return m.Solidus + e/h.HeatSolid
		}
	}
	dt := 0.15 * dx * dx * h.Density * 1e6 * h.HeatSolid / h.Conductivity
	var now [cells]float64
	for t := 0.0; ; t += dt {
		liquid := false
		for i := range inside {
			liquid = liquid || heat[i] > 0
		}
		if !liquid {
			return t
		}
		for i := range now {
			now[i] = temperature(i)
		}
		for i := range cells - 1 {
			half := func(i int) float64 {
				if i < inside {
					return dx / 2 / h.Conductivity
				}
				return dx / 2 / r.Conductivity
			}
			flow := area[i] * (now[i] - now[i+1]) / (half(i) + half(i+1)) * dt
			heat[i] -= flow / volume[i]
			heat[i+1] += flow / volume[i+1]
		}
	}
}

// No metal is said to be open before its last liquid is solid: held against a
// ball that conducts, in a mold as cold and as warm as molds are.
func TestNoMoldOpensOnLiquidMetal(t *testing.T) {
	rubber, err := RubberTable{Preset: "tin-cure 100:3"}.resolve()
	if err != nil {
		t.Fatal(err)
	}
	for _, preset := range metalPresets() {
		m, err := MetalTable{Preset: preset.name, FillFactor: 1}.resolve()
		if err != nil {
			t.Fatal(err)
		}
		if m.Solidus == 0 || m.Solidus > m.Liquidus+1 {
			t.Errorf("%s: solidus %g °C, liquidus %g °C", preset.name, m.Solidus, m.Liquidus)
			continue
		}
		for _, mold := range []float64{23, 60} {
			const radius = 5.0
			c := CastingPlan{PourC: m.Liquidus + 30, MoldC: mold}
			planOpening(&c, moldbox.Measured{Lumps: []moldbox.Lump{{Modulus: radius / 3, Depth: radius}, {Modulus: 0.5, Depth: 1}}}, m, rubber)
			solid := ballOfMetal(m, rubber.slowHeat(), c.PourC, mold, radius)
			if c.OpenAfterS < 1.2*solid {
				t.Errorf("%s, mold at %g °C: opened after %.1f s, a ball is solid after %.1f s", preset.name, mold, c.OpenAfterS, solid)
			}
			t.Logf("%s, mold at %g °C: opened after %.0f s, a ball of %g mm is solid after %.1f s", preset.name, mold, c.OpenAfterS, radius, solid)
		}
	}
}

// A warmer mold, one that a shot has warmed and rubber that is known to be slow
// are waited for longer; rubber that is known is not taken as slow.
func TestOpeningWaitsForWhatIsSlow(t *testing.T) {
	usual, _ := RubberTable{Preset: "tin-cure 100:3"}.resolve()
	lead, _ := MetalTable{Preset: "lead-antimony 4", FillFactor: 1}.resolve()
	after := func(mold, warms float64, r Rubber) float64 {
		c := CastingPlan{PourC: 329, MoldC: mold, MoldWarmsK: warms}
		planOpening(&c, moldbox.Measured{Lumps: []moldbox.Lump{lumpOf("bar", 2)}}, lead, r)
		return c.OpenAfterS
	}
	cold, warm, warmed := after(23, 0, usual), after(60, 0, usual), after(23, 37, usual)
	if !(cold < warm) || warmed != warm {
		t.Errorf("cold %.1f s, warm %.1f s, warmed by a shot %.1f s", cold, warm, warmed)
	}
	known := usual
	known.Conductivity, known.SpecificHeat = slowConductivity, slowSpecificHeat
	if after(60, 0, known) != warm {
		t.Error("what is not known must count as slow")
	}
	known.Conductivity, known.SpecificHeat = 0.27, 1.3
	if after(60, 0, known) >= warm {
		t.Error("what is known must count as it is")
	}
}

// Where the last liquid is not known, or never freezes in the mold, no time is
// named.
func TestOpeningNotKnown(t *testing.T) {
	rubber, _ := RubberTable{Preset: "tin-cure 100:3"}.resolve()
	tin, _ := MetalTable{Preset: "tin", FillFactor: 1}.resolve()
	blend := tin
	blend.Parts = Composition{{"tin", 50}, {"bismuth", 40}, {"zinc", 10}}
	blend.Solidus, _ = blend.Parts.solidus()
	for _, c := range []struct {
		name  string
		metal Metal
		mold  float64
		lumps []moldbox.Lump
		known bool
	}{
		{"tin", tin, 60, []moldbox.Lump{lumpOf("bar", 2)}, true},
		{"mold hotter than the metal melts", tin, 240, []moldbox.Lump{lumpOf("bar", 2)}, false},
		{"one lump never freezes", tin, 225, []moldbox.Lump{lumpOf("plate", 40), lumpOf("bar", 1)}, false},
		{"not measured", tin, 60, nil, false},
		{"blend of no published eutectic", blend, 60, []moldbox.Lump{lumpOf("bar", 2)}, false},
		{"density alone", Metal{Liquidus: 200}, 60, []moldbox.Lump{lumpOf("bar", 2)}, false},
	} {
		p := CastingPlan{PourC: 260, MoldC: c.mold}
		planOpening(&p, moldbox.Measured{Lumps: c.lumps}, c.metal, rubber)
		if (p.OpenAfterS > 0) != c.known {
			t.Errorf("%s: opens after %g s", c.name, p.OpenAfterS)
		}
		want := "Wait until every funnel is dull and hard, then twice as long again."
		if got := p.Opening(); !c.known && got != want {
			t.Errorf("%s: got %q", c.name, got)
		}
	}
}

// A time to wait is never written shorter than it is.
func TestAtLeast(t *testing.T) {
	for s, want := range map[float64]string{59.2: "60 s", 119: "119 s", 119.5: "2 min", 120.1: "2.1 min", 144: "2.4 min", 146: "2.5 min", 3601: "60.1 min"} {
		if got := FormatAtLeast(s); got != want {
			t.Errorf("%g s: got %s, want %s", s, got, want)
		}
	}
}

// The figures that opening errs by, to the safe side, from memory: 0.2 W/(m·K)
// and 1.2 J/(g·K) where a rubber's are not known, half as long again, two hours
// at most.
func TestOpeningFigures(t *testing.T) {
	if got, want := (Rubber{Density: 1.3}).slowHeat(), (RubberHeat{Density: 1.3, SpecificHeat: 1.2, Conductivity: 0.2}); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if got, want := (Rubber{Density: 1.3, SpecificHeat: 1.4}).slowHeat(), (RubberHeat{Density: 1.3, SpecificHeat: 1.4, Conductivity: 0.2}); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if got, want := (Rubber{Density: 1.3, Conductivity: 0.3}).slowHeat(), (RubberHeat{Density: 1.3, SpecificHeat: 1.2, Conductivity: 0.3}); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	rubber := Rubber{Density: 1.3, SpecificHeat: 1.2, Conductivity: 0.2}
	metal := Metal{Heat: &caseLead, Liquidus: 327.5, Solidus: 327.5}
	c := CastingPlan{PourC: 327.5, MoldC: 25}
	planOpening(&c, moldbox.Measured{Lumps: []moldbox.Lump{lumpOf("plate", 1), lumpOf("plate", 2), lumpOf("plate", 1.5)}}, metal, rubber)
	plate := Freezing{Metal: caseLead, Rubber: rubber.Heat(), Pour: 327.5, Mold: 25}.Plane(2)
	near(t, "half as long again as the slowest", c.OpenAfterS, 1.5*plate, 0.01)
	if longestWait != 7200 {
		t.Errorf("%g s is the longest wait", float64(longestWait))
	}
	for _, c := range []struct{ depth, want float64 }{{0.9, 0}, {1, 0}, {1.5, 0.5}, {2, 1}, {2.5, 1}} {
		f := lastFreezing{lump: moldbox.Lump{Modulus: 2, Depth: 2 * c.depth}}
		if got := f.curve(); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("depth of %g times the modulus: curve %g, want %g", c.depth, got, c.want)
		}
	}
}

// barByShells finds when a round bar of metal at one temperature throughout is
// solid, by even shells of rubber and small steps: another scheme than solid's.
func barByShells(m MetalHeat, solidus float64, r RubberHeat, pour, mold, modulus float64) float64 {
	const cells, dx = 150, 0.1e-3
	radius := 2 * modulus * 1e-3
	k, rc := r.Conductivity, r.Density*r.SpecificHeat*1e6
	heat := math.Pi * radius * radius * m.Density * 1e6 // g for each m
	left := heat * (m.Latent.Best + m.HeatLiquid*(pour-solidus))
	now, next := make([]float64, cells), make([]float64, cells)
	for i := range now {
		now[i] = mold
	}
	dt := 0.2 * dx * dx * rc / k
	for t := 0.0; ; t += dt {
		if left <= 0 {
			return t
		}
		metal := solidus + math.Max(0, math.Min(1, left/(heat*(m.Latent.Best+m.HeatLiquid*(m.Melts-solidus)))))*(m.Melts-solidus)
		if extra := left/heat - m.Latent.Best - m.HeatLiquid*(m.Melts-solidus); extra > 0 {
			metal = m.Melts + extra/m.HeatLiquid
		}
		flow := 2 * math.Pi * k * (metal - now[0]) / math.Log((radius+dx/2)/radius)
		left -= flow * dt
		for i := range now {
			at := radius + float64(i)*dx
			out := 0.0
			if i+1 < cells {
				out = 2 * math.Pi * k * (now[i] - now[i+1]) / math.Log((at+1.5*dx)/(at+0.5*dx))
			}
			next[i] = now[i] + (flow-out)*dt/(rc*math.Pi*(2*at+dx)*dx)
			flow = out
		}
		now, next = next, now
	}
}

// A bar that freezes over a range, poured hot, held against other shells.
func TestBarFreezesOverARange(t *testing.T) {
	for _, solidus := range []float64{231.93, 183} {
		f := lastFreezing{metal: caseTin, solidus: solidus, latent: caseTin.Latent.Hi, rubber: caseRubber, pour: 270, mold: 40, lump: lumpOf("bar", 1), patience: 1e4}
		near(t, "bar", f.solid(), barByShells(caseTin, solidus, caseRubber, 270, 40, 1), 0.01)
	}
}
