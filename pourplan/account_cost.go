package pourplan

// CostSoFar is what the heads of a mold have cost up to now, with the plan's
// prices and the yield that was seen: the whole mold, and of every head that
// was cast, good or bad, hook and keepers. Metal of bad heads goes back into
// the pot; dross is lost with every shot.
type CostSoFar struct {
	Currency   string  `json:"currency"`             // the job's
	SpentMoney float64 `json:"spent_money"`          // in all
	HeadMoney  float64 `json:"head_money"`           // of it on each good head
	ShopMoney  float64 `json:"shop_money,omitempty"` // one such head in a shop; left out when not given
	SavedMoney float64 `json:"saved_money"`          // against the shop; below 0 until the mold has paid, 0 without a shop's price
}

// costSoFar is nil without prices, or without a good head.
func costSoFar(p *Plan, m MoldTotal) *CostSoFar {
	c := p.Cost
	if c == nil || m.Good == 0 || len(p.Heads) == 0 {
		return nil
	}
	yield := p.Metal.YieldPercent / 100 // a head's hooks are planned with it
	perCast := (c.HookMoney + c.KeeperMoney) * yield
	metal := 0.0
	if c.MetalPerHeadG > 0 {
		perG := c.MetalMoney / c.MetalPerHeadG
		dross := p.Metal.ShotG/(1-p.Metal.DrossPercent/100) - p.Metal.ShotG
		metal = perG * (float64(m.Good)*p.Metal.HeadsPerShotG/float64(len(p.Heads)) + float64(m.Shots)*dross)
	}
	out := &CostSoFar{Currency: c.Currency, ShopMoney: c.ShopMoney, SpentMoney: c.MoldMoney + perCast*float64(m.Good+m.Bad) + metal}
	out.HeadMoney = out.SpentMoney / float64(m.Good)
	if c.ShopMoney > 0 {
		out.SavedMoney = float64(m.Good)*c.ShopMoney - out.SpentMoney
	}
	return out
}
