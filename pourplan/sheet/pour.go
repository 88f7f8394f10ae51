package sheet

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"halfpour/pourplan"
)

// pour adds the page to stand beside the scale: what to weigh for each half,
// large, and the steps to tick off.
func (s *sheet) pour(plan *pourplan.Plan) {
	p, body := s.newPage("Pour")
	y := s.stopBanner(p, body, plan)
	for _, line := range rubberLines(plan) {
		y = s.paragraph(p, body.x, y, body.width, bodyStyle, line)
	}
	y += 1.5
	gap := 5.0
	width := (body.width - gap*float64(len(plan.Rubber.Halves)-1)) / math.Max(1, float64(len(plan.Rubber.Halves)))
	end := y
	for i, h := range plan.Rubber.Halves {
		x := body.x + float64(i)*(width+gap)
		end = math.Max(end, s.halfBlock(p, region{x, y, width, 0}, plan, h))
	}
	y = s.times(p, region{body.x, end + 3, body.width, 0}, plan) + 3
	rest := region{body.x, y, body.width, body.y + body.height - y}
	s.fitStages(p, rest, 0, "Pour, continued", pourplan.PourStages(plan), stepBoxes{"L", "R"})
}

// rubberLines say what rubber the figures are for, and how much in all.
func rubberLines(plan *pourplan.Plan) []string {
	r := plan.Rubber
	return []string{
		fmt.Sprintf("Rubber: %s. A to B %s by mass, mixed density %s g/cm³%s.", r.Name, r.Ratio,
			pourplan.FormatNumber(r.DensityGCM3, 3), estimateMark(plan, "rubber.density")),
		mixingLine(r),
	}
}

// mixingLine says whether both halves come out of one mix, and why.
func mixingLine(r pourplan.RubberPlan) string {
	one := r.OneMix
	if one.Advised {
		return fmt.Sprintf("One mix may do for both halves: A %s g, B %s g, cup %.0f ml; %s.",
			pourplan.OnScale(one.AG, r.ScaleStepG), pourplan.OnScale(one.BG, r.ScaleStepG), one.CupML, one.Reason)
	}
	return fmt.Sprintf("Mix each half on its own, together A %s g, B %s g: %s.",
		pourplan.OnScale(r.TotalAG, r.ScaleStepG), pourplan.OnScale(r.TotalBG, r.ScaleStepG), one.Reason)
}

// estimateMark marks a figure that is a typical one and not the job's.
func estimateMark(plan *pourplan.Plan, key string) string {
	if slices.Contains(plan.Typical, key) {
		return " (estimate)"
	}
	return ""
}

// halfBlock is the block of one half and returns where it ends.
func (s *sheet) halfBlock(p *page, at region, plan *pourplan.Plan, h pourplan.HalfPlan) float64 {
	const bar = 8.5
	step := plan.Rubber.ScaleStepG
	p.bar(at.x, at.y, at.width, bar, headingStyle, strings.ToUpper(h.Half)+" HALF")
	y := s.figureRow(p, region{at.x, at.y + bar, at.width, 0}, "A", pourplan.OnScale(h.AG, step), h.AG)
	p.line(at.x, y, at.x+at.width, y, 0.2)
	y = s.figureRow(p, region{at.x, y, at.width, 0}, "B", pourplan.OnScale(h.BG, step), h.BG)
	p.line(at.x, y, at.x+at.width, y, 0.2)
	y = s.halfDetails(p, region{at.x + 2.5, y + 1.5, at.width - 5, 0}, plan, h)
	y = s.correction(p, region{at.x, y + 1, at.width, 0}, plan, h)
	p.rectangle(at.x, at.y, at.width, y-at.y, 0.6, none)
	return y
}

// figureRow is a tick box, a part's letter and its mass, to be read from two
// metres.
func (s *sheet) figureRow(p *page, at region, part, figure string, g float64) float64 {
	const box, height = 9.0, 18.5
	base := at.y + 2.2 + figureStyle.ascent()
	p.tickBox(at.x+2.5, base-0.6, box)
	letter := textStyle{36, true}
	p.text(at.x+box+5, base, letter, alignLeft, part)
	used := box + 5 + s.faces.width(letter, part)
	unit := s.faces.width(unitStyle, "g")
	style := s.faces.shrink(figureStyle, figure, at.width-used-unit-6, 30)
	p.text(at.x+at.width-unit-4, base, style, alignRight, figure)
	p.text(at.x+at.width-2.5, base, unitStyle, alignRight, "g")
	p.text(at.x+at.width-unit-4, base+1.2+smallStyle.ascent(), smallStyle, alignRight, strconv.FormatFloat(g/pourplan.GramPerOz, 'f', 3, 64)+" oz")
	return at.y + height
}

