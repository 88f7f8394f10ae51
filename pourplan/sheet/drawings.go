package sheet

import (
	"errors"
	"fmt"
	"math"

	"halfpour/geom"
	"halfpour/pourplan"
)

// The scales of the drawings, the largest first. The views from above keep
// the greater one, so that they can be laid beside the print.
var drawingScales = []float64{1, 3. / 4, 2. / 3, 1. / 2, 1. / 3, 1. / 4, 1. / 5, 1. / 10, 1. / 20, 1. / 50}

func scaleText(scale float64) string {
	switch scale {
	case 1:
		return "true size, 1:1"
	case 3. / 4:
		return "not true size, 3:4"
	case 2. / 3:
		return "not true size, 2:3"
	}
	return fmt.Sprintf("not true size, 1:%.0f", 1/scale)
}

const (
	figureTitle = 6.5 // room for a figure's heading, mm
	figureGap   = 6.0 // between figures, side by side and at best one over the other
	leastGap    = 3.0
	barRoom     = 17.0
)

// drawings adds the page of drawings, with what the checks found in the mold,
// the patterns of wires where they have room, and a bar to check the printer by.
func (s *sheet) drawings(drawings []pourplan.Drawing, plan *pourplan.Plan) error {
	if len(drawings) == 0 {
		return nil
	}
	p, body := s.newPage("Drawings")
	body.height -= barRoom
	rows, err := s.arrange(drawings, body)
	if err != nil {
		return err
	}
	rows, body = s.besidePatterns(p, drawings, patternsOf(plan), rows, body)
	rows, body = s.besideFindings(p, drawings, plan, rows, body)
	free := body.height
	for _, r := range rows {
		free -= r.height
	}
	gap := math.Min(figureGap, free/float64(len(rows)))
	y := body.y
	for _, r := range rows {
		x := body.x
		spare := (body.width - r.width) / float64(len(r.figures))
		for _, g := range r.figures {
			half, rest := g.title()
			left := x + spare/2
			p.text(left, y+headingStyle.ascent(), headingStyle, alignLeft, half)
			from := left + s.faces.width(headingStyle, half) + 2
			small := s.faces.shrink(smallStyle, rest, left+g.width+spare/2-from, 8)
			p.text(from, y+headingStyle.ascent(), small, alignLeft, rest)
			g.draw(p, s.faces, left, y+figureTitle)
			x += g.width + spare
		}
		y += r.height + gap
	}
	bar := s.barRegion(body)
	s.scaleBar(p, bar)
	s.legend(p, bar)
	return nil
}

// barRegion is the foot of a page, where the scale bar stands.
func (s *sheet) barRegion(body region) region {
	return region{body.x, s.paper.Height - sheetMargin - footRoom - barRoom, body.width, barRoom}
}

// leastScale is how small drawings may get to make room for patterns of wires.
const leastScale = 1. / 2

// besidePatterns sets the patterns of wires at the foot of the page if figures
// that are still large enough, or as large as they were, leave that room. It
// returns the figures again, and what they may fill.
func (s *sheet) besidePatterns(p *page, drawings []pourplan.Drawing, list []wirePattern, rows []figureRow, body region) ([]figureRow, region) {
	if len(list) == 0 {
		return rows, body
	}
	_, tall := s.patterns(&page{}, region{body.x, 0, body.width, math.Inf(1)}, list)
	less := body
	less.height -= tall + leastGap
	fewer, err := s.arrange(drawings, less)
	if err != nil || fewer[0].figures[0].scale < math.Min(leastScale, rows[0].figures[0].scale) {
		return rows, body
	}
	s.patterns(p, region{body.x, body.y + body.height - tall, body.width, tall}, list)
	s.patterned = true
	return fewer, less
}

// figureRow is a row of figures side by side.
type figureRow struct {
	figures       []figure
	width, height float64
}

// arrange finds the largest scales at which all figures have room.
func (s *sheet) arrange(drawings []pourplan.Drawing, body region) ([]figureRow, error) {
	for _, above := range drawingScales {
		for _, across := range drawingScales {
			if across < math.Min(above, 0.5) {
				continue
			}
			if rows, ok := s.fillRows(drawings, body, above, across); ok {
				return rows, nil
			}
		}
	}
	return nil, errors.New("sheet: the drawings must fit a page at a scale of 1:50: make the mold smaller")
}

func (s *sheet) fillRows(drawings []pourplan.Drawing, body region, above, across float64) ([]figureRow, bool) {
	var rows []figureRow
	total := 0.0
	for _, d := range drawings {
		scale := above
		if d.View == pourplan.Section {
			scale = across
		}
		g := newFigure(s.faces, d, scale)
		half, _ := g.title()
		width := math.Max(g.width, s.faces.width(headingStyle, half)+50)
		if g.width > body.width {
			return nil, false
		}
		last := len(rows) - 1
		if last < 0 || rows[last].figures[0].View != d.View || rows[last].width+figureGap+width > body.width {
			rows, last = append(rows, figureRow{}), last+1
		}
		r := &rows[last]
		total -= r.height
		if len(r.figures) > 0 {
			r.width += figureGap
		}
		r.figures, r.width, r.height = append(r.figures, g), r.width+width, math.Max(r.height, g.height+figureTitle)
		total += r.height
	}
	return rows, total+leastGap*float64(len(rows)) <= body.height
}

// scaleBar draws 50 mm to check the printer by.
func (s *sheet) scaleBar(p *page, at region) {
	y := at.y + 8
	p.line(at.x, y, at.x+50, y, 0.5)
	for i := range 6 {
		x := at.x + 10*float64(i)
		p.line(x, y-2, x, y, 0.3)
	}
	p.text(at.x, y-2.8, drawStyle, alignLeft, "0")
	p.text(at.x+50, y-2.8, drawStyle, alignMiddle, "50 mm")
	p.text(at.x, y+4.5, smallStyle, alignLeft, "Measure this bar: if it is not 50 mm,")
	p.text(at.x, y+4.5+smallStyle.lineHeight(), smallStyle, alignLeft, "print again at 100 %, not “fit to page”.")
}

// legend says what the shading means.
func (s *sheet) legend(p *page, at region) {
	items := []struct {
		kind pourplan.AreaKind
		text string
	}{
		{pourplan.RaisedKey, "key stands up in the tray"}, {pourplan.SunkenKey, "key is a hollow in the tray"},
		{pourplan.HeadArea, "head, numbered"}, {pourplan.WireArea, "hook"}, {pourplan.SprueArea, "sprue, vent"},
		{pourplan.MarkArea, "raised text (mirrored in the tray)"}, {pourplan.PrintArea, "printed plastic, cut"}, {pourplan.RubberArea, "rubber, cut"},
		{pourplan.FillLine, "fill line"}, {pourplan.HighLine, "highest point in the tray"},
	}
	x0 := at.x + 78
	width := (at.width - 78) / 2
	for i, it := range items {
		x, y := x0+width*float64(i/5), at.y+2.6+float64(i%5)*3.6
		points := rectanglePoints(x, y-2.4, 4, 2.8)
		switch {
		case it.kind == pourplan.RaisedKey || it.kind == pourplan.SunkenKey:
			points = geom.Circle(geom.Vec2{X: x + 2, Y: y - 1}, 1.3)
		case it.kind.IsLine():
			points = []geom.Vec2{{X: x - 0.4, Y: y - 1}, {X: x + 4.4, Y: y - 1}}
		}
		paintArea(p, it.kind, geom.Polygon(points...))
		p.text(x+5.5, y, drawStyle, alignLeft, it.text)
	}
}
