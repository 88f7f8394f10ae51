package sheet

import (
	"fmt"
	"math"

	"halfpour/geom"
	"halfpour/pourplan"
)

// axis maps values to paper along one direction.
type axis struct {
	low, high float64 // values at the ends
	from, to  float64 // mm at the ends
}

func (a axis) at(v float64) float64 {
	return a.from + (v-a.low)/(a.high-a.low)*(a.to-a.from)
}

// ticks are round values in the axis's range, 1, 2 or 5 of a decimal place
// apart, at most so many.
func (a axis) ticks(most int) []float64 {
	step := math.Pow(10, math.Floor(math.Log10((a.high-a.low)/float64(most))))
	for _, k := range []float64{1, 2, 5, 10} {
		if (a.high-a.low)/(k*step) <= float64(most) {
			step *= k
			break
		}
	}
	var list []float64
	for i := math.Ceil(a.low/step - 1e-9); i*step <= a.high+1e-9*step && len(list) <= most; i++ {
		list = append(list, i*step+0) // which is never -0
	}
	return list
}

// weighedDot is a weight in percent of what was expected.
type weighedDot struct {
	percent, low, high float64
	date               string
}

func weighedDots(a *pourplan.Account, mold int) []weighedDot {
	var dots []weighedDot
	for _, c := range a.Castings {
		if c.Mold != mold {
			continue
		}
		e := c.Expected
		for _, g := range c.Weights {
			dots = append(dots, weighedDot{100 * g / e.Best, 100 * e.Low / e.Best, 100 * e.High / e.Best, c.Date})
		}
	}
	return dots
}

// weightPlot draws each weight, in the order of the account, over the range
// in which it was expected.
func (s *sheet) weightPlot(p *page, at region, a *pourplan.Account, mold int) {
	p.text(at.x, at.y+headingStyle.ascent(), headingStyle, alignLeft, "Weights, in percent of what was expected")
	p.text(at.x+at.width, at.y+headingStyle.ascent(), smallStyle, alignRight, "shaded: the range that was expected")
	dots := weighedDots(a, mold)
	if len(dots) == 0 {
		p.text(at.x, at.y+14, bodyStyle, alignLeft, "None yet.")
		return
	}
	box := region{at.x + 12, at.y + 8, at.width - 12, at.height - 15}
	low, high := math.Inf(1), math.Inf(-1)
	for _, d := range dots {
		low, high = math.Min(low, math.Min(d.percent, d.low)), math.Max(high, math.Max(d.percent, d.high))
	}
	pad := math.Max(0.06*(high-low), 0.2)
	up := axis{low - pad, high + pad, box.y + box.height, box.y}
	across := axis{0, float64(len(dots)), box.x, box.x + box.width}
	for i, d := range dots {
		x0, x1 := across.at(float64(i)), across.at(float64(i+1))
		p.rectangle(x0, up.at(d.high), x1-x0, up.at(d.low)-up.at(d.high), 0, 0.87)
	}
	for _, v := range up.ticks(10) {
		p.line(box.x, up.at(v), box.x+box.width, up.at(v), 0.1)
		p.text(box.x-1.5, up.at(v)+smallStyle.ascent()/2, smallStyle, alignRight, pourplan.FormatNumber(v, 2))
	}
	p.line(box.x, up.at(100), box.x+box.width, up.at(100), 0.5)
	s.dates(p, box, across, dots)
	radius := math.Max(0.35, math.Min(1.1, box.width/float64(len(dots))/3))
	for i, d := range dots {
		dot := geom.Circle(geom.Vec2{X: across.at(float64(i) + 0.5), Y: up.at(d.percent)}, radius)
		p.shapes = append(p.shapes, pageShape{loops: []pageLoop{{dot, true}}, fill: 0, ink: none})
	}
	p.rectangle(box.x, box.y, box.width, box.height, 0.4, none)
}

// dates marks where another day begins, and names it where there is room.
func (s *sheet) dates(p *page, box region, across axis, dots []weighedDot) {
	free := box.x
	for i, d := range dots {
		if i > 0 && d.date == dots[i-1].date {
			continue
		}
		x := across.at(float64(i))
		if i > 0 {
			p.line(x, box.y, x, box.y+box.height, 0.15)
		}
		width := s.faces.width(smallStyle, d.date)
		if x >= free && x+width <= box.x+box.width {
			p.text(x, box.y+box.height+1+smallStyle.ascent(), smallStyle, alignLeft, d.date)
			free = x + width + 2
		}
	}
}

const (
	lifeRow   = 9.0
	mostMolds = 8
)

// lastMolds are the molds that there is room for.
func lastMolds(sum *pourplan.AccountSummary) []pourplan.MoldTotal {
	return sum.Molds[max(0, len(sum.Molds)-mostMolds):]
}

// lifePlot draws a bar of shots for each mold over the life that one has; thin
// lines part its castings.
func (s *sheet) lifePlot(p *page, at region, a *pourplan.Account, sum *pourplan.AccountSummary) {
	p.text(at.x, at.y+headingStyle.ascent(), headingStyle, alignLeft, "Life used, in shots")
	p.text(at.x+at.width, at.y+headingStyle.ascent(), smallStyle, alignRight, "shaded: where a mold’s life may end")
	molds := lastMolds(sum)
	if len(molds) == 0 {
		p.text(at.x, at.y+14, bodyStyle, alignLeft, "None yet.")
		return
	}
	box := region{at.x + 20, at.y + 8, at.width - 20, lifeRow * float64(len(molds))}
	most := float64(sum.Life.HighShots)
	for _, m := range molds {
		most = math.Max(most, float64(m.Shots))
	}
	across := axis{0, most * 1.05, box.x, box.x + box.width}
	low, high := across.at(float64(sum.Life.LowShots)), across.at(float64(sum.Life.HighShots))
	p.rectangle(low, box.y, math.Max(high-low, 0.4), box.height, 0, 0.87)
	for i, m := range molds {
		y := box.y + lifeRow*float64(i)
		p.text(at.x, y+lifeRow/2+smallBold.ascent()/2, smallBold, alignLeft, fmt.Sprintf("mold %d", m.Mold))
		p.rectangle(box.x, y+2, across.at(float64(m.Shots))-box.x, lifeRow-4, 0.3, 0.5)
		shots := 0
		for _, c := range a.Castings {
			if c.Mold == m.Mold && c.Shots > 0 {
				shots += c.Shots
				p.line(across.at(float64(shots)), y+2, across.at(float64(shots)), y+lifeRow-2, 0.3)
			}
		}
	}
	for _, v := range across.ticks(12) {
		p.line(across.at(v), box.y+box.height, across.at(v), box.y+box.height+1, 0.2)
		p.text(across.at(v), box.y+box.height+1.5+smallStyle.ascent(), smallStyle, alignMiddle, pourplan.FormatNumber(v, 0))
	}
	p.rectangle(box.x, box.y, box.width, box.height, 0.4, none)
}
