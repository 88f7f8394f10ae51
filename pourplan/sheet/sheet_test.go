package sheet

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"halfpour/pourplan"

	"halfpour/pourplan/internal/plantest"
)

// textBox is the room that a text takes, from the top of its capitals to the
// baseline, or below it where letters reach below.
type textBox struct {
	x0, y0, x1, y1 float64
	text           string
}

func boxOf(f *typefaces, t pageText) textBox {
	style := textStyle{t.size, t.bold}
	w, h, below := f.width(style, t.text), style.ascent(), 0.0
	if strings.ContainsAny(t.text, "gjpqy,;()") {
		below = 0.2 * t.size * mmPerPoint
	}
	if t.turned {
		return textBox{t.x - h, t.y - w/2, t.x + below, t.y + w/2, t.text}
	}
	x := t.x - w*float64(t.align)/2
	return textBox{x, t.y - h, x + w, t.y + below, t.text}
}

// Nothing leaves the margins, no text lies on another or runs over a line, none is smaller than 7
// points, and every letter is in the fonts.
func TestSheetLayout(t *testing.T) {
	faces, err := newTypefaces()
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range sheetCases(t) {
		for _, paper := range []Paper{A4, Letter} {
			t.Run(name+" "+paper.Name, func(t *testing.T) {
				pages, err := layOut(c.plan, c.drawings, nil, paper)
				if err != nil {
					t.Fatal(err)
				}
				desk, err := layOutDesk(c.plan, nil, paper)
				if err != nil || len(desk) < 1 || len(desk) > 2 {
					t.Fatalf("%d pages for the desk, %v", len(desk), err)
				}
				for _, swap := range c.plan.Swaps {
					if len(find(desk, swap.Metal)) == 0 {
						t.Errorf("the desk sheet leaves %s out", swap.Metal)
					}
				}
				for i, p := range append(pages, desk...) {
					checkPage(t, faces, i+1, p)
				}
			})
		}
	}
}

func checkPage(t *testing.T, faces *typefaces, number int, p *page) {
	t.Helper()
	const slack = 0.01
	low, right, bottom := sheetMargin-slack, p.paper.Width-sheetMargin+slack, p.paper.Height-sheetMargin+slack
	var boxes []textBox
	for _, text := range p.texts {
		b := boxOf(faces, text)
		if b.x0 < low || b.y0 < low || b.x1 > right || b.y1 > bottom {
			t.Errorf("page %d: %q leaves the margins: %.1f..%.1f, %.1f..%.1f", number, b.text, b.x0, b.x1, b.y0, b.y1)
		}
		for _, o := range boxes {
			if b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1 {
				t.Errorf("page %d: %q lies on %q", number, b.text, o.text)
			}
		}
		boxes = append(boxes, b)
		if text.size < 7 {
			t.Errorf("page %d: %q has %g points", number, b.text, text.size)
		}
		for _, r := range b.text {
			if !faces.glyph(r, text.bold).shown {
				t.Errorf("page %d: the font has no %q of %q", number, r, b.text)
			}
		}
	}
	if what := p.texts[0].text; what != "Drawings" { // there figures stand on lines
		checkCells(t, number, p, boxes)
	}
	for _, s := range p.shapes {
		for _, l := range s.loops {
			for _, q := range l.points {
				if q.X < low-1 || q.Y < low || q.X > right+1 || q.Y > bottom {
					t.Fatalf("page %d: a line reaches %v", number, q)
				}
			}
		}
	}
}

