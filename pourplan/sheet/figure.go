package sheet

import (
	"math"
	"strings"

	"halfpour/geom"
	"halfpour/pourplan"
)

// figure is a Drawing made ready for paper at a scale: its dimensions laid
// out, its size with them known.
type figure struct {
	pourplan.Drawing
	scale  float64 // mm on paper per mm
	marks  []dimensionMark
	gutter map[pourplan.Side]float64
	width  float64
	height float64
}

// dimensionMark is a dimension with its text placed: how far its line is from
// the drawing, and whether the text is turned to run along an upright line.
type dimensionMark struct {
	pourplan.Dimension
	out    float64
	turned bool
}

const (
	firstRow = 4.0 // from the drawing to the first dimension's line, mm
	nextRow  = 4.8 // from line to line
	aside    = 1.6 // of a text from the upright line that it stands beside
)

// newFigure lays the dimensions of a drawing out.
func newFigure(f *typefaces, d pourplan.Drawing, scale float64) figure {
	g := figure{Drawing: d, scale: scale, gutter: map[pourplan.Side]float64{}}
	for _, side := range []pourplan.Side{pourplan.Top, pourplan.Bottom, pourplan.Left, pourplan.Right} {
		out := firstRow
		for row := 0; row < 4; row++ {
			widest, any := 0.0, false
			for _, m := range d.Dimensions {
				if m.Side != side || m.Row != row {
					continue
				}
				any = true
				mark, wide := placeDimension(f, m, scale, out)
				g.marks, widest = append(g.marks, mark), math.Max(widest, wide)
			}
			if any {
				out += widest
				g.gutter[side] = out
			}
		}
	}
	for _, m := range d.Dimensions {
		if m.Side == pourplan.Inside {
			g.marks = append(g.marks, dimensionMark{Dimension: m})
		}
	}
	size := d.High.Sub(d.Low).Mul(scale)
	g.width = g.gutter[pourplan.Left] + size.X + g.gutter[pourplan.Right]
	g.height = g.gutter[pourplan.Top] + size.Y + g.gutter[pourplan.Bottom]
	return g
}

// placeDimension decides how the text of a dimension runs, and returns how
// much room it takes outwards.
func placeDimension(f *typefaces, m pourplan.Dimension, scale, out float64) (dimensionMark, float64) {
	if m.Side == pourplan.Top || m.Side == pourplan.Bottom {
		return dimensionMark{m, out, false}, nextRow
	}
	text := f.width(drawStyle, m.Text)
	if text+5 <= math.Abs(m.To.Y-m.From.Y)*scale {
		return dimensionMark{m, out, true}, nextRow
	}
	return dimensionMark{m, out, false}, text + 3
}

// draw paints the figure with its upper left corner, gutters included, at
// (x, y).
func (g figure) draw(p *page, f *typefaces, x, y float64) {
	x0, y1 := x+g.gutter[pourplan.Left], y+g.gutter[pourplan.Top]+(g.High.Y-g.Low.Y)*g.scale
	place := func(q geom.Vec2) geom.Vec2 {
		return geom.Vec2{X: x0 + (q.X-g.Low.X)*g.scale, Y: y1 - (q.Y-g.Low.Y)*g.scale}
	}
	for _, a := range g.Areas {
		paintArea(p, a.Kind, a.Outline.Transform(place))
	}
	const small, big = 1.7, 2.7
	labels := g.PlaceLabels(small/g.scale, big/g.scale)
	for _, l := range labels {
		if l.Stands != l.At { // a line leads to what it is about
			from, to := place(l.At), place(l.Stands)
			p.line(from.X, from.Y, to.X, to.Y, 0.25)
			p.shapes = append(p.shapes, pageShape{loops: []pageLoop{{geom.Circle(from, 0.45), true}}, fill: 0, ink: none})
		}
	}
	for _, l := range labels {
		at := place(l.Stands)
		radius, style := small, drawStyle
		if l.Big {
			radius, style = big, strongStyle
		}
		p.shapes = append(p.shapes, pageShape{loops: []pageLoop{{geom.Circle(at, radius), true}}, fill: 1, width: 0.2})
		p.text(at.X, at.Y+style.ascent()/2, style, alignMiddle, l.Text)
	}
	frame := [2]geom.Vec2{place(geom.Vec2{X: g.Low.X, Y: g.High.Y}), place(geom.Vec2{X: g.High.X, Y: g.Low.Y})}
	for _, m := range g.marks {
		m.draw(p, f, place, frame)
	}
}

// brushes say how each kind of area is painted: fill, ink, width of the line.
var brushes = map[pourplan.AreaKind]pageShape{
	pourplan.FloorArea:  {fill: 1, width: 0.5},
	pourplan.InsideArea: {fill: 1, width: 0.3},
	pourplan.SprueArea:  {fill: 0.94, width: 0.25},
	pourplan.VentArea:   {fill: 0.94, width: 0.2},
	pourplan.BedArea:    {fill: 1, width: 0.15},
	pourplan.HeadArea:   {fill: 0.82, width: 0.35},
	pourplan.WireArea:   {fill: 0.3, ink: none},
	pourplan.MarkArea:   {fill: 0.6, width: 0.1},
	pourplan.RaisedKey:  {fill: 0, width: 0.3},
	pourplan.SunkenKey:  {fill: 1, width: 0.5},
	pourplan.PrintArea:  {fill: 0.8, width: 0.3},
	pourplan.RubberArea: {fill: 1, width: 0.2},
	pourplan.FillLine:   {fill: none, width: 0.5, dash: 1.6},
	pourplan.HighLine:   {fill: none, width: 0.2, dash: 0.8},

	pourplan.HeadFlank:   {fill: 1, width: 0.3},
	pourplan.NarrowSteps: {paint: pourplan.StepColours[0], ink: none},
	pourplan.WideSteps:   {paint: pourplan.StepColours[1], ink: none},
	pourplan.WidestSteps: {paint: pourplan.StepColours[2], ink: none},
}

