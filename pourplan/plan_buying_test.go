package pourplan

import (
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
)

const kitsOfShop = `[[kit]]
name = "can"
mass = "1 kg"
price = 45
`

// measuredSmall is a mold of three cavities with 70 ml of rubber a half.
func measuredSmall() moldbox.Measured {
	in := measuredBalls(3)
	in.Left.Rubber = geom.Integral{Lo: 69900, Best: 70000, Hi: 70100}
	in.Right.Rubber = in.Left.Rubber
	return in
}

// About 9 for the rubber of one mold out of a kit of 45: common practice, no
// source. Here 2·(70 ml · 1.35 · 1.05 + 8 g) by hand.
func TestRubberOfOneMoldOutOfAKit(t *testing.T) {
	p := plan(t, read(t, shortJob+kitsOfShop), measuredSmall())
	b := p.Buying
	near(t, "need", b.NeedG, 2*(70*1.35*1.05+8), 0.02)
	if b.NeedG != p.Rubber.TotalG || b.Kits[0].Count != 1 || b.PriceMoney != 45 || b.CashPerMoldMoney != 45 {
		t.Errorf("got %+v", b)
	}
	if b.ProRataPerMoldMoney < 8 || b.ProRataPerMoldMoney > 11 {
		t.Errorf("rubber of one mold: got %.2f, want about 9", b.ProRataPerMoldMoney)
	}
	near(t, "pro rata", b.ProRataPerMoldMoney, 45*b.NeedG/1000, 1e-12)
	if b.LeftOverMolds != 3 { // 780 g left of 1000
		t.Errorf("left over for %d molds", b.LeftOverMolds)
	}
}

func TestBuyingForSeveralMolds(t *testing.T) {
	const more = "[[kit]]\na = \"250 g\"\nprice = 15\n[buying]\nmolds = 5\nhave = \"90 g\"\nshelf_life = \"9 months\"\n"
	p := plan(t, read(t, shortJob+kitsOfShop+more), measuredSmall())
	b, each := p.Buying, p.Rubber.TotalG
	near(t, "need", b.NeedG, 5*each, 1e-12)
	near(t, "to buy", b.BuyG, 5*each-90, 1e-12)
	// 1.0 kg and a bit: a can and one of 250 g of A with its 7.5 g of B.
	if b.Kits[0].Count != 1 || b.Kits[1].Count != 1 || b.Kits[1].Name != "250 g of A" {
		t.Errorf("got %+v", b.Kits)
	}
	near(t, "bought", b.BoughtG, 1000+257.5, 1e-12)
	near(t, "left over", b.LeftOverG, 90+1257.5-5*each, 1e-9)
	near(t, "cash", b.CashPerMoldMoney, 60.0/5, 1e-12)
	near(t, "pro rata", b.ProRataPerMoldMoney, 60/1257.5*each, 1e-12)
	if b.ShelfLifeS != 270*day || b.ShelfLifeUsual {
		t.Errorf("shelf life %g s", b.ShelfLifeS)
	}
}

// Enough on the shelf: no cash, but the rubber has its price.
func TestBuyingNothing(t *testing.T) {
	b := plan(t, read(t, shortJob+kitsOfShop+"[buying]\nhave = \"2 kg\"\n"), measuredSmall()).Buying
	if b.BuyG != 0 || b.PriceMoney != 0 || b.CashPerMoldMoney != 0 || b.Kits[0].Count != 0 {
		t.Errorf("got %+v", b)
	}
	near(t, "pro rata", b.ProRataPerMoldMoney, 0.045*b.NeedG, 1e-12)
	near(t, "left over", b.LeftOverG, 2000-b.NeedG, 1e-12)
}

func TestBuyingTooMuch(t *testing.T) {
	job := read(t, shortJob+kitsOfShop+"[buying]\nmolds = 1000\n")
	_, err := NewPlan(job, measuredSmall())
	if err == nil || !strings.Contains(err.Error(), "buying.molds: must need at most 100 kg") {
		t.Errorf("got %v", err)
	}
	if explained := job.Explain(err); !strings.Contains(explained.Error(), "job.toml:29:9") {
		t.Errorf("got %v", explained)
	}
}
