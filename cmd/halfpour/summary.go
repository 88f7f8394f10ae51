package main

import (
	"fmt"
	"strings"

	"halfpour/moldbox"
	"halfpour/pourplan"
)

// sayPlan prints the figures that matter before going to the bench; share is
// to what the rubber was measured.
func (f *jobFile) sayPlan(t *terminal, p *pourplan.Plan, share float64) {
	title := p.Title
	if title == "" {
		title = f.name()
	}
	t.say("%s: %s", paint(t.outColour, bold, title), counted(len(p.Heads), "cavity", "cavities"))
	groups := groupHeads(p.Heads)
	for _, g := range groups {
		h := g.head
		if len(groups) == 1 && len(p.Heads) > 1 {
			g.names = "each"
		}
		t.row("head", "%s: %s finished (%.2f to %.2f g), drawn size x %.3f", g.names, pourplan.FormatMass(h.FinishedG.Best),
			h.FinishedG.Low, h.FinishedG.High, h.Scale)
		if from := pourplan.FormatRange(h.RangeFrom); from != "" {
			t.row("range", "%s", from)
		}
		if coat := pourplan.FormatCoat(h.Coat); coat != "" {
			t.row("coat", "%s", coat)
		}
	}
	sayRubber(t, p, fmt.Sprintf("measured to %g %%", 100*share))
	t.row("metal", "%s: %s a shot, %.0f g to melt for %s; pour at %s: %s", p.Metal.Name, pourplan.FormatMass(p.Metal.ShotG),
		p.Metal.MeltG, counted(p.Metal.Shots, "shot", "shots"), pourplan.FormatTemperature(p.Casting.PourC), verdictWords[p.Casting.Verdict])
	if life := p.Life(); life != "" {
		t.row("molds", "%s", life)
	}
	if b := p.Supplies; b != nil && len(b.Lines()) > 0 {
		t.row("count", "for %s: %s", counted(b.GoodHeads, "good head", "good heads"), b.Text())
	}
	t.row("gate", "%s", p.Gate.Text())
	sayShot(t, p.Casting)
	if l := p.Layout; l.Rows > 1 || l.Runner != nil || l.Search != nil {
		t.row("layout", "%s", l.Text())
	}
	if pr := p.Print; pr != nil {
		t.row("print", "%s", pr.Text())
		for _, place := range pr.SupportPlaces() {
			t.row("support", "%s", place)
		}
		t.row("bed", "%s", pr.Bed.Text())
		t.row("layers", "%s", pr.LayerText())
	}
	sayShopping(t, p)
}

// sayRubber prints what to weigh for each half, and the rubber that is for; measured
// says how well.
func sayRubber(t *terminal, p *pourplan.Plan, measured string) {
	for i, h := range p.Rubber.Halves {
		f := p.Frames[i]
		t.row(h.Half, "A %s g  B %s g  mixed to %.0f ml (%.2f US fl oz); frame %.1f x %.1f x %.1f mm",
			paint(t.outColour, bold, pourplan.OnScale(h.AG, p.Rubber.ScaleStepG)), paint(t.outColour, bold, pourplan.OnScale(h.BG, p.Rubber.ScaleStepG)),
			h.LineMixML, h.LineMixFlOz, f.OutsideMM[0], f.OutsideMM[1], f.OutsideMM[2])
	}
	rubber := p.Rubber.Name
	if !strings.Contains(rubber, p.Rubber.Ratio) {
		rubber += " at " + p.Rubber.Ratio
	}
	t.row("rubber", "%s, %s; pot life %s, demold %s, rest %s", rubber, measured,
		pourplan.FormatDuration(p.Times.PotLifeS), pourplan.FormatDuration(p.Times.DemoldS), pourplan.FormatDuration(p.Times.RestS))
}

// sayShot prints when to open the mold and to pour again. Without a computed shot that
// is rough.
func sayShot(t *terminal, c pourplan.CastingPlan) {
	if c.Shot == nil {
		if c.OpenAfterS > 0 {
			t.row("shot", "rough: open after %s; check --heat computes it", pourplan.FormatAtLeast(c.OpenAfterS))
		}
		return
	}
	t.row("shot", "open after %s; the rubber's skin gets to %s", pourplan.FormatAtLeast(c.OpenAfterS), pourplan.FormatTemperature(c.SkinC))
	t.row("solid", "%s", c.SolidText())
	if text := c.RhythmText(); text != "" {
		t.row("rhythm", "%s", text)
	}
}

