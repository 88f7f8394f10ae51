package pourplan

import (
	"context"
	"math"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
)

// ballMold is a mold of a ball of 6 mm on a hook, in a metal.
func ballMold(t *testing.T, metal string) (*Job, *moldbox.Mold) {
	t.Helper()
	job := read(t, strings.Replace(strings.Replace(shortJob, "lead-antimony 4", metal, 1), "cavities = 3", "cavities = 1", 1)+"[frame]\nto_wall = 12\n")
	spec, err := job.Spec(func(string) (geom.Solid, error) { return geom.Ball(geom.Vec{}, 6), nil })
	if err != nil {
		t.Fatal(err)
	}
	mold, err := moldbox.Build(context.Background(), spec)
	if err != nil {
		t.Fatal(err)
	}
	return job, mold
}

// A mold is opened later than a ball of metal of the head's size is solid by
// another scheme, one of shells that knows no mold. The head itself comes near it:
// its hook takes a seventh of the time off, and the mold's sides some more of a
// slow metal.
func TestOpensAfterABallIsSolid(t *testing.T) {
	for _, metal := range []string{"lead-tin 70-30", "bismuth-tin 58-42"} {
		job, mold := ballMold(t, metal)
		cases, ok := job.CastCases()
		if !ok {
			t.Fatal("nothing known of", metal)
		}
		slow, err := mold.Freeze(context.Background(), cases.Slow, cases.Limits[:])
		if err != nil {
			t.Fatal(err)
		}
		m, _ := job.Metal.resolve()
		r, _ := job.Rubber.resolve()
		radius := 6 * mold.Cavities[0].Scale * mold.Cavities[0].Shrink
		ball := ballOfMetal(m, r.slowHeat(), cases.Slow.PourC, cases.Slow.MoldC, radius)
		t.Logf("%s: head solid after %.1f s, all after %.1f s; a ball of %.1f mm after %.1f s", metal, slow.Heads[0].Solid, slow.Solid, radius, ball)
		if openingMargin*slow.Solid < 1.2*ball || slow.Heads[0].Solid < 0.75*ball || slow.Heads[0].Solid > slow.Solid {
			t.Errorf("%s: head solid after %.1f s, all after %.1f s, a ball after %.1f s", metal, slow.Heads[0].Solid, slow.Solid, ball)
		}
	}
}

// What is not known is at its slow end in one case, and in the middle in the
// other: 15 % of latent heat, contact of 2000 W/(m²·K), rubber of 0.2 W/(m·K) and
// 1.2 J/(g·K), a mold 20 K warmer. What the job knows is in both.
func TestCastCases(t *testing.T) {
	c, ok := read(t, shortJob).CastCases()
	if !ok || c.Limits != [2]float64{250, 315} {
		t.Fatalf("%v, %v", ok, c.Limits)
	}
	latent := func(k moldbox.Hot) float64 { return k.Metal.At(299).H - k.Metal.At(251.69).H }
	near(t, "latent heat", latent(c.Slow)-latent(c.Best), 0.15*24.2*11.041*math.Pow(1-shrinkByHand(), 3)*1e-3, 0.01)
	near(t, "rubber", c.Slow.Rubber.States[0].K, 0.2, 1e-12)
	near(t, "its heat", c.Slow.Rubber.At(100).H-c.Slow.Rubber.At(0).H, 1.35e-3*1.2*100, 1e-12)
	near(t, "usual rubber", c.Best.Rubber.States[0].K, 0.27, 1e-12)
	if c.Slow.Contact != 2000 || c.Best.Contact != 5000 || c.Slow.MoldC != 80 || c.Best.MoldC != 60 || c.Slow.PourC != 329 || c.Best.AirC != 23 {
		t.Errorf("slow %+v, best %+v", c.Slow, c.Best)
	}
	c, _ = read(t, shortJob+"conductivity = 0.3\nspecific_heat = 1.4\n").CastCases()
	if c.Slow.Rubber.States[0].K != 0.3 || c.Slow.Rubber.At(100).H != c.Best.Rubber.At(100).H {
		t.Error("what the job knows of its rubber is not slow")
	}
	for _, more := range []string{"[casting]\nmold = 190\n", ""} {
		text := strings.Replace(shortJob, `"lead-antimony 4"`, `"tin-lead 63-37"`, 1) + more
		if _, ok := read(t, text).CastCases(); ok == (more != "") {
			t.Errorf("a mold as warm as metal freezes: %v", ok)
		}
	}
}

