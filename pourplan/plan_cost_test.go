package pourplan

import (
	"math"
	"slices"
	"testing"
)

// A mold life of 20 to 25 pours of 5 heads (common practice, no source) is 100
// to 125 heads, when all are good.
func TestLifeOfFiveCavities(t *testing.T) {
	job := read(t, swap("cavities = 3", "cavities = 5")(shortJob)+"[casting]\nyield = 100\nlife = [20, 25]\n[cost]\nmetal = 5\n")
	c := plan(t, job, measuredBalls(5)).Cost
	if c.LifeHeads != (Range{100, 112.5, 125}) {
		t.Errorf("got %+v", c.LifeHeads)
	}
}

// By hand, for the round volumes of measuredBalls.
func TestCostByHand(t *testing.T) {
	const tables = `[casting]
yield = 80
dross = 10
life = [10, 30]
[plastic]
name = "PLA"
density = 1.25
solid = 80
[cost]
rubber = 40
metal = 10
hook = 0.2
keeper = 0.04
plastic = 25
other = 1.5
shop = 1.2
`
	p := plan(t, read(t, shortJob+tables), measuredBalls(3))
	c := p.Cost
	mold := 40*p.Rubber.TotalG/1000 + 25*2*40*1.25*0.8/1000 + 1.5
	rho := 100 / (96/11.35 + 4/6.68)
	shot, heads := 3*(0.928+0.700)*rho, 3*0.928*rho
	metal := heads/3 + shot*(1/0.9-1)/(3*0.8)
	running := 10*metal/1000 + 0.2/0.8 + 0.04/0.8
	near(t, "plastic", c.PlasticG, 80, 1e-12)
	near(t, "mold", c.MoldMoney, mold, 1e-12)
	near(t, "metal of a head", c.MetalPerHeadG, metal, 1e-12)
	near(t, "one head more", c.RunningMoney, running, 1e-12)
	// 10 to 30 shots of 3 at 80 %: 24 to 72 heads.
	near(t, "long life", c.HeadMoney.Low, running+mold/72, 1e-12)
	near(t, "middle life", c.HeadMoney.Best, running+mold/48, 1e-12)
	near(t, "short life", c.HeadMoney.High, running+mold/24, 1e-12)
	if want := int(math.Ceil(mold / (1.2 - running))); c.BreakEvenHeads != want || c.BreakEvenInLife != (want <= 24) {
		t.Errorf("break even: got %d, %v, want %d", c.BreakEvenHeads, c.BreakEvenInLife, want)
	}
	if len(c.NotPriced) != 0 {
		t.Errorf("not priced: %v", c.NotPriced)
	}
	// One head less does not pay, that many do.
	paid := func(n int) float64 { return float64(n)*(1.2-c.RunningMoney) - c.MoldMoney }
	if paid(c.BreakEvenHeads) < 0 || paid(c.BreakEvenHeads-1) >= 0 {
		t.Errorf("at %d heads %g is saved", c.BreakEvenHeads, paid(c.BreakEvenHeads))
	}
}

func TestCostWithoutPrices(t *testing.T) {
	if c := plan(t, read(t, shortJob), measuredBalls(3)).Cost; c != nil {
		t.Errorf("costs out of nothing: %+v", c)
	}
	c := plan(t, read(t, shortJob+"[cost]\nmetal = 5\nshop = 0.01\n"), measuredBalls(3)).Cost
	if !slices.Equal(c.NotPriced, []string{"rubber", "plastic", "hook"}) {
		t.Errorf("not priced: %v", c.NotPriced)
	}
	if c.BreakEvenHeads != 0 || c.BreakEvenInLife {
		t.Errorf("heads for less than their metal never pay: %+v", c)
	}
}