// sayShopping prints clock, kits and costs, as far as the job asks for them.
func sayShopping(t *terminal, p *pourplan.Plan) {
	if start := p.Times.When("mix"); start != "" {
		pour := p.Times.When("second_pour_by")
		if pour == "" {
			pour = p.Times.When("pour_by")
		}
		t.row("times", "first mix %s, poured by %s; demold %s; hot metal %s", start, pour, p.Times.When("demold"), p.Times.When("first_casting"))
	}
	money := func(x float64) string { return pourplan.FormatMoney(x, p.Currency()) }
	if b := p.Buying; b != nil {
		var kits []string
		for _, k := range b.Kits {
			if k.Count > 0 {
				kits = append(kits, fmt.Sprintf("%d x %s", k.Count, k.Name))
			}
		}
		if len(kits) == 0 {
			kits = []string{"nothing"}
		}
		t.row("buy", "%s for %s; one mold's rubber is %s of it", strings.Join(kits, ", "), money(b.PriceMoney), money(b.ProRataPerMoldMoney))
	}
	if c := p.Cost; c != nil {
		paid := ""
		if c.BreakEvenHeads > 0 {
			paid = fmt.Sprintf("; pays for itself after %s", counted(c.BreakEvenHeads, "head", "heads"))
		}
		t.row("cost", "a head %.2f to %s with its share of the mold%s", c.HeadMoney.Low, money(c.HeadMoney.High), paid)
	}
}

var verdictWords = map[pourplan.Verdict]string{
	pourplan.Fine: "fine for the rubber", pourplan.ShortensLife: "shortens the rubber's life", pourplan.DoNot: "too hot for the rubber",
}

// counted is a number with its noun.
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// headGroup is heads that come out alike.
type headGroup struct {
	names string
	head  pourplan.HeadPlan
}

func groupHeads(heads []pourplan.HeadPlan) []headGroup {
	type likeness struct {
		hook            string
		scale, finished float64
	}
	index := map[likeness]int{}
	var groups []headGroup
	for _, h := range heads {
		k := likeness{h.Hook, h.Scale, h.FinishedG.Best}
		if i, ok := index[k]; ok {
			groups[i].names += ", " + h.Name
			continue
		}
		index[k] = len(groups)
		groups = append(groups, headGroup{h.Name, h})
	}
	return groups
}

// sayProof prints what a build has proved.
func sayProof(t *terminal, p moldbox.Proof) {
	for _, h := range []struct {
		name string
		half moldbox.HalfProof
	}{{"left", p.Left}, {"right", p.Right}} {
		thin := ""
		if n := h.half.ThinPoints; n > 0 {
			thin = fmt.Sprintf("; %d more on needles or blades too thin to print", n)
		}
		t.row("proof", "%s frame: %d triangles, closed, none crossing; volume %.1f mm³, %+.4f %% off its solid; %d head points within %.4f mm%s",
			h.name, h.half.Triangles, h.half.MeshVolume, h.half.OffPercent(), h.half.HeadPoints, h.half.HeadDeviation, thin)
	}
	t.row("proof", "left rubber + right rubber + void = block, to %+.4f %%", 100*p.Whole.Apart()/p.Whole.Block)
}

// reportMold prints what a build of one mold has made.
func (f *jobFile) reportMold(t *terminal, p *product, files []writtenFile) error {
	if t.json {
		return writeJSON(t, buildReport{reportSchema, f.path, p.folder, files, p.Proof, p.Plan})
	}
	f.sayPlan(t, p.Plan, p.MeasuredTo())
	sayProof(t, p.Proof)
	sayFindings(t, p.Plan.Findings)
	t.say("wrote %s", p.folder)
	for _, f := range files {
		t.say("  %s", fileLine(f))
	}
	t.say("next: print left.stl and right.stl, or frames.3mf; weigh and pour by pour-sheet.pdf; %s shows it in a browser", pageName)
	return nil
}

func fileLine(f writtenFile) string {
	return fmt.Sprintf("%-16s%8.1f kB", f.name, float64(f.Size)/1000)
}

// reportSchema is the number in the documents that --json prints. Within one
// number fields are only added. The plan in them has a number of its own.
const reportSchema = 1

// buildReport is what "build --json" prints.
type buildReport struct {
	Schema int            `json:"schema"` // reportSchema
	Job    string         `json:"job"`    // path as the user named it
	Folder string         `json:"folder"` // that the files are in
	Files  []writtenFile  `json:"files"`  // that were written
	Proof  moldbox.Proof  `json:"proof"`  // that the frames are what they should be
	Plan   *pourplan.Plan `json:"plan"`   // every figure
}
