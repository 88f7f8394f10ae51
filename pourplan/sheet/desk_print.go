package sheet

import (
	"fmt"

	"halfpour/pourplan"
)

// printBlock is how the frames are printed, on the left, and what layers leave on the
// castings, on the right.
func (s *sheet) printBlock(p *page, at region, plan *pourplan.Plan) float64 {
	const bar, gap = 8.5, 8.0
	pr := plan.Print
	p.bar(at.x, at.y, at.width, bar, headingStyle, "PRINT")
	half := (at.width - 5 - gap) / 2
	left := region{at.x + 2.5, at.y + bar + 1.5, half, 0}
	right := left
	right.x += half + gap
	row := func(in *region, style textStyle, label, value string) { in.y = s.valueRow(p, *in, style, label, value) }
	supports := "no supports"
	if pr.Supports {
		supports = "supports where a finding says"
	}
	row(&left, smallBold, "Way up", "floor down, "+supports)
	for _, f := range pr.Frames {
		amount := fmt.Sprintf("%.0f ml", f.PlasticML)
		if f.PlasticG > 0 {
			amount += fmt.Sprintf(", %.0f g", f.PlasticG)
		}
		if f.FilamentMM > 0 {
			amount += fmt.Sprintf(", %.1f m of filament", f.FilamentMM/1000)
		}
		row(&left, smallStyle, f.Half+" frame", amount)
	}
	low, high := pr.Times()
	row(&left, smallStyle, "both frames, rough", low+" to "+high)
	row(&right, smallBold, "Layers, at most about", fmt.Sprintf("%.2f mm", pr.LayerMM))
	for _, l := range pr.Layers {
		row(&right, smallStyle, fmt.Sprintf("%.2f mm leave steps of", l.LayerMM),
			fmt.Sprintf("%.2f mm; wide ones on %.0f %% of the head", l.StepMM, l.WidePercent))
	}
	end := max(left.y, right.y) + 1
	p.rectangle(at.x, at.y, at.width, end-at.y, 0.6, none)
	return end
}
