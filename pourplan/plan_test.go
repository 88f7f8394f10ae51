package pourplan

import (
	"bytes"
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
)

// measuredBalls is a mold of n equal ball heads with round numbers.
func measuredBalls(n int) moldbox.Measured {
	half := moldbox.MeasuredHalf{Rubber: geom.Integral{Lo: 119900, Best: 120000, Hi: 120100}, FillHeight: 14, RimHeight: 17, Floor: 2.4,
		Inside: geom.Vec{X: 100, Y: 86, Z: 14}, Outside: geom.Vec{X: 106, Y: 92, Z: 19.4},
		Mesh: &moldbox.HalfProof{MeshVolume: 40001, SolidLeast: 39990, SolidVolume: 40000, SolidMost: 40010, Triangles: 5000}}
	in := moldbox.Measured{Left: half, Right: half}
	for range n {
		in.Cavities = append(in.Cavities, moldbox.MeasuredCavity{Name: "ball", Scale: 1.02, Shrink: 1.0135, Head: 940, WireInHead: 12,
			Wires: []moldbox.PlacedWire{{Name: "hook", Keeper: -1, Diameter: 1, Volume: 47.5, InHead: 12, Length: 60.5}}, Area: 470, Runner: 700, Funnel: 20})
	}
	in.Lumps = []moldbox.Lump{{Modulus: 2.2, Depth: 4.4}}
	at := geom.Vec{X: 1, Y: 2, Z: 3}
	in.Findings = []moldbox.Finding{{Severity: moldbox.Warn, Code: "thin", At: &at, Message: "thin rubber", Value: 2, Limit: 3, Unit: "mm"}}
	return in
}

