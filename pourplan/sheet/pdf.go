package sheet

import (
	"fmt"
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"halfpour/geom"
)

// sheetDate stands in every sheet, so that equal plans give equal bytes.
var sheetDate = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// printPDF writes the pages as a PDF with both fonts embedded, as far as they
// are used, and text that can be selected.
func printPDF(w io.Writer, pages []*page, title string) error {
	if len(pages) == 0 {
		return fmt.Errorf("sheet: no pages to print")
	}
	paper := pages[0].paper
	pdf := fpdf.NewCustom(&fpdf.InitType{
		UnitStr: "mm", Size: fpdf.SizeType{Wd: paper.Width, Ht: paper.Height},
	})
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(sheetDate)
	pdf.SetModificationDate(sheetDate)
	pdf.SetTitle(title, true)
	pdf.SetProducer("halfpour", true)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.AddUTF8FontFromBytes("go", "", goregular.TTF)
	pdf.AddUTF8FontFromBytes("go", "B", gobold.TTF)
	pdf.SetLineJoinStyle("round")
	pdf.SetLineCapStyle("butt")
	for _, p := range pages {
		pdf.AddPage()
		for _, s := range p.shapes {
			printShape(pdf, s)
		}
		for _, t := range p.texts {
			printText(pdf, t)
		}
	}
	if err := pdf.Output(w); err != nil {
		return fmt.Errorf("sheet: %w", err)
	}
	return nil
}

func printShape(pdf *fpdf.Fpdf, s pageShape) {
	style := ""
	if s.paint.A > 0 {
		pdf.SetFillColor(int(s.paint.R), int(s.paint.G), int(s.paint.B))
		style = "f*"
	} else if s.fill != none {
		pdf.SetFillColor(shade(s.fill), shade(s.fill), shade(s.fill))
		style = "f*"
	}
	if s.ink != none && s.width > 0 {
		pdf.SetDrawColor(shade(s.ink), shade(s.ink), shade(s.ink))
		pdf.SetLineWidth(s.width)
		if style == "" {
			style = "D"
		} else {
			style = "FD*"
		}
	}
	if style == "" {
		return
	}
	if s.dash > 0 {
		pdf.SetDashPattern([]float64{s.dash, s.dash}, 0)
		defer pdf.SetDashPattern(nil, 0)
	}
	drawn := false
	for _, l := range s.loops {
		drawn = tracePath(pdf, l) || drawn
	}
	if drawn {
		pdf.DrawPath(style)
	}
}

func tracePath(pdf *fpdf.Fpdf, l pageLoop) bool {
	if len(l.points) < 2 {
		return false
	}
	each := func(p geom.Vec2, to func(x, y float64)) { to(p.X, p.Y) }
	each(l.points[0], pdf.MoveTo)
	for _, p := range l.points[1:] {
		each(p, pdf.LineTo)
	}
	if l.closed {
		pdf.ClosePath()
	}
	return true
}

func printText(pdf *fpdf.Fpdf, t pageText) {
	style := ""
	if t.bold {
		style = "B"
	}
	pdf.SetFont("go", style, t.size)
	ink := 0
	if t.white {
		ink = 255
	}
	pdf.SetTextColor(ink, ink, ink)
	x := t.x
	switch t.align {
	case alignMiddle:
		x -= pdf.GetStringWidth(t.text) / 2
	case alignRight:
		x -= pdf.GetStringWidth(t.text)
	}
	if t.turned {
		pdf.TransformBegin()
		pdf.TransformRotate(90, t.x, t.y)
		pdf.Text(x, t.y, t.text)
		pdf.TransformEnd()
		return
	}
	pdf.Text(x, t.y, t.text)
}

func shade(s float64) int { return int(s*255 + 0.5) }