func paintArea(p *page, kind pourplan.AreaKind, o geom.Outline) {
	s, ok := brushes[kind]
	if !ok || len(o) == 0 {
		return
	}
	for _, loop := range o {
		s.loops = append(s.loops, pageLoop{loop, !kind.IsLine()})
	}
	p.shapes = append(p.shapes, s)
	if kind == pourplan.RubberArea {
		p.shapes = append(p.shapes, pageShape{loops: hatch(o, 1.7), fill: none, width: 0.13})
	}
}

// draw paints the line, its ends, and the text in or beside it.
func (m dimensionMark) draw(p *page, f *typefaces, place func(geom.Vec2) geom.Vec2, frame [2]geom.Vec2) {
	a, b := place(m.From), place(m.To)
	switch m.Side {
	case pourplan.Inside:
		m.within(p, f, a, b)
	case pourplan.Top, pourplan.Bottom:
		if a.X > b.X {
			a, b = b, a
		}
		y := frame[0].Y - m.out
		if m.Side == pourplan.Bottom {
			y = frame[1].Y + m.out
		}
		m.extend(p, a, geom.Vec2{X: a.X, Y: y})
		m.extend(p, b, geom.Vec2{X: b.X, Y: y})
		m.across(p, f, a.X, b.X, y)
	default:
		if a.Y > b.Y {
			a, b = b, a
		}
		x := frame[0].X - m.out
		if m.Side == pourplan.Right {
			x = frame[1].X + m.out
		}
		m.extend(p, a, geom.Vec2{X: x, Y: a.Y})
		m.extend(p, b, geom.Vec2{X: x, Y: b.Y})
		m.upright(p, f, x, a.Y, b.Y)
	}
}

// extend draws the thin line from the measured point to the dimension's line,
// starting clear of the point and ending a little beyond.
func (m dimensionMark) extend(p *page, from, to geom.Vec2) {
	d := to.Sub(from)
	if n := d.Norm(); n > 1.5 {
		u := d.Mul(1 / n)
		from, to = from.Add(u), to.Add(u)
		p.line(from.X, from.Y, to.X, to.Y, 0.1)
	}
}

func (m dimensionMark) across(p *page, f *typefaces, x0, x1, y float64) {
	p.line(x0, y, x1, y, 0.15)
	slash(p, x0, y)
	slash(p, x1, y)
	p.knockout(f, (x0+x1)/2, y, m.Text, false)
}

func (m dimensionMark) upright(p *page, f *typefaces, x, y0, y1 float64) {
	p.line(x, y0, x, y1, 0.15)
	slash(p, x, y0)
	slash(p, x, y1)
	switch {
	case m.turned:
		p.knockout(f, x, (y0+y1)/2, m.Text, true)
	case m.Side == pourplan.Left:
		p.text(x-aside, (y0+y1)/2+drawStyle.ascent()/2, drawStyle, alignRight, m.Text)
	default:
		p.text(x+aside, (y0+y1)/2+drawStyle.ascent()/2, drawStyle, alignLeft, m.Text)
	}
}

// within draws an upright line where it measures, its text beside it on white.
func (m dimensionMark) within(p *page, f *typefaces, a, b geom.Vec2) {
	if a.Y > b.Y {
		a, b = b, a
	}
	p.line(a.X, a.Y, a.X, b.Y, 0.3)
	slash(p, a.X, a.Y)
	slash(p, a.X, b.Y)
	p.knockout(f, a.X+f.width(drawStyle, m.Text)/2+aside, (a.Y+b.Y)/2, m.Text, false)
}

// slash marks the end of a dimension's line.
func slash(p *page, x, y float64) { p.line(x-0.7, y+0.7, x+0.7, y-0.7, 0.3) }

// knockout sets text in the middle of a line that it interrupts.
func (p *page) knockout(f *typefaces, x, y float64, text string, turned bool) {
	w, h := f.width(drawStyle, text)/2+0.8, drawStyle.ascent()/2
	if turned {
		p.rectangle(x-h, y-w, 2*h, 2*w, 0, 1)
		p.textUp(x+h, y, drawStyle, text)
		return
	}
	p.rectangle(x-w, y-h, 2*w, 2*h, 0, 1)
	p.text(x, y+h, drawStyle, alignMiddle, text)
}

// title is the heading of the figure, with its scale.
func (g figure) title() (half, rest string) {
	rest = strings.TrimPrefix(g.Name, g.Half+" half, ")
	return strings.ToUpper(g.Half), rest + " · " + scaleText(g.scale) + ", in mm"
}
