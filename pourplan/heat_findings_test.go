package pourplan

import (
	"math"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/moldbox/heat"
)

// shotOf is a computed shot of three balls that are solid after 10 s, with their gates
// shut after so many.
func shotOf(gate, cutOff, skin, above float64) *moldbox.MeasuredCast {
	of := func(slower float64) moldbox.Frozen {
		f := moldbox.Frozen{Solid: 20 * slower, SolidAt: geom.Vec{X: 1, Y: 2, Z: 3}, Heads: make([]moldbox.FrozenHead, 3)}
		for i := range f.Heads {
			f.Heads[i] = moldbox.FrozenHead{Solid: 10 * slower, Gate: gate * slower, Shut: gate / 2, Fed: 0.6}
		}
		f.Heads[1].CutOff, f.Heads[1].CutOffAt = cutOff, geom.Vec{Y: 7}
		f.Skin = heat.Skin{Hottest: skin, Above: []float64{above, 0}, AboveAt: []geom.Vec{{Z: 4}, {}}}
		return f
	}
	return &moldbox.MeasuredCast{Best: of(1), Slow: of(1.8), LastInHead: make([]geom.Vec, 3)}
}

// Melt that is cut off shrinks into a void: a finding where it freezes last, above a
// hundredth of the head. Its remedy says what each change has come to, what helps
// first.
func TestVoidFinding(t *testing.T) {
	job := read(t, shortJob)
	m, _ := job.Metal.resolve()
	in := measuredBalls(3)
	limit := (in.Cavities[1].Head - in.Cavities[1].WireInHead) / 100
	cut := func(void float64) float64 { return void / m.shrinks() }
	for _, c := range []struct {
		name       string
		gate, void float64
		want       string
	}{
		{"above", 5, 1.01 * limit, "the gate freezes first"},
		{"below", 5, 0.99 * limit, ""},
		{"the gate freezes last", 12, 2 * limit, "a part of the head is cut off"},
	} {
		in.Cast = shotOf(c.gate, cut(c.void), 200, 0)
		in.Cast.LastInHead[1] = geom.Vec{X: 9}
		in.Cast.Trials = []moldbox.CastTrial{
			{Against: voidCode, Change: "a warm mold", Shrinks: m.shrinks(), Frozen: shotOf(5, 0.99*cut(c.void), 200, 0).Best},
			{Against: voidCode, Change: "a gate", Shrinks: m.shrinks(), Frozen: shotOf(5, 0.5*cut(c.void), 200, 0).Best},
			{Against: voidCode, Change: "a metal that grows", Shrinks: -0.01, Frozen: shotOf(5, cut(c.void), 200, 0).Best},
			{Against: "another", Change: "another", Frozen: in.Cast.Best},
		}
		p := plan(t, job, in)
		fs := HeatFindings(p, in.Cast)
		if c.want == "" {
			if len(fs) != 0 {
				t.Errorf("%s: %+v", c.name, fs)
			}
			continue
		}
		if len(fs) != 1 || !strings.HasPrefix(fs[0].Message, c.want) || fs[0].Code != voidCode || fs[0].Cavity != p.Heads[1].Name || *fs[0].At != (geom.Vec{Y: 7}) || *fs[0].HeadAt != (geom.Vec{X: 9}) {
			t.Fatalf("%s: %+v", c.name, fs)
		}
		near(t, "void", fs[0].Value, c.void, 1e-9)
		near(t, "limit", fs[0].Limit, limit, 1e-9)
		if got := fs[0].Remedy; !strings.HasPrefix(got, "computed: a gate: ") || !strings.HasSuffix(got, " left; a metal that grows: none left; no help by a warm mold") {
			t.Errorf("%s: %q", c.name, got)
		}
		if !strings.Contains(strings.Join(codesOf(p), " "), voidCode) {
			t.Errorf("the plan has %v", codesOf(p))
		}
	}
}

func codesOf(p *Plan) (codes []string) {
	for _, f := range p.Findings {
		codes = append(codes, f.Code)
	}
	return codes
}

