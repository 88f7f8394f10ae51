package sheet

import (
	"image/color"

	"halfpour/geom"
)

// This file is the sheet's page as plain data: what stands where, in mm from
// the upper left corner, y downwards. Layout fills pages, a printer puts them
// out, and tests look at them.

// Paper is a size of paper, upright, in mm.
type Paper struct {
	Name          string
	Width, Height float64
}

// The papers that the sheet is laid out for: ISO 216 and ANSI/ASME Y14.1 (A).
var (
	A4     = Paper{"A4", 210, 297}
	Letter = Paper{"Letter", 215.9, 279.4}
)

// sheetMargin is left free all round, for printers that need it and for a
// clip or a binder's holes.
const sheetMargin = 13.0

// page is one sheet of paper.
type page struct {
	paper  Paper
	texts  []pageText
	shapes []pageShape
}

// pageText is one line of text. Its point is on the baseline: the start, the
// middle or the end of the text by align.
type pageText struct {
	x, y   float64
	size   float64 // points
	bold   bool
	align  align
	turned bool // reads upwards
	white  bool // on a black bar
	text   string
}

type align int

const (
	alignLeft align = iota
	alignMiddle
	alignRight
)

// pageShape is a set of lines or an area. Fill and ink are shades from 0,
// black, to 1, white; a shade of none paints nothing.
type pageShape struct {
	loops []pageLoop
	fill  float64
	ink   float64
	width float64    // of the lines, mm
	dash  float64    // length of dashes and gaps, mm; 0 for an unbroken line
	paint color.RGBA // in place of fill; the zero value: fill
}

type pageLoop struct {
	points []geom.Vec2
	closed bool
}

const none = -1.0

// textStyle is a size and a weight.
type textStyle struct {
	size float64
	bold bool
}

// The sheet's few styles. Nothing is smaller than 8 points.
var (
	figureStyle  = textStyle{46, true}
	unitStyle    = textStyle{24, true}
	titleStyle   = textStyle{22, true}
	timeStyle    = textStyle{14, true}
	headingStyle = textStyle{14, true}
	strongStyle  = textStyle{10.5, true}
	bodyStyle    = textStyle{10.5, false}
	smallStyle   = textStyle{9, false}
	smallBold    = textStyle{9, true}
	drawStyle    = textStyle{8, false}
)

const mmPerPoint = 25.4 / 72

// lineHeight is the distance of baselines, mm.
func (s textStyle) lineHeight() float64 { return s.size * mmPerPoint * 1.22 }

// ascent is the height of a capital letter over the baseline, mm: 0.72 of the
// size in the Go fonts, with a little air.
func (s textStyle) ascent() float64 { return s.size * mmPerPoint * 0.75 }

// descent is how far letters reach below the baseline, mm.
func (s textStyle) descent() float64 { return s.size * mmPerPoint * 0.2 }

func (p *page) text(x, y float64, s textStyle, a align, text string) {
	if text != "" {
		p.texts = append(p.texts, pageText{x: x, y: y, size: s.size, bold: s.bold, align: a, text: text})
	}
}

// bar is a black bar with white text, the box's upper left corner at (x, y).
func (p *page) bar(x, y, w, h float64, s textStyle, text string) {
	p.rectangle(x, y, w, h, 0, 0)
	p.texts = append(p.texts, pageText{x: x + 2.5, y: y + h/2 + s.ascent()/2, size: s.size, bold: s.bold, white: true, text: text})
}

// textUp sets text that reads upwards, its middle at (x, y).
func (p *page) textUp(x, y float64, s textStyle, text string) {
	p.texts = append(p.texts, pageText{x: x, y: y, size: s.size, bold: s.bold, align: alignMiddle, turned: true, text: text})
}

func (p *page) line(x0, y0, x1, y1, width float64) {
	p.shapes = append(p.shapes, pageShape{
		loops: []pageLoop{{points: []geom.Vec2{{X: x0, Y: y0}, {X: x1, Y: y1}}}}, fill: none, width: width,
	})
}

// rectangle outlines a box; width 0 draws no line, fill none no area.
func (p *page) rectangle(x, y, w, h, width, fill float64) {
	s := pageShape{loops: []pageLoop{{rectanglePoints(x, y, w, h), true}}, fill: fill, width: width}
	if width == 0 {
		s.ink = none
	}
	p.shapes = append(p.shapes, s)
}

func rectanglePoints(x, y, w, h float64) []geom.Vec2 {
	return []geom.Vec2{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}
}

// trianglePoints is an upright triangle with equal sides.
func trianglePoints(x, y, side float64) []geom.Vec2 {
	return []geom.Vec2{{X: x, Y: y}, {X: x + side, Y: y}, {X: x + side/2, Y: y - side*0.87}}
}

// tickBox is an empty box to tick with a glove on, its lower edge at y.
func (p *page) tickBox(x, y, side float64) { p.rectangle(x, y-side, side, side, 0.45, none) }
