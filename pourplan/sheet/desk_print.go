package sheet

import (
	"fmt"

	"halfpour/pourplan"
)

// printBlock is how the frames are printed, on the left, and what layers leave on the
// castings, on the right.
func (s *sheet) printBlock(p *page, at region, plan *pourplan.Plan, steps []pourplan.Drawing) float64 {
	const bar, gap = 8.5, 8.0
	pr := plan.Print
	p.bar(at.x, at.y, at.width, bar, headingStyle, "PRINT")
	half := (at.width - 5 - gap) / 2
	left := region{at.x + 2.5, at.y + bar + 1.5, half, 0}
	right := left
	right.x += half + gap
	row := func(in *region, style textStyle, label, value string) { in.y = s.valueRow(p, *in, style, label, value) }
	row(&left, smallBold, "Way up", "floor down, "+pr.SupportText())
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
	if len(pr.Bed.Prints) == 1 {
		for _, f := range pr.Bed.Prints[0].Frames {
			row(&left, smallStyle, f.Half+" frame, corner on the bed at", fmt.Sprintf("%.0f, %.0f mm", f.AtMM[0], f.AtMM[1]))
		}
	}
	row(&right, smallBold, "Layers to print", pourplan.LayerText(pr.LayerMM))
	for _, l := range pr.Layers {
		row(&right, smallStyle, pourplan.LayerText(l.LayerMM)+" leave steps of",
			fmt.Sprintf("%.2f mm; wide ones on %.0f %% of the head", l.StepMM, l.WidePercent))
	}
	end := s.paragraph(p, left.x, max(left.y, right.y), at.width-5, smallStyle, "Bed: "+pr.Bed.Text()+".")
	for i, place := range pr.SupportPlaces() {
		if i == mostSupportRows {
			end = s.paragraph(p, left.x, end, at.width-5, smallStyle, "More places are in plan.json.")
			break
		}
		end = s.paragraph(p, left.x, end, at.width-5, smallStyle, "Support: "+place+".")
	}
	end = s.layerSteps(p, region{left.x, end, at.width - 5, 0}, steps, pr.LayerMM) + 1
	p.rectangle(at.x, at.y, at.width, end-at.y, 0.6, none)
	return end
}

// mostSupportRows is how many places that need supports are listed.
const mostSupportRows = 4

// stepsHeight is the most that the picture of the steps takes, mm.
const stepsHeight = 34.0

// layerSteps draws both flanks of a head side by side, and what the colours mean.
func (s *sheet) layerSteps(p *page, at region, drawings []pourplan.Drawing, layer float64) float64 {
	if len(drawings) == 0 {
		return at.y
	}
	const gap = 8.0
	y := s.paragraph(p, at.x, at.y+1, at.width, smallBold, "Where layers of "+pourplan.LayerText(layer)+" show on the casting") + 1
	wide := (at.width - gap*float64(len(drawings)-1)) / float64(len(drawings))
	low := y
	for i, d := range drawings {
		size := d.High.Sub(d.Low)
		f := newFigure(s.faces, d, min(wide/size.X, (stepsHeight-nextRow-firstRow)/size.Y))
		f.draw(p, s.faces, at.x+float64(i)*(wide+gap)+(wide-f.width)/2, y)
		low = max(low, y+f.height)
		p.text(at.x+float64(i)*(wide+gap), y+smallStyle.ascent(), smallStyle, alignLeft, d.Half)
	}
	x := at.x
	low += 1
	for i, colour := range pourplan.StepColours {
		p.shapes = append(p.shapes, pageShape{loops: []pageLoop{{rectanglePoints(x, low+0.4, 2.6, 2.6), true}}, paint: colour, width: 0.15})
		text := "steps " + pourplan.StepRange(i) + " wide"
		p.text(x+3.6, low+smallStyle.ascent(), smallStyle, alignLeft, text)
		x += s.faces.width(smallStyle, text) + 8
	}
	p.text(x, low+smallStyle.ascent(), smallStyle, alignLeft, "white: narrower, or level")
	return low + smallStyle.lineHeight()
}
