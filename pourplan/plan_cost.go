package pourplan

import (
	"math"

	"halfpour/moldbox"
)

// CostPlan is what molds and heads cost, in the job's currency. What has no
// price is counted as 0 and named.
type CostPlan struct {
	Currency  string   `json:"currency"`   // the job's word for it
	NotPriced []string `json:"not_priced"` // of rubber, metal, hook, keeper and plastic, what there is no price or no measure of

	RubberMoney  float64 `json:"rubber_money"`  // in one mold, pro rata
	PlasticMoney float64 `json:"plastic_money"` // in both frames
	PlasticG     float64 `json:"plastic_g"`     // in both frames; 0 when not known
	OtherMoney   float64 `json:"other_money"`   // of one mold
	MoldMoney    float64 `json:"mold_money"`    // the three together

	MoldCashMoney float64 `json:"mold_cash_money,omitempty"` // of one mold, with the kits as they are bought, left over rubber too; left out without kits

	MetalPerHeadG float64 `json:"metal_per_head_g"` // used up for a good head, with its share of dross
	MetalMoney    float64 `json:"metal_money"`      // of that
	HookMoney     float64 `json:"hook_money"`       // of a good head; hooks of bad ones are lost
	KeeperMoney   float64 `json:"keeper_money"`     // the same for keepers
	RunningMoney  float64 `json:"running_money"`    // the three together: what one head more costs

	LifeHeads Range `json:"life_heads"` // good heads over the mold's life
	HeadMoney Range `json:"head_money"` // a head with its share of the mold, over the life

	ShopMoney          float64 `json:"shop_money,omitempty"`            // one such head in a shop; left out when not given
	BreakEvenHeads     int     `json:"break_even_heads,omitempty"`      // good heads that pay for a mold; left out when none do
	BreakEvenCashHeads int     `json:"break_even_cash_heads,omitempty"` // the same for a mold at mold_cash_money; left out without kits
	BreakEvenInLife    bool    `json:"break_even_in_life"`              // within the shorter life
}

// planCost counts; nil when the job names no price at all.
func planCost(job *Job, p *Plan, in moldbox.Measured, plastic Plastic) *CostPlan {
	t := job.Cost
	c := &CostPlan{Currency: t.Currency, NotPriced: []string{}}
	price := func(what string, given *float64) float64 {
		if given == nil {
			c.NotPriced = append(c.NotPriced, what)
			return 0
		}
		return *given
	}
	if p.Buying != nil {
		c.RubberMoney = p.Buying.ProRataPerMoldMoney
	} else {
		c.RubberMoney = price("rubber", t.Rubber) * p.Rubber.TotalG / 1000
	}
	c.PlasticG = plasticOf(in, plastic)
	if perKg := price("plastic", t.Plastic); perKg > 0 && c.PlasticG == 0 {
		c.NotPriced = append(c.NotPriced, "plastic")
	} else {
		c.PlasticMoney = perKg * c.PlasticG / 1000
	}
	if t.Other != nil {
		c.OtherMoney = *t.Other
	}
	c.MoldMoney = c.RubberMoney + c.PlasticMoney + c.OtherMoney

	if p.Buying != nil {
		c.MoldCashMoney = p.Buying.CashPerMoldMoney + c.PlasticMoney + c.OtherMoney
	}

	yield := job.Casting.Yield.Fraction()
	n := float64(len(p.Heads))
	shot := p.Metal.ShotG
	dross := shot/(1-job.Casting.Dross.Fraction()) - shot
	c.MetalPerHeadG = p.Metal.HeadsPerShotG/n + dross/(n*yield)
	c.MetalMoney = price("metal", t.Metal) * c.MetalPerHeadG / 1000
	hooks, keepers := hooksAndKeepers(p.Heads)
	if hooks > 0 {
		c.HookMoney = price("hook", t.Hook) * hooks / n / yield
	}
	if keepers > 0 || t.Keeper != nil {
		c.KeeperMoney = price("keeper", t.Keeper) * math.Max(1, keepers/n) / yield
	}
	c.RunningMoney = c.MetalMoney + c.HookMoney + c.KeeperMoney
	if c.MoldMoney+c.RunningMoney == 0 && t.Shop == nil {
		return nil
	}
	c.overLife(p.Casting, n*yield)
	c.against(t.Shop)
	return c
}

// plasticOf weighs both frames, g: their mesh's solid, or what was measured
// before there was a mesh.
func plasticOf(in moldbox.Measured, plastic Plastic) (g float64) {
	for _, h := range []moldbox.MeasuredHalf{in.Left, in.Right} {
		volume := h.Plastic
		if h.Mesh != nil {
			volume = h.Mesh.SolidVolume
		}
		g += volume * 1e-3 * plastic.Density * plastic.Solid
	}
	return g
}

// overLife shares the mold between its good heads.
func (c *CostPlan) overLife(t CastingPlan, goodPerShot float64) {
	low, high := float64(t.LifeLow)*goodPerShot, float64(t.LifeHigh)*goodPerShot
	c.LifeHeads = Range{low, (low + high) / 2, high}
	each := func(heads float64) float64 { return c.RunningMoney + c.MoldMoney/heads }
	c.HeadMoney = Range{each(high), each(c.LifeHeads.Best), each(low)}
}

// against finds how many heads bought at the shop's price would have cost as
// much as the mold and as many heads of one's own.
func (c *CostPlan) against(shop *float64) {
	if shop == nil {
		return
	}
	c.ShopMoney = *shop
	c.BreakEvenHeads = c.paidBy(c.MoldMoney)
	c.BreakEvenInLife = c.BreakEvenHeads > 0 && float64(c.BreakEvenHeads) <= c.LifeHeads.Low
	if c.MoldCashMoney > 0 {
		c.BreakEvenCashHeads = c.paidBy(c.MoldCashMoney)
	}
}

// paidBy is how many heads save the price of a mold; 0 when none do.
func (c *CostPlan) paidBy(mold float64) int {
	if saved := c.ShopMoney - c.RunningMoney; saved > 0 && mold/saved < 1e9 {
		return int(math.Max(1, math.Ceil(mold/saved-1e-9)))
	}
	return 0
}

// hooksAndKeepers counts hooks and keepers of all heads.
func hooksAndKeepers(heads []HeadPlan) (hooks, keepers float64) {
	for _, h := range heads {
		for _, w := range h.Wires {
			if w.Hook {
				hooks += float64(w.Count)
			} else {
				keepers += float64(w.Count)
			}
		}
	}
	return hooks, keepers
}
