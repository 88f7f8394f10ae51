package sheet

import (
	"math"
	"strconv"
	"strings"

	"halfpour/pourplan"
)

// paragraph sets text from the top edge y downwards and returns where it ends.
func (s *sheet) paragraph(p *page, x, y, width float64, style textStyle, text string) float64 {
	for _, line := range s.faces.wrap(style, s.faces.printable(text), width) {
		p.text(x, y+style.ascent(), style, alignLeft, line)
		y += style.lineHeight()
	}
	return y
}

// stepBoxes names the boxes before each step: one for each half, or one.
type stepBoxes []string

const (
	boxSide  = 4.6
	boxPitch = 7.0
	stageGap = 2.2
)

// stagesLayout is how stages are set: boxes to tick and sizes of text.
type stagesLayout struct {
	boxes          stepBoxes
	body, cautions textStyle
}

// layouts lists the ways to set stages, the most legible first.
func layouts(boxes stepBoxes) []stagesLayout {
	var list []stagesLayout
	for _, size := range [][2]float64{{10.5, 9}, {10, 9}, {9.5, 9}, {9, 9}, {9, 8.5}, {8.5, 8}} {
		list = append(list, stagesLayout{boxes, textStyle{size[0], false}, textStyle{size[1], false}})
	}
	return list
}

// stages sets the stages from y downwards and returns where they end. Their
// steps are numbered on from first.
func (s *sheet) stages(p *page, at region, list []pourplan.Stage, l stagesLayout, first int) float64 {
	y := at.y
	for i, name := range l.boxes {
		p.text(at.x+boxPitch*float64(i)+boxSide/2, y+smallBold.ascent(), smallBold, alignMiddle, name)
	}
	if len(l.boxes) > 1 {
		y += smallBold.lineHeight()
	}
	for i, st := range list {
		if i > 0 {
			p.line(at.x, y, at.x+at.width, y, 0.15)
			y += stageGap / 2
		}
		y = s.stage(p, region{at.x, y, at.width, 0}, st, l, first) + stageGap/2
		first += len(st.Steps)
	}
	return y
}

// stage sets one stage with its columns divided so that it is lowest, and
// returns where the longer of them ends.
func (s *sheet) stage(p *page, at region, st pourplan.Stage, l stagesLayout, number int) float64 {
	if len(st.Cautions) == 0 {
		return s.steps(p, at, st.Steps, l, number)
	}
	best, lowest := 0.0, math.Inf(1)
	columns := func(p *page, share float64) float64 {
		left, right := at, at
		left.width = at.width*share - 4
		right.x, right.width = at.x+at.width*share, at.width*(1-share)
		return math.Max(s.steps(p, left, st.Steps, l, number), s.cautionBox(p, right, l.cautions, st.Cautions))
	}
	for _, share := range []float64{0.72, 0.66, 0.6, 0.54, 0.48, 0.42, 0.36, 0.3} {
		if end := columns(&page{}, share); end < lowest-1 {
			best, lowest = share, end
		}
	}
	return columns(p, best)
}

// steps sets steps, each behind its boxes.
func (s *sheet) steps(p *page, at region, steps []pourplan.WorkStep, l stagesLayout, number int) float64 {
	y := at.y
	indent := boxPitch * float64(len(l.boxes))
	for i, step := range steps {
		for b := range l.boxes {
			p.tickBox(at.x+boxPitch*float64(b), y+boxSide+0.2, boxSide)
		}
		head := strconv.Itoa(number+i) + "  " + step.Do
		end := s.runIn(p, region{at.x + indent, y + 0.6, at.width - indent, 0}, l.body, head, strings.TrimSpace(step.How+" "+step.Write))
		y = math.Max(end, y+boxSide) + 1.5
	}
	return y
}

// fitStages sets the stages in the most legible way that leaves the reserve
// free below them, and runs on to another page when none does. It returns the
// page and what is free on it.
func (s *sheet) fitStages(p *page, at region, reserve float64, further string, list []pourplan.Stage, boxes stepBoxes) (*page, region) {
	ways := layouts(boxes)
	height := func(list []pourplan.Stage, l stagesLayout) float64 { return s.stages(&page{}, at, list, l, 1) - at.y }
	way := ways[len(ways)-1]
	for _, l := range ways {
		if height(list, l) <= at.height-reserve {
			way = l
			break
		}
	}
	first := 1
	for len(list) > 0 {
		n := len(list)
		for n > 1 && height(list[:n], way) > at.height-reserve {
			n--
		}
		end := s.stages(p, at, list[:n], way, first)
		at.height -= end - at.y
		at.y = end
		for _, st := range list[:n] {
			first += len(st.Steps)
		}
		if list = list[n:]; len(list) > 0 {
			p, at = s.newPage(further)
		}
	}
	return p, at
}

// runIn sets a bold beginning and lets the text run on behind it.
func (s *sheet) runIn(p *page, at region, body textStyle, head, text string) float64 {
	bold := textStyle{body.size, true}
	p.text(at.x, at.y+bold.ascent(), bold, alignLeft, head)
	used := s.faces.width(bold, head) + 1.8
	text = s.faces.printable(text)
	first := ""
	if lines := s.faces.wrap(body, text, at.width-used); len(lines) > 0 && s.faces.width(body, lines[0]) <= at.width-used {
		first = lines[0]
	}
	p.text(at.x+used, at.y+body.ascent(), body, alignLeft, first)
	return s.paragraph(p, at.x, at.y+body.lineHeight(), at.width, body, text[len(first):])
}

// cautionBox sets cautions, each behind a mark, in a frame.
func (s *sheet) cautionBox(p *page, at region, style textStyle, cautions []string) float64 {
	if len(cautions) == 0 {
		return at.y
	}
	y := at.y + 1.2
	for _, c := range cautions {
		warningSign(p, at.x+1.5, y+3.1)
		y = s.paragraph(p, at.x+6.5, y, at.width-8, style, c) + 0.6
	}
	p.rectangle(at.x, at.y, at.width, y-at.y, 0.4, none)
	return y + 0.5
}

// warningSign is a triangle with a stroke and a dot, its lower left corner at
// (x, y).
func warningSign(p *page, x, y float64) {
	const side = 3.6
	p.shapes = append(p.shapes, pageShape{
		loops: []pageLoop{{trianglePoints(x, y, side), true}}, fill: 0, ink: none,
	})
	p.shapes = append(p.shapes, pageShape{loops: []pageLoop{
		{rectanglePoints(x+side/2-0.22, y-2, 0.44, 1.15), true}, {rectanglePoints(x+side/2-0.22, y-0.65, 0.44, 0.4), true},
	}, fill: 1, ink: none})
}
