package sheet

import (
	"fmt"
	"io"
	"math"

	"halfpour/moldbox"
	"halfpour/pourplan"
)

// WritePour writes the pour sheet for the bench as PDF: the page for the
// scale, the drawings, the page for the melting pot. The same plan, drawings and
// paper give the same bytes. Without drawings it has no page of them, without cuts of a
// computed shot no picture of what freezes last. Paper that
// is too small, and a mold too large to draw, are errors.
func WritePour(w io.Writer, plan *pourplan.Plan, drawings []pourplan.Drawing, cuts []moldbox.HeatCut, paper Paper) error {
	pages, err := layOut(plan, drawings, cuts, paper)
	if err != nil {
		return err
	}
	return printPDF(w, pages, "Pour sheet: "+plan.Title)
}

// leastPaper is the smallest sheet that the layout stands: figures, tables and
// steps side by side at their sizes.
const leastPaper = 190.0

// newSheet is a sheet without pages.
func newSheet(plan *pourplan.Plan, paper Paper) (*sheet, error) {
	if !(paper.Width >= leastPaper) || !(paper.Height >= paper.Width) || math.IsInf(paper.Height, 0) {
		return nil, fmt.Errorf("sheet: paper must be upright and at least %.0f mm wide, got %g x %g mm: take A4 or Letter",
			leastPaper, paper.Width, paper.Height)
	}
	faces, err := newTypefaces()
	if err != nil {
		return nil, fmt.Errorf("sheet: %w", err)
	}
	return &sheet{faces: faces, paper: paper, title: faces.printable(plan.Title), stopped: len(plan.Stops()) > 0}, nil
}

// layOut fills the pages.
func layOut(plan *pourplan.Plan, drawings []pourplan.Drawing, cuts []moldbox.HeatCut, paper Paper) ([]*page, error) {
	s, err := newSheet(plan, paper)
	if err != nil {
		return nil, err
	}
	s.pour(plan)
	if err := s.drawings(drawings, plan); err != nil {
		return nil, err
	}
	if !s.said {
		s.findingPages(plan)
	}
	if !s.patterned {
		s.wirePages(plan)
	}
	if !plan.OfBox() {
		s.casting(plan, cuts)
	}
	s.footings()
	return s.pages, nil
}

// sheet is the pour sheet while its pages are laid out.
type sheet struct {
	faces *typefaces
	paper Paper
	title string
	pages []*page

	stopped   bool // the checks say stop: pages after the first say so too, since they get parted
	said      bool // the findings stand with the drawings
	patterned bool // the wires' patterns stand with the drawings
}

// region is a rectangle of a page to fill, y downwards, mm.
type region struct{ x, y, width, height float64 }

const (
	headRoom = 11.0 // of the page's heading, mm
	footRoom = 6.0
)

// newPage starts a page with its heading and returns what is left to fill.
func (s *sheet) newPage(what string) (*page, region) {
	p := &page{paper: s.paper}
	s.pages = append(s.pages, p)
	left, right := sheetMargin, s.paper.Width-sheetMargin
	y := sheetMargin + titleStyle.ascent()
	p.text(left, y, titleStyle, alignLeft, what)
	from := left + s.faces.width(titleStyle, what) + 8
	if s.stopped && len(s.pages) > 1 {
		text := "STOP: see page 1"
		wide := s.faces.width(headingStyle, text) + 5
		p.bar(from, sheetMargin, wide, 8, headingStyle, text)
		from += wide + 8
	}
	title := s.faces.shrink(headingStyle, s.title, right-from, 9)
	p.text(right, y, title, alignRight, s.faces.clip(title, s.title, right-from))
	p.line(left, y+2.2, right, y+2.2, 0.6)
	return p, region{left, sheetMargin + headRoom, right - left, s.paper.Height - 2*sheetMargin - headRoom - footRoom}
}

// footings puts the page numbers and the standing rule at the foot of each
// page, once their number is known.
func (s *sheet) footings() {
	y := s.paper.Height - sheetMargin - 0.8
	for i, p := range s.pages {
		p.line(sheetMargin, y-4, s.paper.Width-sheetMargin, y-4, 0.2)
		p.text(sheetMargin, y, smallStyle, alignLeft, "Data sheets and local rules take precedence over this sheet.")
		p.text(s.paper.Width-sheetMargin, y, smallStyle, alignRight, fmt.Sprintf("page %d of %d", i+1, len(s.pages)))
	}
}
