package sheet

import (
	"fmt"
	"image/color"
	"io"
	"math"
	"strings"

	"github.com/boombuler/barcode/qr"

	"halfpour/pourplan"
)

// Label is one label of a mold.
type Label struct {
	pourplan.ShelfLine        // of the mold that was made
	Lead               string // the caution for metal with lead in it; "" for none
}

// The size of a label, mm: two columns of them fit on either paper.
const (
	labelWidth  = 90.0
	labelHeight = 50.0
	labelGap    = 4.0
	codeSide    = 28.0 // of the code with its quiet zone
)

// WriteLabels writes labels of molds as PDF, to cut out at the marks. The same labels and
// paper give the same bytes. No labels, and paper that is too small, are errors.
func WriteLabels(w io.Writer, labels []Label, paper Paper) error {
	pages, err := layOutLabels(labels, paper)
	if err != nil {
		return err
	}
	return printPDF(w, pages, "Labels of molds")
}

func layOutLabels(labels []Label, paper Paper) ([]*page, error) {
	s, err := newSheet(&pourplan.Plan{}, paper)
	if err != nil {
		return nil, err
	}
	rows := int((paper.Height - 2*sheetMargin + labelGap) / (labelHeight + labelGap))
	left := (paper.Width - 2*labelWidth - labelGap) / 2
	for i, l := range labels {
		place := i % (2 * rows)
		if place == 0 {
			s.pages = append(s.pages, &page{paper: paper})
		}
		at := region{left + float64(place%2)*(labelWidth+labelGap), sheetMargin + float64(place/2)*(labelHeight+labelGap), labelWidth, labelHeight}
		if err := s.label(s.pages[len(s.pages)-1], at, l); err != nil {
			return nil, err
		}
	}
	return s.pages, nil
}

// label sets one label with its marks to cut at.
func (s *sheet) label(p *page, at region, l Label) error {
	cutMarks(p, at)
	const in = 2.5
	x, width := at.x+in, at.width-codeSide-2*in
	bottom := at.y + at.height - in
	if l.Lead != "" {
		lines := s.faces.wrap(smallBold, l.Lead, at.width-2*in)
		bottom -= float64(len(lines))*smallBold.lineHeight() + 1.2
		p.line(x, bottom, at.x+at.width-in, bottom, 0.3)
		s.paragraph(p, x, bottom+1.2, at.width-2*in, smallBold, l.Lead)
	}
	title := s.faces.shrink(headingStyle, s.faces.printable(l.Name), width, 9)
	y := at.y + in + title.ascent()
	p.text(x, y, title, alignLeft, s.faces.clip(title, s.faces.printable(l.Name), width))
	y += 2
	for _, line := range labelLines(l) {
		style := smallStyle
		if line.strong {
			style = strongStyle
		}
		y += style.lineHeight()
		if y+style.descent() > bottom {
			break
		}
		style = s.faces.shrink(style, s.faces.printable(line.text), width, 8)
		p.text(x, y, style, alignLeft, s.faces.clip(style, s.faces.printable(line.text), width))
	}
	return code(p, at.x+at.width-codeSide-1, at.y+1, codeSide, labelText(l))
}

type labelLine struct {
	text   string
	strong bool
}

// labelLines are what stands below the name, the most needed first.
func labelLines(l Label) []labelLine {
	lines := []labelLine{{l.Metal, true}, {"pour at " + pourplan.FormatTemperature(l.PourC), true}, {headsText(l), false}}
	if l.Hook != "" {
		lines = append(lines, labelLine{"hook: " + l.Hook, false})
	}
	if l.Turn != "" {
		lines = append(lines, labelLine{l.Turn, false})
	}
	return append(lines, labelLine{"rubber: " + l.Rubber, false}, labelLine{fmt.Sprintf("made %s, lasts %d to %d shots", l.Date, l.LifeLow, l.LifeHigh), false})
}

// headsText is what a shot gives.
func headsText(l Label) string {
	heads := countedNoun(l.Heads, "head", "heads")
	if l.HeadG == 0 {
		return heads + " that differ"
	}
	return heads + ", " + pourplan.FormatMass(math.Round(100*l.HeadG)/100)
}

// labelText is what the code says: the label as plain text. It has no sign for degrees,
// which some readers take for another letter.
func labelText(l Label) string {
	lines := []string{l.Name}
	for _, line := range labelLines(l) {
		lines = append(lines, line.text)
	}
	if l.Lead != "" {
		lines = append(lines, "lead")
	}
	return strings.NewReplacer(" °", " ", "°", " degrees").Replace(strings.Join(lines, "\n"))
}

// cutMarks are short lines outside the corners.
func cutMarks(p *page, at region) {
	const from, to = 0.4, 1.9
	for _, x := range []struct{ at, out float64 }{{at.x, -1}, {at.x + at.width, 1}} {
		for _, y := range []struct{ at, out float64 }{{at.y, -1}, {at.y + at.height, 1}} {
			p.line(x.at+x.out*from, y.at, x.at+x.out*to, y.at, 0.2)
			p.line(x.at, y.at+y.out*from, x.at, y.at+y.out*to, 0.2)
		}
	}
}

// code sets a QR code (ISO/IEC 18004, level M) with the four modules of quiet zone
// that it must have.
func code(p *page, x, y, side float64, text string) error {
	const quiet = 4
	c, err := qr.Encode(text, qr.M, qr.Unicode)
	if err != nil {
		return fmt.Errorf("sheet: code of a label: %w", err)
	}
	n := c.Bounds().Dx()
	module := side / float64(n+2*quiet)
	for row := range n {
		for from := 0; from < n; from++ {
			to := from
			for to < n && isDark(c.At(to, row)) {
				to++
			}
			if to > from {
				p.rectangle(x+float64(quiet+from)*module, y+float64(quiet+row)*module, float64(to-from)*module, module, 0, 0)
				from = to
			}
		}
	}
	return nil
}

func isDark(c color.Color) bool {
	r, _, _, _ := c.RGBA()
	return r < 0x8000
}
