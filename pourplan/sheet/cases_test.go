package sheet

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/pourplan"
	"halfpour/pourplan/internal/plantest"
)

// This file holds the plans and drawings that the tests of the sheet lay out.

// sheetPlan is the plan of a job with volumes as of a mold of its size.
func sheetPlan(t testing.TB, text string) *pourplan.Plan {
	t.Helper()
	job, err := pourplan.ReadJob("job.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	n := len(job.Placed())
	half := moldbox.MeasuredHalf{
		Rubber: geom.Integral{Lo: 22790 * float64(n), Best: 22800 * float64(n), Hi: 22810 * float64(n)}, FillHeight: 14, RimHeight: 17, Floor: 3.6,
		Inside: geom.Vec{X: 24 * float64(n), Y: 61, Z: 14}, Outside: geom.Vec{X: 24*float64(n) + 14, Y: 66, Z: 20.6},
	}
	in := moldbox.Measured{Left: half, Right: half}
	in.Right.Rubber = geom.Integral{Lo: 20700 * float64(n), Best: 20710 * float64(n), Hi: 20720 * float64(n)}
	for i := range n {
		in.Cavities = append(in.Cavities, moldbox.MeasuredCavity{
			Name: fmt.Sprintf("cavity %d", i+1), Scale: 1, Shrink: 1.01, Head: 1000 + 10*float64(i), WireInHead: 15,
			Wires: wiresOf(job.Placed()[i]), Area: 480, Runner: 610, Funnel: 22,
		})
	}
	p, err := pourplan.NewPlan(job, in)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// wiresOf is a hook, and what a cavity's keepers may measure.
func wiresOf(c pourplan.CavityTable) []moldbox.PlacedWire {
	hook := moldbox.PlacedWire{Name: "hook", Keeper: -1, Diameter: 1, Volume: 42.3, InHead: 15, Length: 53.9}
	hook.Cut = []moldbox.Stretch{{Bend: 2 * math.Pi, Inside: 1.1}, {Straight: 6.1, Bend: math.Pi / 2, Inside: 1}, {Straight: 22.5}}
	list := []moldbox.PlacedWire{hook}
	for i, k := range c.Keeper {
		for range k.Count {
			list = append(list, moldbox.PlacedWire{Name: k.Name, Keeper: i, Diameter: float64(k.Wire), Volume: 8.4, InHead: 4, Length: 15.5,
				Cut: []moldbox.Stretch{{Straight: 9, Bend: -1, Inside: 0.8}, {Straight: 3, Bend: 2, Inside: 0.8}, {Straight: 2.4}}})
		}
	}
	return list
}

func drawingsOf(t testing.TB, m *moldbox.Mold) []pourplan.Drawing {
	t.Helper()
	ds, err := pourplan.RenderDrawings(context.Background(), m, pourplan.PlanFindings(m.Findings))
	if err != nil {
		t.Fatal(err)
	}
	return ds
}

// sheetCases are plans from the least to the fullest.
func sheetCases(t testing.TB) map[string]struct {
	plan     *pourplan.Plan
	drawings []pourplan.Drawing
} {
	type c = struct {
		plan     *pourplan.Plan
		drawings []pourplan.Drawing
	}
	const long = "a title as long as a job may have it, EIGHTY CHARACTERS, which no heading holds"
	one, five := drawingsOf(t, plantest.Mold(t, 1)), drawingsOf(t, plantest.Mold(t, 5))
	warned := sheetPlan(t, plantest.Job(5, ""))
	for i := range 6 {
		warned.Findings = append(warned.Findings, pourplan.PlanFinding{
			Severity: "warn", Cavity: "cavity 2", Message: "rubber over the eye is 3.2 mm, at least 8 mm wanted, which is " + strings.Repeat("so ", 20*i) + "thin",
			Remedy: "enlarge frame.over",
		})
	}
	stopped := sheetPlan(t, plantest.Job(5, "vacuum = true\n"+plantest.Rich))
	for i := range 5 {
		stopped.Findings = append(stopped.Findings, pourplan.PlanFinding{Severity: "stop", Cavity: "cavity 2", Code: fmt.Sprint(i),
			Message: "the gate or the throat over it runs into the bed of a wire, which leaves no rubber between them, and nothing to hold it in its place"})
	}
	return map[string]c{
		"stopped":  {stopped, five},
		"warned":   {warned, five},
		"one":      {sheetPlan(t, plantest.Job(1, "")), one},
		"five":     {sheetPlan(t, plantest.Job(5, "vacuum = true\n")), five},
		"platinum": {sheetPlan(t, strings.Replace(plantest.Job(5, "vacuum = true\n"), "tin-cure 100:3", "platinum 1:1", 1)), five},
		"coarse":   {sheetPlan(t, plantest.Job(1, "scale = 1\nwaste = 40\n")), nil},
		"title":    {sheetPlan(t, strings.Replace(plantest.Job(2, ""), "ball jig", long, 1)), one},
		"large":    {sheetPlan(t, plantest.Job(12, "")), enlarged(five, 3)},
		"keepers":  {sheetPlan(t, plantest.Job(2, "")+plantest.Keepers(2)), one},
		"wires":    {sheetPlan(t, plantest.Job(2, "")+plantest.Keepers(30)), one},
		"names":    {sheetPlan(t, foreignNames(plantest.Job(5, "")+plantest.Keepers(3))), five},
		"bare":     {&pourplan.Plan{}, nil},
		"rich":     {sheetPlan(t, plantest.Job(5, "vacuum = true\n"+plantest.Rich)), five},
		"slow":     {sheetPlan(t, plantest.Job(5, "vacuum = true\npot_life = \"15 min\"\n"+plantest.Rich)), five},
	}
}

// foreignNames gives a job long names in letters of several alphabets, some of
// which no font of the sheet has.
func foreignNames(job string) string {
	const letters = "Großer Zanderköpfe-Satz für Łódź: ñandú, façade, Ψάρι, Щука, Žralok, Ågerø, 魚, ½ oz"
	return strings.NewReplacer(
		`title = "ball jig"`, `title = "`+letters[:80]+`"`,
		"[hook]\n", "[hook]\nname = \""+letters+"\"\n",
		`name = "spike 1"`, `name = "`+letters+`"`,
		`preset = "tin-cure 100:3"`, "preset = \"tin-cure 100:3\"\nname = \""+letters+"\"",
	).Replace(job)
}

// enlarged are the drawings of a mold k times as large.
func enlarged(ds []pourplan.Drawing, k float64) []pourplan.Drawing {
	var out []pourplan.Drawing
	grow := func(p geom.Vec2) geom.Vec2 { return p.Mul(k) }
	for _, d := range ds {
		d.Low, d.High = grow(d.Low), grow(d.High)
		areas, dims, labels := d.Areas, d.Dimensions, d.Labels
		d.Areas, d.Dimensions, d.Labels = nil, nil, nil
		for _, a := range areas {
			d.Areas = append(d.Areas, pourplan.Area{Kind: a.Kind, Outline: a.Outline.Transform(grow)})
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