// The plan of a computed shot: half as long again as the slow end, and a void of
// the share by which melt shrinks; no time where some metal was not solid.
func TestPlanOfAComputedShot(t *testing.T) {
	in := measuredBalls(3)
	cast := func(solid float64) moldbox.Frozen {
		f := moldbox.Frozen{Solid: solid, SolidAt: geom.Vec{X: 1, Y: 2, Z: 3}, Reach: 5, Heads: make([]moldbox.FrozenHead, 3)}
		for i := range f.Heads {
			f.Heads[i] = moldbox.FrozenHead{Solid: solid / 2, Gate: solid / 3, Shut: 4, Fed: 0.6, CutOff: 100, CutOffAt: geom.Vec{Y: 7}}
		}
		f.Skin.Hottest, f.Skin.Above = 280, []float64{17, 0}
		return f
	}
	in.Cast = &moldbox.MeasuredCast{Best: cast(20), Slow: cast(36)}
	p := plan(t, read(t, shortJob), in)
	c, h := p.Casting, p.Heads[1].Frozen
	if c.OpenAfterS != 54 || c.SolidS != 20 || c.SolidMostS != 36 || *c.SolidAtMM != [3]float64{1, 2, 3} || c.SkinC != 280 || c.SkinOverS != 17 || c.HeatReachesMM != 5 {
		t.Errorf("got %+v", c)
	}
	if h.SolidS != 10 || h.SolidMostS != 18 || h.GateS != 20.0/3 || h.GateMostS != 12 || h.CutOffS != 4 || h.FedPercent != 60 || h.VoidAtMM != [3]float64{0, 7, 0} {
		t.Errorf("got %+v", h)
	}
	near(t, "void", h.VoidMM3, 100*2*(1-fedByHand()), 1e-6)
	if p.Gate.FreezesS != 4 {
		t.Errorf("the gate is shut after %g s", p.Gate.FreezesS)
	}
	if got := c.Opening(); !strings.HasPrefix(got, "Wait at least 54 s") || !strings.Contains(got, "dull and hard") {
		t.Errorf("got %q", got)
	}
	in.Cast.Slow.Solid = math.Inf(1)
	p = plan(t, read(t, shortJob), in)
	if p.Casting.OpenAfterS != 0 || p.Casting.SolidS != 0 || p.Heads[0].Frozen != nil {
		t.Errorf("liquid to the end: %+v", p.Casting)
	}
}

// A head whose tail is so thin that it freezes while the head fills: said of a computed
// shot at the tail, with what a warmer mold and a hotter pour come to.
func TestThinTailFreezesFirst(t *testing.T) {
	ctx := context.Background()
	job := read(t, strings.Replace(strings.Replace(shortJob, "lead-antimony 4", "lead", 1), "cavities = 3", "cavities = 1", 1)+"[frame]\nto_wall = 8\n")
	spec, err := job.Spec(func(string) (geom.Solid, error) {
		return geom.Union(geom.Ball(geom.Vec{}, 6), geom.Block(geom.BoxOf(geom.Vec{X: -4, Y: -18, Z: -0.4}, geom.Vec{X: 4, Y: -5, Z: 0.4}))), nil
	})
	if err != nil {
		t.Fatal(err)
	}
	mold, err := moldbox.Build(ctx, spec)
	if err != nil {
		t.Fatal(err)
	}
	cases, _ := job.CastCases()
	var cast moldbox.MeasuredCast
	if cast.Best, err = mold.Freeze(ctx, cases.Best, cases.Limits[:]); err != nil {
		t.Fatal(err)
	}
	cast.Slow = cast.Best
	flow := cast.Best.Heads[0].Flow
	t.Logf("melt reaches all of it for %.3f s, from %v", flow.Latest, flow.At)
	if !(flow.Latest > 0 && flow.Latest < 0.7) {
		t.Errorf("melt reaches a tail of 0.8 mm for %.3f s", flow.Latest)
	}
	fill := []float64{flow.Latest + 0.1}
	codes := ""
	for _, trial := range job.CastTrials(cast, []float64{900}, fill) {
		codes += trial.Against + ": " + trial.Change + "; "
	}
	if !strings.Contains(codes, "section-freezes: a mold at 80 °C; section-freezes: pouring at") {
		t.Errorf("tried %s", codes)
	}
	h := HeadPlan{Name: "tail", Fill: &Filling{FillS: fill[0]}, Frozen: &FrozenPlan{FlowS: flow.Latest, FlowAtMM: xyz(flow.At)}}
	fs := freezesFirst(h, nil, 0)
	if len(fs) != 1 || fs[0].Code != freezesCode || *fs[0].At != flow.At || fs[0].Limit != fill[0] {
		t.Errorf("got %+v", fs)
	}
	h.Fill.FillS = flow.Latest - 0.01
	if fs := freezesFirst(h, nil, 0); len(fs) != 0 {
		t.Errorf("full before: %+v", fs)
	}
}
