package geom

import (
	"fmt"
	"math"
	"unicode/utf8"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// TextTolerance is the greatest distance, in mm, between a letter's curve and
// the chords that stand for it in Text.
const TextTolerance = 0.01

// Text returns the outline of one line of text in the embedded bold sans
// font, the baseline at y = 0, the first letter's origin at x = 0. capHeight
// is the height of a flat capital such as H, in mm. width is how far the line
// advances, the spaces at both ends included. The font has no kerning pairs,
// so that every letter keeps its own width. A letter that the font does not
// have is an error, as is a capHeight that is not a positive number.
func Text(s string, capHeight float64) (o Outline, width float64, err error) {
	if !(capHeight > 0) || math.IsInf(capHeight, 1) {
		return nil, 0, fmt.Errorf("text: cap height must be above 0 mm, got %g mm", capHeight)
	}
	f, err := sfnt.Parse(gobold.TTF)
	if err != nil {
		return nil, 0, fmt.Errorf("text: embedded font: %w", err)
	}
	// Asked at this size, the font answers in its own units, unrounded.
	em := fixed.Int26_6(f.UnitsPerEm())
	metrics, err := f.Metrics(nil, em, font.HintingNone)
	if err != nil {
		return nil, 0, fmt.Errorf("text: embedded font: %w", err)
	}
	scale := capHeight / float64(metrics.CapHeight)

	var buf sfnt.Buffer
	n := 0
	for _, r := range s {
		n++
		glyph, err := f.GlyphIndex(&buf, r)
		if err != nil || glyph == 0 || r == utf8.RuneError {
			return nil, 0, fmt.Errorf("text: character %d of %q, %q (%U), is not in the embedded font: leave it out or write it another way", n, s, r, r)
		}
		segments, err := f.LoadGlyph(&buf, glyph, em, nil)
		if err != nil {
			return nil, 0, fmt.Errorf("text: embedded font, letter %q: %w", r, err)
		}
		o = append(o, glyphLoops(segments, scale, width)...)
		advance, err := f.GlyphAdvance(&buf, glyph, em, font.HintingNone)
		if err != nil {
			return nil, 0, fmt.Errorf("text: embedded font, letter %q: %w", r, err)
		}
		width += float64(advance) * scale
	}
	return o, width, nil
}

// glyphLoops turns a glyph in font units, y down, into loops in mm, y up. The
// font is of the kind whose curves are all quadratic.
func glyphLoops(segments sfnt.Segments, scale, x float64) Outline {
	var o Outline
	var loop []Vec2
	at := func(p fixed.Point26_6) Vec2 {
		return Vec2{x + float64(p.X)*scale, -float64(p.Y) * scale}
	}
	for _, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if loop != nil {
				o = append(o, loop)
			}
			loop = []Vec2{at(s.Args[0])}
		case sfnt.SegmentOpLineTo:
			loop = append(loop, at(s.Args[0]))
		case sfnt.SegmentOpQuadTo:
			loop = appendQuadratic(loop, at(s.Args[0]), at(s.Args[1]), TextTolerance)
		}
	}
	if loop != nil {
		o = append(o, loop)
	}
	return o
}

// appendQuadratic goes on from the last point of loop along the Bézier curve
// with control point c to b. Over a step h of the parameter such a curve
// leaves its chord by at most |a-2c+b|·h²/4.
func appendQuadratic(loop []Vec2, c, b Vec2, tolerance float64) []Vec2 {
	a := loop[len(loop)-1]
	bend := a.Sub(c.Mul(2)).Add(b).Norm()
	n := int(max(1, math.Ceil(math.Sqrt(bend/(4*tolerance)))))
	for i := 1; i < n; i++ {
		t := float64(i) / float64(n)
		u := 1 - t
		loop = append(loop, a.Mul(u*u).Add(c.Mul(2*u*t)).Add(b.Mul(t*t)))
	}
	return append(loop, b)
}
