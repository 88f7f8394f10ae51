package pourplan

import (
	"fmt"
	"halfpour/moldbox"
	"math"
	"strings"
	"testing"

	"halfpour/geom"
)

// This file holds the plans and drawings that the tests of the sheet lay out.

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
			Name: fmt.Sprintf("cavity %d", i+1), Scale: 1, Shrink: 1.01, Head: 1000 + 10*float64(i), WireInHead: 15,
			Wires: wiresOf(job.Placed()[i]), Area: 480, Runner: 610, Funnel: 22,
		})
	}
	p, err := NewPlan(job, in)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// wiresOf is a hook, and what a cavity's keepers may measure.
func wiresOf(c CavityTable) []MeasuredWire {
	hook := MeasuredWire{Name: "hook", Keeper: -1, Diameter: 1, Volume: 42.3, InHead: 15, Length: 53.9}
	hook.Bent = []moldbox.Stretch{{Bend: 2 * math.Pi, Inside: 1.1}, {Straight: 6.1, Bend: math.Pi / 2, Inside: 1}, {Straight: 22.5}}
	list := []MeasuredWire{hook}
	for i, k := range c.Keeper {
		for range k.Count {
			list = append(list, MeasuredWire{Name: k.Name, Keeper: i, Diameter: float64(k.Wire), Volume: 8.4, InHead: 4, Length: 15.5,
				Bent: []moldbox.Stretch{{Straight: 9, Bend: -1, Inside: 0.8}, {Straight: 3, Bend: 2, Inside: 0.8}, {Straight: 2.4}}})
		}
	}
	return list
}

// keeperTables are n kinds of keeper, three of each in a head.
func keeperTables(n int) string {
	text := ""
	for i := range n {
		text += fmt.Sprintf("[[keeper]]\nname = \"spike %d\"\nwire = 0.8\ncount = 3\nstep = [2, 0, 0]\npoints = [[0, 0, 0], [9, 0, 0]]\n", i+1)
	}
	return text
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
		"keepers":  {sheetPlan(t, sheetJob(2, "")+keeperTables(2)), one},
		"wires":    {sheetPlan(t, sheetJob(2, "")+keeperTables(30)), one},
		"names":    {sheetPlan(t, foreignNames(sheetJob(5, "")+keeperTables(3))), five},
		"bare":     {&Plan{}, nil},
		"rich":     {sheetPlan(t, sheetJob(5, "vacuum = true\n"+richTables)), five},
		"slow":     {sheetPlan(t, sheetJob(5, "vacuum = true\npot_life = \"15 min\"\n"+richTables)), five},
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

// richTables are all tables of shopping, clock and money, with many kits.
const richTables = `[casting]
heads = 200
pot = "4 kg"
[buying]
molds = 3
have = "120 g"
[[kit]]
name = "a can with a name that is longer than any label on a shelf"
mass = "700 g"
price = 37.5
[[kit]]
a = "250 g"
price = 15
[[kit]]
mass = "1 kg"
price = 45
[evening]
start = "2026-11-27 21:30"
room = 18
cup = "600 ml"
post_cure = "4 h"
post_cure_at = "60 C"
[plastic]
name = "PLA"
[cost]
currency = "shell coins"
metal = 6.5
hook = 0.25
plastic = 22
other = 1.5
shop = 2.2
`

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
