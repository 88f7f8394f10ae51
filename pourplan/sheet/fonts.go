package sheet

import (
	"fmt"
	"strings"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	sub "golang.org/x/image/math/fixed"
)

// typefaces measures and wraps text in the sheet's two fonts. It is not safe
// for concurrent use; each sheet has its own.
type typefaces struct {
	regular, bold *sfnt.Font
	buffer        sfnt.Buffer
}

func newTypefaces() (*typefaces, error) {
	regular, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		return nil, fmt.Errorf("regular font: %w", err)
	}
	bold, err := sfnt.Parse(gobold.TTF)
	if err != nil {
		return nil, fmt.Errorf("bold font: %w", err)
	}
	return &typefaces{regular: regular, bold: bold}, nil
}

func (f *typefaces) face(bold bool) *sfnt.Font {
	if bold {
		return f.bold
	}
	return f.regular
}

// has reports whether a font can show r.
func (f *typefaces) has(r rune, bold bool) bool {
	i, err := f.face(bold).GlyphIndex(&f.buffer, r)
	return err == nil && i != 0
}

// printable replaces what the font cannot show by a question mark and every
// run of spaces and control characters by one space.
func (f *typefaces) printable(text string) string {
	clean := strings.Map(func(r rune) rune {
		if f.has(r, true) && f.has(r, false) {
			return r
		}
		return '?'
	}, strings.Join(strings.FieldsFunc(text, func(r rune) bool { return r <= ' ' || r == 0x7f }), " "))
	return clean
}

// width returns the length of a line of text, mm.
func (f *typefaces) width(s textStyle, text string) float64 {
	face := f.face(s.bold)
	unit := face.UnitsPerEm()
	sum := sub.Int26_6(0)
	for _, r := range text {
		i, err := face.GlyphIndex(&f.buffer, r)
		if err != nil {
			continue
		}
		// At as many pixels to the em as the font has units, advances are exact.
		a, err := face.GlyphAdvance(&f.buffer, i, sub.Int26_6(unit)<<6, font.HintingNone)
		if err == nil {
			sum += a
		}
	}
	return float64(sum) / 64 / float64(unit) * s.size * mmPerPoint
}

// wrap breaks text into lines no wider than width; a word that is wider than
// a line is broken where it must be, a number stays with its unit.
func (f *typefaces) wrap(s textStyle, text string, width float64) []string {
	var lines []string
	line := ""
	for _, word := range unbroken(text) {
		if line != "" && f.width(s, line+" "+word) <= width {
			line += " " + word
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for f.width(s, word) > width && len([]rune(word)) > 1 {
			head := f.fit(s, word, width)
			lines, word = append(lines, head), word[len(head):]
		}
		line = word
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// unbroken splits text into the pieces that stay on one line: words, numbers with
// what they count, and lines to write on with what they are for.
func unbroken(text string) []string {
	var pieces []string
	for _, word := range strings.Fields(text) {
		last := len(pieces) - 1
		counted := last >= 0 && endsInDigit(pieces[last]) && len(strings.TrimRight(word, ".,;:)")) <= 3
		if counted || last >= 0 && strings.Trim(word, "_") == "" {
			pieces[last] += " " + word
		} else {
			pieces = append(pieces, word)
		}
	}
	return pieces
}

func endsInDigit(s string) bool { return s[len(s)-1] >= '0' && s[len(s)-1] <= '9' }

// fit returns the longest beginning of text that is not wider than width, at
// least one character.
func (f *typefaces) fit(s textStyle, text string, width float64) string {
	end := len(text)
	for i, r := range text {
		if next := i + len(string(r)); i > 0 && f.width(s, text[:next]) > width {
			end = i
			break
		}
	}
	return text[:end]
}

// shrink returns the style at the largest size, down to least points, at which
// the text is not wider than width.
func (f *typefaces) shrink(s textStyle, text string, width, least float64) textStyle {
	for s.size > least && f.width(s, text) > width {
		s.size = max(least, s.size-0.5)
	}
	return s
}

// clip shortens text to the width with an ellipsis.
func (f *typefaces) clip(s textStyle, text string, width float64) string {
	if f.width(s, text) <= width {
		return text
	}
	return strings.TrimRight(f.fit(s, text, width-f.width(s, "…")), " ") + "…"
}
