package pourplan

import (
	"math"
	"slices"
	"testing"

	"halfpour/moldbox"
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
	shot, heads := 3*(0.928*fedByHand()+0.700)*rho, 3*0.928*rho*fedByHand()
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

// The heads that pay for a mold: 20 saved at 0.4 a head are 50 of them, a little
// more takes one more; by hand.
func TestPaidBy(t *testing.T) {
	for _, c := range []struct {
		mold, shop, running float64
		want                int
	}{{20, 1, 0.6, 50}, {20.01, 1, 0.6, 51}, {0.1, 1, 0.5, 1}, {0, 1, 0.5, 1}, {20, 0.6, 0.6, 0}, {20, 0.5, 0.6, 0}, {1e10, 2, 1, 0}, {9e8, 2, 1, 9e8}} {
		k := CostPlan{ShopMoney: c.shop, RunningMoney: c.running}
		if got := k.paidBy(c.mold); got != c.want {
			t.Errorf("%+v: got %d", c, got)
		}
	}
	for _, c := range []struct {
		mold, cash, low float64
		heads           int
		inLife          bool
		cashHeads       int
	}{{20, 40, 50, 50, true, 100}, {20, 0, 49.9, 50, false, 0}, {1, 1, 50, 3, true, 3}} {
		k := CostPlan{MoldMoney: c.mold, MoldCashMoney: c.cash, RunningMoney: 0.6, LifeHeads: Range{Low: c.low}}
		one := 1.0
		k.against(&one)
		if k.BreakEvenHeads != c.heads || k.BreakEvenInLife != c.inLife || k.BreakEvenCashHeads != c.cashHeads || k.ShopMoney != 1 {
			t.Errorf("%+v: got %+v", c, k)
		}
	}
}

// Hooks and keepers are counted apart; a mold without a hook takes none, and a
// keeper that has a price but is not drawn counts once a head.
func TestHooksAndKeepersCost(t *testing.T) {
	heads := []HeadPlan{{Wires: []WirePlan{{Hook: true, Count: 1}, {Count: 3}}}, {Wires: []WirePlan{{Hook: true, Count: 2}, {Count: 1}, {Count: 2}}}}
	if hooks, keepers := hooksAndKeepers(heads); hooks != 3 || keepers != 6 {
		t.Errorf("%g hooks, %g keepers", hooks, keepers)
	}
	const prices = "[casting]\nyield = 80\n[cost]\nhook = 0.2\nkeeper = 0.04\n"
	c := plan(t, read(t, shortJob+prices), measuredBalls(3)).Cost
	near(t, "a hook of a good head", c.HookMoney, 0.2/0.8, 1e-12)
	near(t, "a keeper that is not drawn", c.KeeperMoney, 0.04/0.8, 1e-12)
	in := measuredBalls(3)
	for i := range in.Cavities {
		in.Cavities[i].Wires = append(in.Cavities[i].Wires, moldbox.PlacedWire{Name: "spike", Keeper: 0, Diameter: 0.8, Volume: 10, InHead: 2, Length: 20},
			moldbox.PlacedWire{Name: "spike", Keeper: 0, Diameter: 0.8, Volume: 10, InHead: 2, Length: 20})
	}
	const two = "[[keeper]]\nname = \"spike\"\nwire = 0.8\ncount = 2\nstep = [2, 0, 0]\npoints = [[3, 2, 0], [12, 2, 0]]\n"
	c = plan(t, read(t, shortJob+two+prices), in).Cost
	near(t, "two keepers of a good head", c.KeeperMoney, 2*0.04/0.8, 1e-12)
	c = plan(t, read(t, shortJob+two+"[cost]\nhook = 0.2\n"), in).Cost
	if !slices.Contains(c.NotPriced, "keeper") || c.KeeperMoney != 0 {
		t.Errorf("keepers without a price: %v, %g", c.NotPriced, c.KeeperMoney)
	}
	c = plan(t, read(t, shortJob+"[cost]\nhook = 0.2\n"), measuredBalls(3)).Cost
	if slices.Contains(c.NotPriced, "keeper") || !slices.Contains(c.NotPriced, "metal") {
		t.Errorf("no keepers: %v", c.NotPriced)
	}
	// The plastic of both frames, by their mesh or else by what was measured: g.
	in = measuredBalls(3)
	in.Left.Mesh, in.Left.Plastic = nil, 30000
	near(t, "plastic", plasticOf(in, Plastic{Density: 1.25, Solid: 0.8}), (30+40)*1.25*0.8, 1e-12)
}
