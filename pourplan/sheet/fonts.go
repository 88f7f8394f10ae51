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
	known         [2][common]glyph // regular and bold, as far as they were asked for
}

// common are the characters of which a sheet asks for each some thousand times: those of
// western languages.
const common = 0x180

// glyph is how a font shows a character.
type glyph struct {
	known, shown bool
	ems          float64 // its width
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

// glyph is that of a character, of no width when the font is broken there.
func (f *typefaces) glyph(r rune, bold bool) glyph {
	if uint32(r) >= common {
		return f.newGlyph(r, bold)
	}
	known := &f.known[0][r]
	if bold {
		known = &f.known[1][r]
	}
	if !known.known {
		*known = f.newGlyph(r, bold)
	}
	return *known
}

func (f *typefaces) newGlyph(r rune, bold bool) glyph {
	face, g := f.face(bold), glyph{known: true}
	if i, err := face.GlyphIndex(&f.buffer, r); err == nil {
		g.shown = i != 0
		// At as many pixels to the em as the font has units, advances are exact.
		unit := face.UnitsPerEm()
		if a, err := face.GlyphAdvance(&f.buffer, i, sub.Int26_6(unit)<<6, font.HintingNone); err == nil {
			g.ems = float64(a) / 64 / float64(unit)
		}
	}
	return g
}

// printable replaces what the font cannot show by a question mark and every
// run of spaces and control characters by one space.
func (f *typefaces) printable(text string) string {
	clean := strings.Map(func(r rune) rune {
		if f.glyph(r, true).shown && f.glyph(r, false).shown {
			return r
		}
		return '?'
	}, strings.Join(strings.FieldsFunc(text, func(r rune) bool { return r <= ' ' || r == 0x7f }), " "))
	return clean
}

// width returns the length of a line of text, mm.
func (f *typefaces) width(s textStyle, text string) float64 {
	return f.ems(s, text) * s.size * mmPerPoint
}

// ems is that in ems: exact, as a glyph has a whole number of units, 2048 to the em.
func (f *typefaces) ems(s textStyle, text string) (sum float64) {
	for _, r := range text {
		sum += f.glyph(r, s.bold).ems
	}
	return sum
}

// wrap breaks text into lines no wider than width; a word that is wider than
// a line is broken where it must be, a number stays with its unit.
func (f *typefaces) wrap(s textStyle, text string, width float64) []string {
	var lines []string
	line, ems, space := "", 0.0, f.ems(s, " ")
	for _, word := range unbroken(text) {
		more := f.ems(s, word)
		if line != "" && (ems+space+more)*s.size*mmPerPoint <= width {
			line += " " + word
			ems += space + more
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for f.width(s, word) > width && len([]rune(word)) > 1 {
			head := f.fit(s, word, width)
			lines, word = append(lines, head), word[len(head):]
		}
		line, ems = word, f.ems(s, word)
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
