package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"halfpour/pourplan"
)

// sayPlan prints the figures that matter before going to the bench.
func (w *work) sayPlan(t *terminal, p *pourplan.Plan) {
	title := p.Title
	if title == "" {
		title = w.name()
	}
	t.say("%s: %s", paint(t.outColour, bold, title), cavityCount(len(p.Heads)))
	groups := groupHeads(p.Heads)
	for _, g := range groups {
		h := g.head
		if len(groups) == 1 && len(p.Heads) > 1 {
			g.names = "each"
		}
		t.say("  %-8s%s: %s finished (%.2f to %.2f g), drawn size x %.3f", "head", g.names, pourplan.FormatMass(h.FinishedG.Best),
			h.FinishedG.Low, h.FinishedG.High, h.Scale)
	}
	for i, h := range p.Rubber.Halves {
		f := p.Frames[i]
		t.say("  %-8sA %s g  B %s g  mixed to %.0f ml (%.2f US fl oz); frame %.1f x %.1f x %.1f mm", h.Half,
			paint(t.outColour, bold, grams(h.AG, p.Rubber.ScaleStepG)), paint(t.outColour, bold, grams(h.BG, p.Rubber.ScaleStepG)),
			h.LineMixML, h.LineMixFlOz, f.OutsideMM[0], f.OutsideMM[1], f.OutsideMM[2])
	}
	t.say("  %-8s%s at %s; pot life %s, demold %s, rest %s", "rubber", p.Rubber.Name, p.Rubber.Ratio,
		pourplan.FormatDuration(p.Times.PotLifeS), pourplan.FormatDuration(p.Times.DemoldS), pourplan.FormatDuration(p.Times.RestS))
	t.say("  %-8s%s: %s a shot, %.0f g to melt for %d; pour at %s: %s", "metal", p.Metal.Name, pourplan.FormatMass(p.Metal.ShotG),
		p.Metal.MeltG, p.Metal.Shots, pourplan.FormatTemperature(p.Casting.PourC), p.Casting.Verdict)
	if tables := typicalTables(p.Typical); len(tables) > 0 {
		t.say("  %-8s%d figures of [%s] are typical ones; set what your data sheets say", "note", len(p.Typical), strings.Join(tables, "] and ["))
	}
}

// typicalTables are the job's tables that the keys are of.
func typicalTables(keys []string) []string {
	var tables []string
	for _, key := range keys {
		table, _, _ := strings.Cut(key, ".")
		if !slices.Contains(tables, table) {
			tables = append(tables, table)
		}
	}
	return tables
}

func cavityCount(n int) string {
	if n == 1 {
		return "1 cavity"
	}
	return fmt.Sprintf("%d cavities", n)
}

// grams shows a mass as the scale will.
func grams(g, step float64) string {
	digits := int(math.Max(0, math.Ceil(-math.Log10(step)-1e-9)))
	return fmt.Sprintf("%.*f", digits, g)
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
func (p *proof) say(t *terminal) {
	for _, h := range []struct {
		name string
		half halfProof
	}{{"left", p.Left}, {"right", p.Right}} {
		t.say("  %-8s%s frame: %d triangles, closed, none crossing; volume %.1f mm³, %+.4f %% off its solid; %d head points within %.4f mm",
			"proof", h.name, h.half.Triangles, h.half.MeshVolume, h.half.offPercent(), h.half.HeadPoints, h.half.HeadDeviation)
	}
	t.say("  %-8sleft rubber + right rubber + void = block, to %+.4f %%", "proof", 100*p.Whole.apart()/p.Whole.Block)
}

// report prints what a build has made.
func (p *product) report(t *terminal, files []writtenFile) error {
	if t.json {
		return writeJSON(t, buildReport{reportSchema, p.path, p.folder, files, p.proof, p.plan})
	}
	p.sayPlan(t, p.plan)
	p.proof.say(t)
	sayFindings(t, p.findings)
	t.say("wrote %s", p.folder)
	for _, f := range files {
		t.say("  %s", fileLine(f))
	}
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
	Files  []writtenFile  `json:"files"`
	Proof  proof          `json:"proof"`
	Plan   *pourplan.Plan `json:"plan"`
}
