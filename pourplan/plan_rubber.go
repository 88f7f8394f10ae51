package pourplan

import "halfpour/moldbox"

func planRubber(r Rubber, t EveningTable, in moldbox.Measured) RubberPlan {
	p := RubberPlan{Name: r.Name, Cure: r.Cure, Ratio: r.Ratio.String(), RatioA: r.Ratio.A, RatioB: r.Ratio.B,
		DensityGCM3: r.Density, WastePercent: 100 * r.Waste, ScaleStepG: r.Resolution, Vacuum: r.Vacuum}
	p.Halves = []HalfPlan{planHalf("left", r, in.Left), planHalf("right", r, in.Right)}
	for i, h := range []moldbox.MeasuredHalf{in.Left, in.Right} {
		p.Halves[i].BrushG = brushCoat(r, h, in.Cavities)
	}
	for _, h := range p.Halves {
		p.TotalML += h.VolumeML.Best
		p.TotalG += h.MixG
		p.TotalAG += h.AG
		p.TotalBG += h.BG
	}
	p.OneMix = planOneMix(r, t, p.TotalML)
	return p
}

func planHalf(name string, r Rubber, m moldbox.MeasuredHalf) HalfPlan {
	ml := m.Rubber.Best * 1e-3
	h := HalfPlan{Half: name, VolumeML: Range{m.Rubber.Lo * 1e-3, ml, m.Rubber.Hi * 1e-3}, VolumeFlOz: ml / MLPerUSFlOz, ResidueG: r.Residue,
		FillFromFloorMM: m.FillHeight, FillFromRimMM: m.RimHeight - m.FillHeight}
	h.FrameMassG = r.Density * ml
	h.WasteG = h.FrameMassG * r.Waste
	h.ExactMassG = RubberMass(ml, r.Density, r.Waste, r.Residue)
	h.AG, h.BG = r.Ratio.Weigh(h.ExactMassG, r.Resolution)
	h.MixG = h.AG + h.BG
	h.BErrorPercent = 100 * (h.BG/BFor(h.AG, r.Ratio) - 1)
	h.LineAML, h.LineMixML, h.CupML = r.cup(h.AG, h.BG)
	h.LineAFromMix = r.DensityA == 0
	h.LineAFlOz, h.LineMixFlOz, h.CupFlOz = h.LineAML/MLPerUSFlOz, h.LineMixML/MLPerUSFlOz, h.CupML/MLPerUSFlOz
	return h
}

// cup returns where A and then the mix stand in a cup, and its least size, ml.
// Where A's own density is not known, the mixed one stands in.
func (r Rubber) cup(a, b float64) (lineA, lineMix, size float64) {
	densityA := r.DensityA
	if densityA == 0 {
		densityA = r.Density
	}
	lineMix = (a + b) / r.Density
	return a / densityA, lineMix, lineMix * r.Headroom()
}

// brushCoat is what of a half's rubber is brushed on first, g. The surface is the
// tray's floor and half of each head less the section that it covers; for a
// ball that section is a quarter of its area.
func brushCoat(r Rubber, h moldbox.MeasuredHalf, cavities []moldbox.MeasuredCavity) float64 {
	surface := h.Inside.X * h.Inside.Y
	for _, c := range cavities {
		surface += c.Area / 4
	}
	return r.Density * surface * r.Brush * 1e-3
}

// planOneMix plans both halves, ml together, out of one cup.
func planOneMix(r Rubber, t EveningTable, ml float64) OneMix {
	b := newBench(t, r)
	m := OneMix{TakesS: b.oneMix(), HalfTakesS: b.oneHalf(), LargestCupML: float64(t.Cup)}
	m.AG, m.BG = r.Ratio.Weigh(RubberMass(ml, r.Density, r.Waste, r.Residue), r.Resolution)
	m.MixG = m.AG + m.BG
	m.LineAML, m.LineMixML, m.CupML = r.cup(m.AG, m.BG)
	advice := b.decide(m.LargestCupML, m.CupML)
	m.Advised, m.Reason = advice.one, advice.reason
	return m
}
