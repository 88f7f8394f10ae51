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
	near(t, "density", density, 11.0412, 1e-5)
	f, _ := weighed("tin", 10.71, 10.81, 10.75, 10.69, 10.78).FillFactor("tin", 10)
	with, err := job.WithFill(f)
	if err != nil || with.Metal.FillFactor != f.Factor || job.Metal.FillFactor != 1 {
		t.Fatalf("%v, %v and %v", err, with.Metal.FillFactor, job.Metal.FillFactor)
	}
	// The same heads come out as heavy as weighed: what was asked over the factor.
	before, after := plan(t, job, measuredBalls(3)), plan(t, with, measuredBalls(3))
	near(t, "metal", after.Heads[0].MetalG.Best, f.Factor*before.Heads[0].MetalG.Best, 1e-12)
	light, _ := weighed("tin", 4.01, 4.02, 4, 4.03, 4.01).FillFactor("tin", 10)
	if _, err := job.WithFill(light); err == nil || err.Error() != "fill factor: must be at least 0.5, got 0.3014" {
		t.Errorf("got %v", err)
	}
}