func plan(t *testing.T, job *Job, in moldbox.Measured) *Plan {
	t.Helper()
	p, err := NewPlan(job, in)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestPlanFigures(t *testing.T) {
	p := plan(t, read(t, swap(`preset = "tin-cure 100:3"`, "preset = \"tin-cure 100:3\"\ndensity = 1.25\ndensity_a = 1.26")(shortJob)), measuredBalls(3))
	h := p.Rubber.Halves[0]
	// 120 ml of 1.25 g/cm³, 5 % waste, 8 g residue at 100:3: by hand.
	near(t, "frame mass", h.FrameMassG, 150, 1e-12)
	near(t, "exact mass", h.ExactMassG, 165.5, 1e-12)
	if h.AG != 160.7 || h.BG != 4.8 {
		t.Errorf("A %v, B %v", h.AG, h.BG)
	}
	near(t, "B error", h.BErrorPercent, 100*(4.8/4.821-1), 1e-6)
	near(t, "line of A", h.LineAML, 160.7/1.26, 1e-12)
	near(t, "line of the mix", h.LineMixML, 165.5/1.25, 1e-12)
	near(t, "cup", h.CupML, 1.3*165.5/1.25, 1e-12)
	near(t, "US fl oz", h.VolumeFlOz, 120/29.5735295625, 1e-12)
	if h.LineAFromMix || h.FillFromFloorMM != 14 || h.FillFromRimMM != 3 {
		t.Errorf("got %+v", h)
	}
	near(t, "both halves", p.Rubber.TotalG, 331, 1e-12)

	m := p.Metal
	rho := p.Heads[0].MetalG.Best / 928 * 1000
	near(t, "density", rho, 11.0412*fedByHand(), 1e-5)
	near(t, "shot", m.ShotG, 3*(928*rho+700*m.DensityGCM3.Best)/1000, 1e-9)
	near(t, "melt", m.MeltG, m.ShotG/0.95+150, 1e-12)
	near(t, "steel", p.Heads[0].SteelG, 47.5*7.85e-3, 1e-12)
	near(t, "finished", p.Heads[0].FinishedG.Best, p.Heads[0].MetalG.Best+p.Heads[0].SteelG, 1e-12)
	near(t, "pour", p.Casting.PourC, 329, 1e-12)
	near(t, "proof", p.Frames[1].Mesh.OffPercent, 0.0025, 1e-9)
	if !p.Frames[0].Mesh.WithinTheRange {
		t.Error("40001 is within 39990 to 40010")
	}
	f := p.Heads[0].Fill
	if f == nil || !f.Estimate || !(f.FreezesLowS < f.FreezesHighS) || !(f.FillS > 0) || !(p.Casting.OpenAfterS > f.FreezesHighS) {
		t.Errorf("filling: %+v", f)
	}
}

func TestPlanVacuumCup(t *testing.T) {
	job := read(t, swap(`preset = "tin-cure 100:3"`, "preset = \"tin-cure 100:3\"\nvacuum = true")(shortJob))
	h := plan(t, job, measuredBalls(3)).Rubber.Halves[0]
	near(t, "cup", h.CupML, 4*h.LineMixML, 1e-12)
	if !h.LineAFromMix {
		t.Error("the line of A is an estimate without density_a")
	}
}

// 100 good heads of 3 at 90 %: 112 cast (111.1 up), 38 shots.
func TestPlanRun(t *testing.T) {
	job := read(t, shortJob+"[casting]\nheads = 100\nyield = 90\n")
	m := plan(t, job, measuredBalls(3)).Metal
	if m.Shots != 38 {
		t.Errorf("got %d shots", m.Shots)
	}
	near(t, "what goes in comes out", m.ReturnsG+100*m.HeadsPerShotG/3, 38*m.ShotG, 1e-12)
	exact := read(t, shortJob+"[casting]\nheads = 90\nyield = 100\n")
	if m := plan(t, exact, measuredBalls(3)).Metal; m.Shots != 30 {
		t.Errorf("90 heads of 3: got %d shots", m.Shots)
	}
}

func codes(p *Plan) string {
	var list []string
	for _, c := range p.Cautions {
		list = append(list, c.Code)
	}
	return " " + strings.Join(list, " ") + " "
}

func TestCautionsFollowThePlan(t *testing.T) {
	tin := func(s string) string {
		s = swap(`preset = "lead-antimony 4"`, `preset = "tin"`)(s)
		return swap(`preset = "tin-cure 100:3"`, `preset = "platinum 100:10"`)(s)
	}
	for _, c := range []struct {
		name     string
		edit     func(string) string
		has, not []string
	}{
		{"lead in tin-cure", func(s string) string { return s }, []string{"lead", "lead-dust", "lead-rules", "tin-rest", "hot", "damp", "no-mixing", "antimony", "typical-density"},
			[]string{"inhibition", "too-hot", "zinc"}},
		{"tin in platinum-cure", tin, []string{"inhibition", "fumes", "damp"}, []string{"lead", "lead-dust", "lead-rules", "tin-rest", "no-mixing", "antimony"}},
		{"pure lead in a general rubber", func(s string) string {
			return swap(`preset = "tin-cure 100:3"`, `preset = "tin-cure 100:10"`)(swap(`"lead-antimony 4"`, `"lead"`)(s))
		}, []string{"too-hot"}, []string{"hot", "antimony"}},
		{"thin rubber", func(s string) string { return s + "[frame]\nover = 2\n" }, []string{"heat-through"}, []string{"head-freezes"}},
		{"thick rubber", func(s string) string { return s + "[frame]\nover = 20\n" }, []string{"hot"}, []string{"heat-through"}},
		{"coarse scale", swap(`preset = "tin-cure 100:3"`, "preset = \"tin-cure 100:3\"\nscale = \"2 g\"\ndensity = 1.3"), []string{"coarse-scale"}, []string{"typical-density"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := codes(plan(t, read(t, c.edit(shortJob)), measuredBalls(3)))
			for _, code := range c.has {
				if !strings.Contains(got, " "+code+" ") {
					t.Errorf("lacks %s:%s", code, got)
				}
			}
			for _, code := range c.not {
				if strings.Contains(got, " "+code+" ") {
					t.Errorf("has %s:%s", code, got)
				}
			}
		})
	}
}

func TestPlanRefuses(t *testing.T) {
	job := read(t, shortJob)
	for name, c := range map[string]struct {
		change func(*moldbox.Measured)
		want   string
	}{
		"a cavity too few":    {func(m *moldbox.Measured) { m.Cavities = m.Cavities[:2] }, "measured 2 cavities of a job with 3"},
		"no rubber":           {func(m *moldbox.Measured) { m.Left.Rubber = geom.Integral{} }, "left half: rubber volume"},
		"not a number":        {func(m *moldbox.Measured) { m.Right.Rubber.Best = math.NaN() }, "right half: rubber volume"},
		"a bracket turned":    {func(m *moldbox.Measured) { m.Right.Rubber = geom.Integral{Lo: 3, Best: 2, Hi: 1} }, "right half: rubber volume"},
		"a wire from nowhere": {func(m *moldbox.Measured) { m.Cavities[2].Wires = []moldbox.PlacedWire{{Name: "stray", Keeper: 0}} }, `ball: measured a wire "stray"`},
		"a head of wire":      {func(m *moldbox.Measured) { m.Cavities[1].WireInHead = 940 }, "ball: head must hold metal"},
		"an empty frame mesh": {func(m *moldbox.Measured) { m.Left.Mesh = &moldbox.HalfProof{} }, "left half: frame volume"},
	} {
		in := measuredBalls(3)
		c.change(&in)
		if _, err := NewPlan(job, in); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v", name, err)
		}
	}
}