// Rubber is judged by its skin as computed: a note above the continuous limit, a
// warning above the one for a short time, a stop where silicone breaks down.
func TestRubberByTheComputedSkin(t *testing.T) {
	job := read(t, shortJob)
	for _, c := range []struct {
		skin, above float64
		code        string
		severity    moldbox.Severity
		verdict     Verdict
	}{
		{240, 0, "", "", Fine},
		{280, 17, hotRubberCode, moldbox.Note, ShortensLife},
		{316, 17, TooHotCode, moldbox.Warn, DoNot},
		{351, 17, TooHotCode, moldbox.Stop, DoNot},
	} {
		in := measuredBalls(3)
		in.Cast = shotOf(12, 0, c.skin, c.above)
		in.Cast.Trials = []moldbox.CastTrial{{Against: hotRubberCode, Change: "less hot", Frozen: shotOf(12, 0, c.skin, 11).Best}}
		p := plan(t, job, in)
		fs := append(job.SkinStops(*in.Cast), HeatFindings(p, in.Cast)...)
		if p.Casting.Verdict != c.verdict {
			t.Errorf("%g °C: %s", c.skin, p.Casting.Verdict)
		}
		if c.code == "" && len(fs) == 0 {
			continue
		}
		if len(fs) != 1 || fs[0].Code != c.code || fs[0].Severity != c.severity {
			t.Errorf("%g °C: %+v", c.skin, fs)
		}
		if c.code == hotRubberCode && (fs[0].Value != 17 || fs[0].Remedy != "computed: less hot: 11 s" || *fs[0].At != (geom.Vec{Z: 4})) {
			t.Errorf("%+v", fs[0])
		}
	}
}

// Trials are made of what there is a finding for: wider gates, a warmer mold, and a
// metal that shrinks less and is fine for the rubber; less superheat where the rubber
// gets hot.
func TestCastTrials(t *testing.T) {
	job := read(t, shortJob)
	metal, fill := []float64{600, 600, 600}, []float64{0.3, 0.3, 0.3}
	changes := func(c *moldbox.MeasuredCast) (list []string) {
		for _, trial := range job.CastTrials(*c, metal, fill) {
			list = append(list, trial.Against+": "+trial.Change)
			if trial.Mold != nil {
				var s moldbox.Spec
				trial.Mold(&s)
				if !(s.Sprue.GateWidth > float64(job.Sprue.GateWidth) && s.Sprue.GateThickness > float64(job.Sprue.GateThickness)) {
					t.Errorf("%s: %+v", trial.Change, s.Sprue)
				}
			}
		}
		return list
	}
	if got := changes(shotOf(5, 100, 200, 0)); got != nil {
		t.Errorf("nothing found, tried %q", got)
	}
	got := strings.Join(changes(shotOf(5, 400, 290, 12)), ", ")
	for _, want := range []string{"void: a gate of 3.8 x 3 mm, void: a gate of 6 x 4.8 mm, void: a mold at 80 °C, void: bismuth-tin", "rubber-hot: pouring at 314 °C (597 °F), rubber-hot: "} {
		if !strings.Contains(got, want) {
			t.Errorf("tried %q", got)
		}
	}
	other, _, ok := job.otherMetal(Metal.shrinks)
	if !ok || other.shrinks() > 0 {
		t.Errorf("%s shrinks by %g", other.Name, other.shrinks())
	}
}

// The rhythm that keeps the mold warm leaves a pause after opening; without one it
// settles where it was computed to.
func TestRhythmInThePlan(t *testing.T) {
	job := read(t, shortJob)
	in := measuredBalls(3)
	in.Cast = shotOf(12, 0, 200, 0)
	open := OpenAfter(*in.Cast)
	near(t, "open", open, 54, 1e-9)
	in.Cast.Every = Brisk(open)
	rhythm := func(keeps, settles float64) *Plan {
		in.Cast.Rhythm = &heat.Rhythmic{Shots: []heat.Warmth{{Skin: 60}, {Skin: 67}}, Settled: heat.Warmth{Skin: settles, Fill: 52, Solid: 30}, Keeps: keeps}
		return plan(t, job, in)
	}
	p := rhythm(264, 85)
	s := p.Casting.Shot
	if s.RhythmS != 264 || s.PauseS != 210 || p.Casting.RestS != 210 || s.BriskS != 74 || s.SettlesC != 85 || s.SettlesMean != 52 || s.BriskSkinC[1] != 67 || p.Casting.HeatOfShotJ != 0 {
		t.Errorf("%+v of %+v", s, p.Casting)
	}
	for _, c := range []struct {
		keeps, settles float64
		want           string
	}{
		{264, 85, "a shot every 4.4 min keeps the mold at 60 °C (140 °F), with a pause of 3.5 min; without a pause, a shot every 74 s, it settles at 85 °C (185 °F)"},
		{0, 50, "the mold cools from 60 °C (140 °F): without a pause, a shot every 74 s, it settles at 50 °C (122 °F); warm it again between shots"},
		{math.Inf(1), 85, "without a pause, a shot every 74 s, it settles at 85 °C (185 °F); let it cool to 60 °C (140 °F) before each shot"},
	} {
		if got := rhythm(c.keeps, c.settles).Casting.RhythmText(); got != c.want {
			t.Errorf("got  %q\nwant %q", got, c.want)
		}
	}
	if got := plan(t, job, measuredBalls(3)).Casting; got.RhythmText() != "" || got.Shot != nil || got.RestS == 0 || !strings.Contains(got.Opening(), "rough") {
		t.Errorf("without a computed shot: %+v", got)
	}
}