// halfDetails are cup, fill line and where the mass goes.
func (s *sheet) halfDetails(p *page, at region, plan *pourplan.Plan, h pourplan.HalfPlan) float64 {
	lineA := ""
	if h.LineAFromMix {
		lineA = ", estimate"
	}
	y := at.y
	row := func(style textStyle, label, value string) {
		p.text(at.x, y+style.ascent(), smallStyle, alignLeft, label)
		room := at.width - s.faces.width(smallStyle, label) - 2
		fit := s.faces.shrink(style, value, room, 8)
		p.text(at.x+at.width, y+style.ascent(), fit, alignRight, value)
		y += style.lineHeight() + 0.4
	}
	row(textStyle{13, true}, "Fill line above the floor", pourplan.FormatLength(h.FillFromFloorMM))
	row(strongStyle, "down from the rim", pourplan.FormatLength(h.FillFromRimMM))
	row(smallBold, "A alone in the cup", bothVolumes(h.LineAML)+lineA)
	row(smallBold, "A and B in the cup", bothVolumes(h.LineMixML))
	row(smallBold, "Cup, at least", bothVolumes(h.CupML))
	row(smallStyle, "To fill the frame", fmt.Sprintf("%s g (%s)", pourplan.FormatNumber(h.FrameMassG, 1), bothVolumes(h.VolumeML.Best)))
	row(smallStyle, "Brush coat (estimate); spare; left in cup",
		fmt.Sprintf("%s g; %s g; %s g", pourplan.FormatNumber(h.BrushG, 1), pourplan.FormatNumber(h.WasteG, 1), pourplan.FormatNumber(h.ResidueG, 1)))
	return y
}

func bothVolumes(ml float64) string {
	return fmt.Sprintf("%.0f ml · %.1f US fl oz", ml, ml/pourplan.MLPerUSFlOz)
}

// correction is a small table of B for an A that came out otherwise.
func (s *sheet) correction(p *page, at region, plan *pourplan.Plan, h pourplan.HalfPlan) float64 {
	ratio := pourplan.Ratio{A: plan.Rubber.RatioA, B: plan.Rubber.RatioB}
	const rowHeight = 5.2
	label := 19.0
	cell := (at.width - label) / 5
	p.rectangle(at.x, at.y, at.width, 2*rowHeight, 0.2, none)
	p.text(at.x+2.5, at.y+rowHeight-1.4, smallStyle, alignLeft, "If A is")
	p.text(at.x+2.5, at.y+2*rowHeight-1.4, smallStyle, alignLeft, "B is")
	for i, a := range correctionSteps(h.AG, ratio.A/ratio.B*plan.Rubber.ScaleStepG) {
		x := at.x + label + cell*float64(i)
		p.line(x, at.y, x, at.y+2*rowHeight, 0.15)
		style := smallBold
		if i != 2 {
			style = smallStyle
		}
		step := plan.Rubber.ScaleStepG
		for row, g := range []float64{a, pourplan.BFor(a, ratio)} {
			text := pourplan.OnScale(g, step)
			fit := s.faces.shrink(style, text, cell-1, 6)
			p.text(x+cell/2, at.y+rowHeight*float64(row+1)-1.4, fit, alignMiddle, text)
		}
	}
	return at.y + 2*rowHeight
}

// correctionSteps are five masses round a: two below, two above, 1, 2 or 5 of
// a decimal place apart, at least 1 % of a and at least the given step, by
// which B moves by what the scale shows. There is none below 0.
func correctionSteps(a, least float64) (masses [5]float64) {
	least = math.Max(least, a*0.01)
	if !(a > 0) || math.IsInf(least, 0) {
		return masses
	}
	decade := math.Pow(10, math.Floor(math.Log10(least)))
	step := 10 * decade
	for _, k := range []float64{1, 2, 5} {
		if k*decade >= least*(1-1e-9) {
			step = k * decade
			break
		}
	}
	for i := range masses {
		masses[i] = math.Max(0, a+float64(i-2)*step)
	}
	return masses
}
