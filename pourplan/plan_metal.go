package pourplan

import "math"

// molds is how many molds to buy rubber for: the job's number, or as many as the
// shots take at the shorter life.
func (m MetalPlan) molds(t BuyingTable) int {
	if t.Molds > 0 {
		return t.Molds
	}
	return max(1, m.MoldsHigh)
}

// planMetal counts the metal of all shots. Dross is taken off the melt, so the
// melt is what is poured over 1 - dross, and the heel on top. runner is what all
// heads share, mm³.
func planMetal(t CastingTable, m Metal, heads []HeadPlan, runner float64) MetalPlan {
	p := MetalPlan{Name: m.Name, DensityGCM3: rangeOf(m.Density, 1), ShrinkPercent: rangeOf(m.Shrink, 1), FillFactor: m.FillFactor, FillLow: m.fill().Lo, FillHigh: m.fill().Hi,
		DrossPercent: float64(t.Dross), HeelG: float64(t.Heel), HeadsWanted: t.Heads, YieldPercent: float64(t.Yield), Shots: 1}
	if m.Parts != nil {
		p.Composition = m.Parts.String()
	}
	for _, h := range heads {
		p.HeadsPerShotG += h.MetalG.Best
		p.RunnerPerShotG += h.RunnerG
	}
	p.SharedRunnerG = runner * 1e-3 * m.Density.Best
	p.RunnerPerShotG += p.SharedRunnerG
	p.ShotG = p.HeadsPerShotG + p.RunnerPerShotG
	p.FedFactor = rangeOf(m.fed(), 1)
	bad := 0.0
	if t.Heads > 0 {
		cast := math.Ceil(float64(t.Heads)/t.Yield.Fraction() - 1e-9)
		p.Shots = int(math.Ceil(cast / float64(len(heads))))
		bad = float64(p.Shots)*p.HeadsPerShotG - float64(t.Heads)*p.HeadsPerShotG/float64(len(heads))
	}
	short, long, _ := t.life()
	p.MoldsLow, p.MoldsHigh = (p.Shots+long-1)/long, (p.Shots+short-1)/short
	p.MeltG = float64(p.Shots)*p.ShotG/(1-t.Dross.Fraction()) + p.HeelG
	p.ReturnsG = float64(p.Shots)*p.RunnerPerShotG + bad
	p.UsedUpG = p.MeltG - p.HeelG - p.ReturnsG
	if t.Pot > 0 {
		p.PotG = float64(t.Pot)
		p.ShotsPerMelt = int((p.PotG-p.HeelG)*(1-t.Dross.Fraction())/p.ShotG + 1e-9)
		if p.ShotsPerMelt > 0 {
			p.Melts = (p.Shots + p.ShotsPerMelt - 1) / p.ShotsPerMelt
		}
	}
	return p
}