func TestPlanWithoutHeats(t *testing.T) {
	job := read(t, swap(`preset = "lead-antimony 4"`, "density = 9\nliquidus = 200\nshrink = 0.5")(shortJob))
	p := plan(t, job, measuredBalls(3))
	if p.Heads[0].Fill != nil || !p.Casting.ContactFromPour || p.Casting.ContactC != p.Casting.PourC {
		t.Errorf("estimates out of nothing: %+v", p.Casting)
	}
}

// The document reads back to the same plan, comes out the same each time, and
// names a unit in every number's key.
func TestPlanJSON(t *testing.T) {
	p := plan(t, read(t, shortJob), measuredBalls(3))
	first, err := p.JSON()
	if err != nil {
		t.Fatal(err)
	}
	again, _ := plan(t, read(t, shortJob), measuredBalls(3)).JSON()
	if !bytes.Equal(first, again) {
		t.Error("the bytes differ from run to run")
	}
	var back Plan
	if err := json.Unmarshal(first, &back); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(*p, back) {
		t.Errorf("read back:\n%+v\nwritten:\n%+v", back, *p)
	}
	p.Metal.ShotG = math.NaN()
	if _, err := p.JSON(); err == nil {
		t.Error("NaN passes")
	}
}

// Each caution's bound on both sides, on figures put into a plan.
func TestCautionBounds(t *testing.T) {
	has := func(code string, run func(p *Plan, add func(Step, string, string)), change func(*Plan)) bool {
		p := &Plan{Heads: []HeadPlan{{}, {Fill: &Filling{GateFreezesS: 2, FillS: 1, FreezesLowS: 3, HeatReachesMM: 4}}},
			Rubber:  RubberPlan{Halves: []HalfPlan{{CupML: 100}, {CupML: 200, BErrorPercent: 1}}, OneMix: OneMix{HalfTakesS: 900}},
			Casting: CastingPlan{RubberOverMM: 5, Verdict: Fine, PourVerdict: Fine}, Times: TimesPlan{PotLifeRoomS: 900, RoomC: 15}, Metal: MetalPlan{ShotsPerMelt: 1}}
		change(p)
		found := false
		run(p, func(_ Step, c, _ string) { found = found || c == code })
		return found
	}
	fill := func(p *Plan) *Filling { return p.Heads[1].Fill }
	mix := func(p *Plan, add func(Step, string, string)) { cautionsMix(p, Rubber{}, Plastic{}, add) }
	cure := func(p *Plan, add func(Step, string, string)) {
		cautionsCure(p, Rubber{Cure: "tin"}, Plastic{Name: "PLA", Softens: 59}, add)
	}
	for _, c := range []struct {
		code   string
		run    func(p *Plan, add func(Step, string, string))
		change func(*Plan)
		want   bool
	}{
		{"gate-freezes", cautionsCast, func(p *Plan) { fill(p).GateFreezesS = 1 }, false},
		{"gate-freezes", cautionsCast, func(p *Plan) { fill(p).GateFreezesS = 0.999 }, true},
		{"head-freezes", cautionsCast, func(p *Plan) { fill(p).FreezesLowS = 1 }, false},
		{"head-freezes", cautionsCast, func(p *Plan) { fill(p).FreezesLowS = 0.999 }, true},
		{"head-freezes", cautionsCast, func(p *Plan) { fill(p).FreezesLowS = 0 }, false},
		{"heat-through", cautionsCast, func(p *Plan) { fill(p).HeatReachesMM = 5 }, false},
		{"heat-through", cautionsCast, func(p *Plan) { fill(p).HeatReachesMM = 5.001 }, true},
		{"hot", cautionsCast, func(*Plan) {}, false},
		{"hot", cautionsCast, func(p *Plan) { p.Casting.Verdict = ShortensLife }, true},
		{"too-hot", cautionsCast, func(p *Plan) { p.Casting.Verdict = DoNot }, true},
		{"pour-hot", cautionsCast, func(p *Plan) { p.Casting.PourVerdict = DoNot }, true},
		{"pour-hot", cautionsCast, func(p *Plan) { p.Casting.PourVerdict = ShortensLife }, false},
		{"pour-hot", cautionsCast, func(p *Plan) { p.Casting.PourVerdict, p.Casting.Verdict = DoNot, DoNot }, false},
		{"pot-too-small", cautionsCast, func(p *Plan) { p.Metal.PotG, p.Metal.ShotsPerMelt = 100, 0 }, true},
		{"pot-too-small", cautionsCast, func(p *Plan) { p.Metal.PotG = 100 }, false},
		{"pot-too-small", cautionsCast, func(p *Plan) { p.Metal.ShotsPerMelt = 0 }, false},
		{"coarse-scale", mix, func(p *Plan) { p.Rubber.Halves[1].BErrorPercent = 3 }, false},
		{"coarse-scale", mix, func(p *Plan) { p.Rubber.Halves[1].BErrorPercent = -3 }, false},
		{"coarse-scale", mix, func(p *Plan) { p.Rubber.Halves[1].BErrorPercent = 3.01 }, true},
		{"coarse-scale", mix, func(p *Plan) { p.Rubber.Halves[1].BErrorPercent = -3.01 }, true},
		{"too-slow", mix, func(*Plan) {}, false},
		{"too-slow", mix, func(p *Plan) { p.Times.PotLifeRoomS = 899 }, true},
		{"cup-too-small", mix, func(p *Plan) { p.Rubber.OneMix.LargestCupML = 200 }, false},
		{"cup-too-small", mix, func(p *Plan) { p.Rubber.OneMix.LargestCupML = 199 }, true},
		{"cold-room", cure, func(*Plan) {}, false},
		{"cold-room", cure, func(p *Plan) { p.Times.RoomC = 14.9 }, true},
		{"plastic-softens", cure, func(p *Plan) { p.Times.PostCureC = 49 }, false},
		{"plastic-softens", cure, func(p *Plan) { p.Times.PostCureC = 49.1 }, true},
	} {
		if got := has(c.code, c.run, c.change); got != c.want {
			t.Errorf("%s: %v, want %v", c.code, got, c.want)
		}
	}
	// What a metal holds is warned of by its own cautions, in any share.
	for _, c := range []struct {
		parts Composition
		want  string
	}{
		{Composition{{"lead", 0.1}, {"tin", 99.9}}, "lead no-mixing"}, {Composition{{"tin", 100}}, ""}, {Composition{{"tin", 42}, {"bismuth", 58}}, "no-mixing"},
		{Composition{{"tin", 95}, {"antimony", 5}}, "antimony"}, {Composition{{"tin", 91}, {"zinc", 9}}, "zinc"},
	} {
		var got []string
		cautionsMelt(&Plan{}, Metal{Parts: c.parts}, func(_ Step, code, _ string) {
			if code != "fumes" && code != "protection" && code != "damp" {
				got = append(got, code)
			}
		})
		if strings.Join(got, " ") != c.want {
			t.Errorf("%v: cautions %q, want %q", c.parts, got, c.want)
		}
	}
}