// checkCells looks for text that runs over a line: out of its cell, its frame or
// its bar, or into a box to tick.
func checkCells(t *testing.T, number int, p *page, boxes []textBox) {
	t.Helper()
	const slack = 0.15
	for _, s := range p.shapes {
		if s.dash > 0 || (s.ink == none || s.width == 0) && s.fill != 0 {
			continue // nothing, or a shade behind text
		}
		for _, l := range s.loops {
			for i, a := range l.points {
				if i == 0 && !l.closed {
					continue
				}
				b := l.points[(i+len(l.points)-1)%len(l.points)]
				for _, o := range boxes {
					if math.Max(a.X, b.X) > o.x0+slack && math.Min(a.X, b.X) < o.x1-slack &&
						math.Max(a.Y, b.Y) > o.y0+slack && math.Min(a.Y, b.Y) < o.y1-slack {
						t.Errorf("page %d: %q runs over the line from %.1f, %.1f to %.1f, %.1f", number, o.text, a.X, a.Y, b.X, b.Y)
					}
				}
			}
		}
	}
}

func TestSheetPages(t *testing.T) {
	for name, c := range sheetCases(t) {
		want := 3
		if name == "large" {
			want = 4 // twelve different heads fill a table of their own
		}
		if name == "stopped" {
			want = 4 // the banner takes the room of some steps
		}
		if name == "wires" {
			want = 5 // thirty kinds of wire take two pages
		}
		if c.drawings == nil {
			want = 2
		}
		if name == "bare" {
			want = 1 // no heads: nothing is cast
		}
		for _, paper := range []Paper{A4, Letter} {
			pages, err := layOut(c.plan, c.drawings, nil, paper)
			if err != nil {
				t.Fatal(err)
			}
			if len(pages) != want {
				t.Errorf("%s on %s: %d pages, want %d", name, paper.Name, len(pages), want)
			}
		}
	}
}

// find returns the texts of all pages that hold a part.
func find(pages []*page, part string) (all []pageText) {
	for _, p := range pages {
		for _, t := range p.texts {
			if strings.Contains(t.text, part) {
				all = append(all, t)
			}
		}
	}
	return all
}

// leastFigure is how high A and B are to stand on the sheet, mm: a letter is read
// with ease from 200 times its height, here from nearly two metres (common
// practice, no source).
const leastFigure = 9.0

// capOfFont is the height of capitals and figures in the fonts, of their size:
// 1480 of 2048 units.
const capOfFont = 1480. / 2048

// A and B of both halves stand on the first page, large.
func TestSheetFiguresAreLarge(t *testing.T) {
	for _, text := range []string{plantest.Job(1, ""), plantest.Job(5, ""), plantest.Job(12, "scale = 0.01\n")} {
		plan := sheetPlan(t, text)
		pages, err := layOut(plan, nil, nil, Letter)
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range plan.Rubber.Halves {
			for _, g := range []float64{h.AG, h.BG} {
				figure, large := pourplan.OnScale(g, plan.Rubber.ScaleStepG), false
				for _, f := range find(pages[:1], figure) {
					large = large || f.text == figure && f.size*mmPerPoint*capOfFont >= leastFigure
				}
				if !large {
					t.Errorf("%s g of the %s half is not in large figures", figure, h.Half)
				}
			}
		}
	}
}

// sheetText is all text of a sheet in the order of setting.
func sheetText(t *testing.T, plan *pourplan.Plan, drawings []pourplan.Drawing) string {
	t.Helper()
	pages, err := layOut(plan, drawings, nil, A4)
	if err != nil {
		t.Fatal(err)
	}
	return textOf(pages)
}

func textOf(pages []*page) string {
	all := ""
	for _, p := range pages {
		for _, t := range p.texts {
			all += t.text + " "
		}
	}
	return all
}

