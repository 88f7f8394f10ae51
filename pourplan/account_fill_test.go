package pourplan

import (
	"math"
	"math/rand"
	"strings"
	"testing"
)

// weighed is an account of heads whose metal is computed as 10 g, with 1 g of
// steel, at 10 g/cm³.
func weighed(metal string, weights ...float64) *Account {
	return &Account{Castings: []Casting{{Date: "2026-01-31", Mold: 1, Weighing: Weighing{
		Weights: weights, Expected: Range{10, 11, 12}, Metal: metal, MetalMM3: 1000, SteelG: 1}}}}
}

// By hand: factors 0.98, 1, 1.02, 0.99, 1.01, of which the scatter is
// sqrt(0.001/4) and the error of the mean that over sqrt(5); a scale of 0.1 g
// hides 0.1/sqrt(12) g of 10.
func TestFillFactorByHand(t *testing.T) {
	f, ok := weighed("tin", 10.8, 11, 11.2, 10.9, 11.1).FillFactor("tin", 10)
	if !ok || f.Weights != 5 {
		t.Fatalf("got %+v, %v", f, ok)
	}
	near(t, "factor", f.Factor, 1, 1e-12)
	near(t, "scatter", f.scatter, 0.0158113883, 1e-8)
	near(t, "standard error", f.StandardError, math.Hypot(0.00707106781, 0.00288675135), 1e-8)
	near(t, "95 %", f.High-f.Factor, 2.776*0.0076376262, 1e-3)
	near(t, "95 % below", f.Factor-f.Low, f.High-f.Factor, 1e-12)
}

// By hand: Student's t for 95 % (2.776 for 5 weights; Abramowitz & Stegun, table
// 26.10, from memory) times the standard error of TestFillFactorByHand, against 2 %.
func TestFillFactorUsable(t *testing.T) {
	for _, c := range []struct {
		name    string
		weights []float64
		want    string
	}{
		{"none", nil, "must have at least 5 weighed heads of tin, got 0: too few to judge the scatter"},
		{"four alike", []float64{11, 11.01, 10.99, 11}, "must have at least 5 weighed heads of tin, got 4: too few"},
		{"five that scatter", []float64{10.8, 11, 11.2, 10.9, 11.1}, "must be known to ±2 %, got ±2.1 % from 5 heads that scatter by 1.6 %: weigh about 6 in all"},
		{"wild", []float64{9, 11, 13, 10, 12}, "must be known to ±2 %, got ±21.2 % from 5 heads that scatter by 15.8 %: weigh on a finer scale"},
		{"wild on a fine scale", []float64{9.01, 11, 13, 10, 11.99}, "must be known to ±2 %, got ±19.6 % from 5 heads that scatter by 15.8 %: weigh about 239 in all"},
		{"coarse scale", []float64{11, 11, 11, 11, 11}, "must be known to ±2 %, got ±8.0 % from 5 heads that scatter by 0.0 %: weigh on a finer scale"},
		{"good", []float64{10.81, 10.91, 10.85, 10.79, 10.88}, ""},
	} {
		f, _ := weighed("tin", c.weights...).FillFactor("tin", 10)
		err := f.Usable()
		if (err == nil) != (c.want == "") || err != nil && !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q", c.name, err, c.want)
		}
	}
}

// Other metals do not count, nor lines without weights.
func TestFillFactorOfOneMetal(t *testing.T) {
	a := weighed("tin", 10.81, 10.91, 10.85)
	a.Castings = append(a.Castings, weighed("lead", 14, 14.1).Castings...)
	a.Castings = append(a.Castings, Casting{Date: "2026-02-01", Mold: 1, Shots: 3, Good: 9})
	if f, ok := a.FillFactor("tin", 10); !ok || f.Weights != 3 {
		t.Errorf("got %+v", f)
	}
	if _, ok := a.FillFactor("zinc", 10); ok {
		t.Error("a factor out of nothing")
	}
}

// The 95 % interval holds the true factor about 95 times in 100.
func TestFillFactorCovers(t *testing.T) {
	const seed, runs = 5, 4000
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewSource(seed))
	held := 0
	for range runs {
		var w []float64
		for range 6 {
			w = append(w, 1+10*(0.97+0.015*rnd.NormFloat64()))
		}
		if f, ok := weighed("tin", w...).FillFactor("tin", 10); ok && f.Low <= 0.97 && 0.97 <= f.High {
			held++
		}
	}
	if share := float64(held) / runs; share < 0.935 || share > 0.965 {
		t.Errorf("held %.1f %% of the time", 100*share)
	}
}

