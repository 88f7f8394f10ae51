package page

import (
	"fmt"
	"strings"

	"halfpour/geom"
	"halfpour/pourplan"
)

// svg is a drawing at a scale that fits the page, y downwards, in mm.
type svg struct {
	Name       string
	Box        string // its viewBox
	Wide       bool   // wider than high
	Shapes     []shape
	Labels     []label
	Dimensions []dimension
}

type shape struct{ Kind, Path string }

type label struct {
	X, Y string
	Text string
	Big  bool
}

// dimension is a line with its text, and the lines that lead to it.
type dimension struct {
	Path   string
	X, Y   string
	Up     bool // text runs upwards
	Beside bool // text stands to the right of an upright line
	Text   string
}

const (
	dimensionGap = 4.0 // mm between drawing and the first row of dimensions
	dimensionRow = 6.0
	drawingRim   = 14.0 // mm round a drawing for its dimensions
	smallLabel   = 1.9  // radius of a finding's letter, mm
	bigLabel     = 2.6  // of a cavity's number
)

func drawSVG(d pourplan.Drawing) svg {
	low, high := d.Low, d.High
	out := svg{Name: d.Name, Wide: high.X-low.X > high.Y-low.Y,
		Box: fmt.Sprintf("%s %s %s %s", mm(low.X-drawingRim), mm(-high.Y-drawingRim), mm(high.X-low.X+2*drawingRim), mm(high.Y-low.Y+2*drawingRim))}
	for _, a := range d.Areas {
		out.Shapes = append(out.Shapes, shape{string(a.Kind), strokes(a.Outline, !a.Kind.IsLine())})
	}
	for _, l := range d.PlaceLabels(smallLabel, bigLabel) {
		if l.Stands != l.At { // a line leads to what it is about
			out.Shapes = append(out.Shapes, shape{"leader", strokes(geom.Outline{{l.At, l.Stands}}, false)})
		}
		out.Labels = append(out.Labels, label{mm(l.Stands.X), mm(-l.Stands.Y), l.Text, l.Big})
	}
	for _, m := range d.Dimensions {
		out.Dimensions = append(out.Dimensions, drawDimension(m, low, high))
	}
	return out
}

func mm(x float64) string {
	s := strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.2f", x), "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

func strokes(o geom.Outline, closed bool) string {
	var b strings.Builder
	for _, loop := range o {
		for i, p := range loop {
			b.WriteByte("ML"[min(i, 1)])
			b.WriteString(mm(p.X))
			b.WriteByte(' ')
			b.WriteString(mm(-p.Y))
		}
		if closed {
			b.WriteByte('Z')
		}
	}
	return b.String()
}

// drawDimension puts the line outside of the drawing, on its side and row, or where
// it measures.
func drawDimension(m pourplan.Dimension, low, high geom.Vec2) dimension {
	out := dimensionGap + dimensionRow*float64(m.Row)
	a, b := m.From, m.To
	var c, d geom.Vec2 // ends of the dimension's line
	switch m.Side {
	case pourplan.Top:
		c, d = geom.Vec2{X: a.X, Y: high.Y + out}, geom.Vec2{X: b.X, Y: high.Y + out}
	case pourplan.Bottom:
		c, d = geom.Vec2{X: a.X, Y: low.Y - out}, geom.Vec2{X: b.X, Y: low.Y - out}
	case pourplan.Left:
		c, d = geom.Vec2{X: low.X - out, Y: a.Y}, geom.Vec2{X: low.X - out, Y: b.Y}
	case pourplan.Inside:
		c, d = a, b
	default:
		c, d = geom.Vec2{X: high.X + out, Y: a.Y}, geom.Vec2{X: high.X + out, Y: b.Y}
	}
	line := func(p, q geom.Vec2) string {
		return "M" + mm(p.X) + " " + mm(-p.Y) + "L" + mm(q.X) + " " + mm(-q.Y)
	}
	return dimension{Path: line(a, c) + line(c, d) + line(d, b), X: mm((c.X + d.X) / 2), Y: mm(-(c.Y + d.Y) / 2),
		Up: m.Side == pourplan.Left || m.Side == pourplan.Right, Beside: m.Side == pourplan.Inside, Text: m.Text}
}