func TestSheetSaysWhatTheBenchNeeds(t *testing.T) {
	plan := sheetPlan(t, plantest.Job(5, ""))
	all := sheetText(t, plan, drawingsOf(t, plantest.Mold(t, 5)))
	h := plan.Rubber.Halves[0]
	words := []string{
		"LEFT HALF", "RIGHT HALF", "ball jig", "tin-cure 100:3", "US fl oz", "pot life", "estimate", "50 mm", "true size, 1:1",
		pourplan.FormatLength(h.FillFromFloorMM), pourplan.FormatLength(h.FillFromRimMM), bothVolumes(h.CupML), bothVolumes(h.LineMixML),
		pourplan.FormatDuration(plan.Times.DemoldS), pourplan.FormatTemperature(plan.Casting.LiquidusC), fmt.Sprintf("%.0f °C", plan.Casting.PourC),
		pourplan.FormatMass(plan.Metal.ShotG), pourplan.FormatKilograms(plan.Metal.MeltG), "SHORTENS ITS LIFE", "grams, each", "local rules",
	}
	for _, c := range plan.Heads {
		words = append(words, fmt.Sprintf("%.2f to %.2f g", c.FinishedG.Low, c.FinishedG.High))
	}
	for _, w := range words {
		if !strings.Contains(all, w) {
			t.Errorf("the sheet does not say %q", w)
		}
	}
	// Cautions are broken into lines, so compare word by word.
	joined := strings.Join(strings.Fields(all), " ")
	for _, c := range plan.Cautions {
		if c.Code != "sheets-stand-above" && !strings.Contains(joined, c.Text) {
			t.Errorf("caution %s is missing", c.Code)
		}
	}
}

func TestWriteSameBytes(t *testing.T) {
	plan, drawings := sheetPlan(t, plantest.Job(2, "")), drawingsOf(t, plantest.Mold(t, 2))
	for what, write := range map[string]func(io.Writer) error{
		"pour": func(w io.Writer) error { return WritePour(w, plan, drawings, nil, A4) },
		"desk": func(w io.Writer) error { return WriteDesk(w, plan, nil, A4) },
	} {
		var first []byte
		for range 3 {
			var b bytes.Buffer
			if err := write(&b); err != nil {
				t.Fatal(err)
			}
			if first == nil {
				first = b.Bytes()
			}
			if !bytes.Equal(first, b.Bytes()) {
				t.Fatalf("%s sheet: the same plan gives other bytes", what)
			}
		}
		if !bytes.HasPrefix(first, []byte("%PDF-")) || !bytes.Contains(first, []byte("/FontFile2")) {
			t.Errorf("%s sheet: no PDF with embedded fonts", what)
		}
		if len(first) > 400e3 {
			t.Errorf("%s sheet: %d bytes: fonts are not cut down to what is used", what, len(first))
		}
	}
}

// A reader of PDFs finds the figures as text.
func TestWriteTextCanBeRead(t *testing.T) {
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext is not installed: what the PDF's text reads as is not tested")
	}
	plan := sheetPlan(t, plantest.Job(1, ""))
	file := filepath.Join(t.TempDir(), "sheet.pdf")
	var b bytes.Buffer
	if err := WritePour(&b, plan, nil, nil, Letter); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(tool, "-layout", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{pourplan.OnScale(plan.Rubber.Halves[0].AG, 0.1), "LEFT HALF", "US fl oz", "g/cm³", "°C"} {
		if !strings.Contains(string(out), want) {
			t.Errorf("the text does not hold %q", want)
		}
	}
}

func TestWriteRefusesPaper(t *testing.T) {
	for _, paper := range []Paper{{}, {"card", 100, 150}, {"flat", 297, 210}, {"none", math.NaN(), 300}, {"roll", 200, math.Inf(1)}} {
		for what, err := range map[string]error{
			"pour": WritePour(io.Discard, &pourplan.Plan{}, nil, nil, paper), "desk": WriteDesk(io.Discard, &pourplan.Plan{}, nil, paper),
		} {
			if err == nil {
				t.Errorf("%v is taken for the %s sheet", paper, what)
			}
		}
	}
}