func TestJobWithFill(t *testing.T) {
	job := read(t, shortJob)
	name, density, err := job.CastMetal()
	if err != nil || name != "lead-antimony 4" {
		t.Fatal(name, err)
	}
	// The account's volume shrinks from each metal's own melting point, 0.856 %, in
	// a cold mold; the head from the solidus, in one that has grown by 0.999 %.
	cold := (96/11.35*0.87 + 4/6.68*0.67) / (96/11.35 + 4/6.68) / 100
	near(t, "density", density, 11.0412*fedByHand()*cube((1-shrinkByHand())*1.00999/(1-cold)), 1e-5)
	f, _ := weighed("tin", 10.71, 10.81, 10.75, 10.69, 10.78).FillFactor("tin", 10)
	with, err := job.WithFill(f)
	if err != nil || with.Metal.FillFactor != f.Factor || job.Metal.FillFactor != 1 {
		t.Fatalf("%v, %v and %v", err, with.Metal.FillFactor, job.Metal.FillFactor)
	}
	// The same heads come out as heavy as weighed: what was asked over the factor.
	before, after := plan(t, job, measuredBalls(3)), plan(t, with, measuredBalls(3))
	near(t, "metal", after.Heads[0].MetalG.Best, f.Factor*before.Heads[0].MetalG.Best, 1e-12)
	// What was fed is in the factor, and adds no range of its own.
	if fed := after.Metal.FedFactor; fed.Low != fed.High || before.Metal.FedFactor.Low == before.Metal.FedFactor.High {
		t.Errorf("fed %+v after weighing, %+v before", fed, before.Metal.FedFactor)
	}
	light, _ := weighed("tin", 4.01, 4.02, 4, 4.03, 4.01).FillFactor("tin", 10)
	if _, err := job.WithFill(light); err == nil || err.Error() != "fill factor: must be at least 0.5, got 0.3014" {
		t.Errorf("got %v", err)
	}
}

// An account of before molds were counted as warm, as that program wrote it: a
// demo head of 597.2 mm³ of metal at 1.01371 times its cold size, six of which
// weigh 6.9083 g with 0.4928 g of steel.
const oldAccount = "date,mold,shots,good,bad,head,weights_g,expected_g,low_g,high_g,metal,metal_mm3,steel_g,note\r\n" +
	"2026-01-31,1,5,5,0,,6.92 6.88 6.95 6.9 6.91 6.89,7.0868,6.6145,7.2504,lead-antimony 4,597.2179,0.4928,\r\n"

// What an old account teaches is right for the very mold that it is of: heads of
// a print that large weigh what they did.
func TestOldAccount(t *testing.T) {
	a, err := ReadAccount([]byte(oldAccount))
	if err != nil || len(a.Faults) != 0 {
		t.Fatal(err, a.Faults)
	}
	job := read(t, shortJob)
	name, density, err := job.CastMetal()
	if err != nil {
		t.Fatal(err)
	}
	f, ok := a.FillFactor(name, density)
	with, err := job.WithFill(f)
	if !ok || err != nil {
		t.Fatal(ok, err)
	}
	m, _ := with.Metal.resolve()
	r, _ := with.Rubber.resolve()
	// Cold, the old mold's cavity of metal is larger now than it was thought to be.
	print := 597.2179 * cube(1.0137103624)
	cold := print / cube(shrinkFactor(m, r, float64(with.Casting.Mold)))
	near(t, "weight", FinishedMass(m.Density.Best, m.filled(), cold, 0.4928), (6.92+6.88+6.95+6.9+6.91+6.89)/6, 1e-6)
	if raw := (6.908333 - 0.4928) / (0.5972179 * 11.0412); math.Abs(f.Factor-raw) < 0.01 {
		t.Errorf("a factor of %.4f is the old one, %.4f: nothing was learned of heat", f.Factor, raw)
	}
	// A head logged now stands in the account as one of then would.
	p := plan(t, job, measuredBalls(3))
	w, err := p.Weigh("", []float64{p.Heads[0].FinishedG.Best})
	if err != nil {
		t.Fatal(err)
	}
	a.Castings = []Casting{{Date: "2026-01-31", Mold: 1, Weighing: w}, {Date: "2026-01-31", Mold: 1, Weighing: w}}
	if f, ok := a.FillFactor(name, density); !ok || math.Abs(f.Factor-1) > 1e-5 {
		t.Errorf("heads as heavy as expected teach a factor of %g", f.Factor)
	}
}
