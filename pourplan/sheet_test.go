package pourplan

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"halfpour/geom"
)

// sheetJob is a job of n heads; more is added to its last table, [rubber].
func sheetJob(n int, more string) string {
	return strings.Replace(shortJob, "cavities = 3", fmt.Sprintf("cavities = %d", n), 1) + more
}

// sheetPlan is the plan of a job with volumes as of a mold of its size.
func sheetPlan(t testing.TB, text string) *Plan {
	t.Helper()
	job, err := ReadJob("job.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	n := len(job.Placed())
	half := MeasuredHalf{
		Rubber: Span{22790 * float64(n), 22800 * float64(n), 22810 * float64(n)}, FillHeight: 14, RimHeight: 17, Floor: 3.6,
		Inside: geom.Vec{X: 24 * float64(n), Y: 61, Z: 14}, Outside: geom.Vec{X: 24*float64(n) + 14, Y: 66, Z: 20.6},
	}
	in := Measured{Left: half, Right: half}
	in.Right.Rubber = Span{20700 * float64(n), 20710 * float64(n), 20720 * float64(n)}
	for i := range n {
		in.Cavities = append(in.Cavities, MeasuredCavity{
			Name: fmt.Sprintf("cavity %d", i+1), Scale: 1, Shrink: 1.01, Head: 1000 + 10*float64(i), WireInHead: 15, Wire: 42.3,
			WireLength: 53.9, Area: 480, Runner: 610, Funnel: 22,
		})
	}
	p, err := NewPlan(job, in)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// sheetCases are plans from the least to the fullest.
func sheetCases(t testing.TB) map[string]struct {
	plan     *Plan
	drawings []Drawing
} {
	type c = struct {
		plan     *Plan
		drawings []Drawing
	}
	const long = "a title as long as a job may have it, EIGHTY CHARACTERS, which no heading holds"
	one, five := drawn(t, drawnMold(t, 1)), drawn(t, drawnMold(t, 5))
	warned := sheetPlan(t, sheetJob(5, ""))
	for i := range 6 {
		warned.Findings = append(warned.Findings, PlanFinding{
			Severity: "warn", Cavity: "cavity 2", Message: "rubber over the eye is 3.2 mm, at least 8 mm wanted, which is " + strings.Repeat("so ", 20*i) + "thin",
			Remedy: "enlarge frame.over",
		})
	}
	return map[string]c{
		"warned":   {warned, five},
		"one":      {sheetPlan(t, sheetJob(1, "")), one},
		"five":     {sheetPlan(t, sheetJob(5, "vacuum = true\n")), five},
		"platinum": {sheetPlan(t, strings.Replace(sheetJob(5, "vacuum = true\n"), "tin-cure 100:3", "platinum 1:1", 1)), five},
		"coarse":   {sheetPlan(t, sheetJob(1, "scale = 1\nwaste = 40\n")), nil},
		"title":    {sheetPlan(t, strings.Replace(sheetJob(2, ""), "ball jig", long, 1)), one},
		"large":    {sheetPlan(t, sheetJob(12, "")), enlarged(five, 3)},
		"bare":     {&Plan{}, nil},
	}
}

// enlarged are the drawings of a mold k times as large.
func enlarged(ds []Drawing, k float64) []Drawing {
	var out []Drawing
	grow := func(p geom.Vec2) geom.Vec2 { return p.Mul(k) }
	for _, d := range ds {
		d.Low, d.High = grow(d.Low), grow(d.High)
		areas, dims, labels := d.Areas, d.Dimensions, d.Labels
		d.Areas, d.Dimensions, d.Labels = nil, nil, nil
		for _, a := range areas {
			d.Areas = append(d.Areas, Area{a.Kind, a.Outline.Transform(grow)})
		}
		for _, m := range dims {
			m.From, m.To = grow(m.From), grow(m.To)
			d.Dimensions = append(d.Dimensions, m)
		}
		for _, l := range labels {
			l.At = grow(l.At)
			d.Labels = append(d.Labels, l)
		}
		out = append(out, d)
	}
	return out
}

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

// Nothing leaves the margins, no text lies on another, none is smaller than 6
// points, and every letter is in the fonts.
func TestSheetLayout(t *testing.T) {
	faces, err := newTypefaces()
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range sheetCases(t) {
		for _, paper := range []Paper{A4, Letter} {
			t.Run(name+" "+paper.Name, func(t *testing.T) {
				pages, err := layOut(c.plan, c.drawings, paper)
				if err != nil {
					t.Fatal(err)
				}
				for i, p := range pages {
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
		if text.size < 6 {
			t.Errorf("page %d: %q has %g points", number, b.text, text.size)
		}
		for _, r := range b.text {
			if !faces.has(r, text.bold) {
				t.Errorf("page %d: the font has no %q of %q", number, r, b.text)
			}
		}
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

func TestSheetPages(t *testing.T) {
	for name, c := range sheetCases(t) {
		want := 3
		if name == "large" {
			want = 4 // twelve different heads fill a table of their own
		}
		if c.drawings == nil {
			want = 2
		}
		for _, paper := range []Paper{A4, Letter} {
			pages, err := layOut(c.plan, c.drawings, paper)
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

// A and B of both halves stand on the first page in at least 40 points.
func TestSheetFiguresAreLarge(t *testing.T) {
	for _, text := range []string{sheetJob(1, ""), sheetJob(5, ""), sheetJob(12, "scale = 0.01\n")} {
		plan := sheetPlan(t, text)
		pages, err := layOut(plan, nil, Letter)
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range plan.Rubber.Halves {
			for _, g := range []float64{h.AG, h.BG} {
				figure, large := onScale(g, plan.Rubber.ScaleStepG), false
				for _, f := range find(pages[:1], figure) {
					large = large || f.text == figure && f.size >= 40
				}
				if !large {
					t.Errorf("%s g of the %s half is not in large figures", figure, h.Half)
				}
			}
		}
	}
}

func TestSheetSaysWhatTheBenchNeeds(t *testing.T) {
	plan := sheetPlan(t, sheetJob(5, ""))
	pages, err := layOut(plan, drawn(t, drawnMold(t, 5)), A4)
	if err != nil {
		t.Fatal(err)
	}
	all := ""
	for _, p := range pages {
		for _, t := range p.texts {
			all += t.text + " "
		}
	}
	h := plan.Rubber.Halves[0]
	words := []string{
		"LEFT HALF", "RIGHT HALF", "ball jig", "tin-cure 100:3", "US fl oz", "pot life", "estimate", "50 mm", "true size, 1:1",
		FormatLength(h.FillFromFloorMM), FormatLength(h.FillFromRimMM), bothVolumes(h.CupML), bothVolumes(h.LineMixML),
		FormatDuration(plan.Times.DemoldS), FormatTemperature(plan.Casting.LiquidusC), fmt.Sprintf("%.0f °C", plan.Casting.PourC),
		FormatMass(plan.Metal.ShotG), kilograms(plan.Metal.MeltG), "SHORTENS ITS LIFE", "54 mm (2.13 in)", "grams, each", "local rules",
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

func TestWriteSheetSameBytes(t *testing.T) {
	plan, drawings := sheetPlan(t, sheetJob(2, "")), drawn(t, drawnMold(t, 2))
	var first []byte
	for range 3 {
		var b bytes.Buffer
		if err := WriteSheet(&b, plan, drawings, A4); err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = b.Bytes()
		}
		if !bytes.Equal(first, b.Bytes()) {
			t.Fatal("the same plan gives other bytes")
		}
	}
	if !bytes.HasPrefix(first, []byte("%PDF-")) || !bytes.Contains(first, []byte("/FontFile2")) {
		t.Error("no PDF with embedded fonts")
	}
	if len(first) > 400e3 {
		t.Errorf("%d bytes: fonts are not cut down to what is used", len(first))
	}
}

// A reader of PDFs finds the figures as text.
func TestWriteSheetTextCanBeRead(t *testing.T) {
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext is not installed: what the PDF's text reads as is not tested")
	}
	plan := sheetPlan(t, sheetJob(1, ""))
	file := filepath.Join(t.TempDir(), "sheet.pdf")
	var b bytes.Buffer
	if err := WriteSheet(&b, plan, nil, Letter); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(tool, "-layout", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{onScale(plan.Rubber.Halves[0].AG, 0.1), "LEFT HALF", "US fl oz", "g/cm³", "°C"} {
		if !strings.Contains(string(out), want) {
			t.Errorf("the text does not hold %q", want)
		}
	}
}

func TestWriteSheetRefusesPaper(t *testing.T) {
	for _, paper := range []Paper{{}, {"card", 100, 150}, {"flat", 297, 210}, {"none", math.NaN(), 300}, {"roll", 200, math.Inf(1)}} {
		if err := WriteSheet(&bytes.Buffer{}, &Plan{}, nil, paper); err == nil {
			t.Errorf("%v is taken", paper)
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

func TestWrapKeepsTheWords(t *testing.T) {
	faces, err := newTypefaces()
	if err != nil {
		t.Fatal(err)
	}
	const text = "Stir slowly until no streak is left; Donaudampfschifffahrtselektrizitätenhauptbetriebswerk"
	for _, width := range []float64{6, 12, 40, 500} {
		lines := faces.wrap(bodyStyle, text, width)
		if got := strings.ReplaceAll(strings.Join(lines, ""), " ", ""); got != strings.ReplaceAll(text, " ", "") {
			t.Errorf("in %g mm letters are lost: %q", width, lines)
		}
		for _, l := range lines {
			if faces.width(bodyStyle, l) > width {
				t.Errorf("%q is wider than %g mm", l, width)
			}
		}
	}
}