func TestCorrectionSteps(t *testing.T) {
	for _, c := range []struct {
		a, least float64
		want     [5]float64
	}{
		{153, 0, [5]float64{149, 151, 153, 155, 157}},
		{95.5, 0.1, [5]float64{93.5, 94.5, 95.5, 96.5, 97.5}},
		{620, 0.1, [5]float64{600, 610, 620, 630, 640}},
		{39.2, 10. / 3, [5]float64{29.2, 34.2, 39.2, 44.2, 49.2}},
		{12, 20, [5]float64{0, 0, 12, 32, 52}},
		{0, 1, [5]float64{}},
	} {
		for i, got := range correctionSteps(c.a, c.least) {
			if math.Abs(got-c.want[i]) > 1e-9 {
				t.Errorf("round %g: %g, want %g", c.a, got, c.want[i])
			}
		}
	}
}

// What the job does not state is an estimate, and only that.
func TestSheetMarksEstimates(t *testing.T) {
	for text, want := range map[string]bool{plantest.Job(1, ""): true, plantest.Job(1, "density = 1.33\npot_life = \"35 min\"\n"): false} {
		pages, err := layOut(sheetPlan(t, text), nil, nil, A4)
		if err != nil {
			t.Fatal(err)
		}
		for _, part := range []string{"Rubber: ", "pot life"} {
			for _, found := range find(pages[:1], part) {
				if !strings.HasPrefix(found.text, part) {
					continue
				}
				if got := strings.Contains(found.text, "estimate"); got != want {
					t.Errorf("%q: marked as an estimate is %v, want %v", found.text, got, want)
				}
			}
		}
	}
}

// The sheet says whether one mix does for both halves, and why.
func TestSheetSaysHowManyMixes(t *testing.T) {
	for tables, want := range map[string]string{
		"":                               "One mix may do for both halves: A 67.7 g, B 2.0 g, cup 67 ml; it takes 21 min of the pot life of 30 min.",
		"[evening]\npour = \"15 min\"\n": "Mix each half on its own, together A 76.4 g, B 2.3 g: one mix would take 35 min, the pot life is 30 min.",
		"[evening]\ncup = \"60 ml\"\n":   "one mix needs a cup of 67 ml, the largest holds 60 ml.",
	} {
		if all := sheetText(t, sheetPlan(t, plantest.Job(1, tables)), nil); !strings.Contains(all, want) {
			t.Errorf("%q: the sheet does not say %q in %s", tables, want, all[:300])
		}
	}
}

// A bought hook has no wire to cut; one given by points has, and a keeper.
func TestSheetTellsWhatToCut(t *testing.T) {
	bent := strings.Replace(plantest.Job(2, ""), "leg = 8.6", "points = [[0, -8.6], [24, -8.6]]", 1)
	for _, c := range []struct{ job, want string }{
		{bent, "2 × hook 1 mm thick; cut 54 mm (2.13 in) eye 2.2 mm inside; 6.1; +90° round 1; 22.5 "},
		{plantest.Job(2, "") + plantest.Keepers(1), "6 × spike 1 0.8 mm thick; cut 16 mm (0.63 in) 9; -57° round 0.8; 3; +115° round 0.8; 2.4 "},
	} {
		if got := sheetText(t, sheetPlan(t, c.job), nil); !strings.Contains(got, c.want) {
			t.Errorf("the sheet does not say %q:\n%s", c.want, got)
		}
	}
	if strings.Contains(sheetText(t, sheetPlan(t, plantest.Job(2, "")), nil), "Cut and bend") {
		t.Error("a bought hook is to be cut")
	}
}

// The sheet says how thick the coats are: on the frame, and of powder on heads.
func TestSheetSaysTheCoats(t *testing.T) {
	text := sheetText(t, sheetPlan(t, plantest.Job(1, "[finish]\nseal_coat = 0.08\npowder = 0.1\n")), nil)
	for _, want := range []string{"Coat the whole inside, 0.08 mm in total", "Powder, 0.1 mm: adds 0.07 g", "Bake at 200 °C (392 °F) for 15 min", "Cover the hook's eye and point"} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheet does not say %q", want)
		}
	}
}
