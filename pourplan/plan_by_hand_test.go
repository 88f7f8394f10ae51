package pourplan

import (
	"encoding/json"
	"fmt"
	"math"
	"sort"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
)

// This file computes every figure of one plan a second time, as in a
// spreadsheet: from the figures of a job and of a measured mold, by arithmetic
// written out here and with constants typed in here, none of them the
// program's. A figure of plan.json that has no cell here fails the test.

// handJob uses every table that figures come from.
const handJob = `title = "by hand"
cavities = 2

[head]
file = "ball.stl"
eye = [0, 9.5, 0]

[hook]
name = "demo hook"
wire = 1
eye_inside = 2
leg = 8
shank = 24
gape = 9
point = 6

[[keeper]]
name = "spike"
wire = 0.8
points = [[10, 0, 0], [20, 0, 0]]
mass = 0.05

[weight]
target = "3/8 oz"

[metal]
composition = { lead = 96, antimony = 4 }
density_range = ["11 g/cm3", "11.1 g/cm3"]
shrink = "0.8 %"
shrink_range = ["0.7 %", "1 %"]
fill_factor = 0.98
fill_range = [0.97, 0.99]
liquidus = 300

[casting]
superheat = 40
mold = 60
dross = 4
heel = 200
pot = "3 kg"
heads = 100
yield = 90
life = [20, 25]

[rubber]
name = "demo rubber"
cure = "tin"
ratio = "100:3"
density_a = 1.36
density_b = 1.02
shrink = "0.4 %"
shrink_range = ["0.2 %", "0.6 %"]
pot_life = "40 min"
demold = "20 h"
rest = "4 d"
heat_continuous = 250
heat_short = 320
waste = 5
residue = 10
brush = 0.5
scale = 0.1
vacuum = true

[sprue]
gate_width = 3
gate_thickness = 2

[buying]
molds = 3
have = 100
shelf_life = "9 months"

[[kit]]
name = "can"
mass = "1 kg"
price = 45

[[kit]]
a = "250 g"
price = 14.5

[evening]
start = "2026-11-27 18:30"
room = 13
mix = "5 min"
deair = "6 min"
pour = "9 min"
cup = "700 ml"
post_cure = "2 h"
post_cure_at = 45

[plastic]
name = "demo plastic"
softens = 70
density = 1.25
solid = 80

[cost]
currency = "coins"
metal = 8
hook = 0.3
keeper = 0.09
plastic = 20
other = 1.5
shop = 1.9
`

// handMeasured is a mold with round numbers.
func handMeasured() Measured {
	cavity := func(name string, head, area, runner, funnel float64) MeasuredCavity {
		return MeasuredCavity{Name: name, Scale: 1.02, Shrink: 1.01, Head: head, WireInHead: 14, Area: area, Runner: runner, Funnel: funnel,
			Wires: []MeasuredWire{
				{Name: "demo hook", Keeper: -1, Diameter: 1, Volume: 50, InHead: 12, Length: 63,
					Bent: []moldbox.Stretch{{Straight: 20, Bend: math.Pi / 2, Inside: 2}, {Straight: 38}}},
				{Name: "spike", Keeper: 0, Diameter: 0.8, Volume: 5, InHead: 2, Length: 10, Bent: []moldbox.Stretch{{Straight: 10}}},
			}}
	}
	at := geom.Vec{X: 1, Y: 2, Z: 3}
	return Measured{
		Left: MeasuredHalf{Rubber: Span{99900, 100000, 100200}, FillHeight: 14, RimHeight: 17, Floor: 2.4,
			Inside: geom.Vec{X: 80, Y: 70, Z: 14}, Outside: geom.Vec{X: 86, Y: 76, Z: 19.4},
			Mesh: &MeasuredMesh{Volume: 30009, Solid: Span{29990, 30000, 30010}, Triangles: 5000}},
		Right: MeasuredHalf{Rubber: Span{89900, 90000, 90100}, FillHeight: 15, RimHeight: 18, Floor: 2.6,
			Inside: geom.Vec{X: 80, Y: 70, Z: 15}, Outside: geom.Vec{X: 86, Y: 76, Z: 20.6},
			Mesh: &MeasuredMesh{Volume: 31969, Solid: Span{31990, 32000, 32010}, Triangles: 6000}},
		Layout: MeasuredLayout{Rows: 2, Runner: 5, Down: 6,
			Search: &moldbox.Search{Turned: math.Pi / 2, Alternate: true, Tried: 12, Plain: 200000, Rubber: 190000}},
		Cavities: []MeasuredCavity{cavity("large", 980, 480, 700, 20), cavity("small", 680, 380, 600, 22)},
		Findings: []moldbox.Finding{{Severity: moldbox.Warn, Code: "thin", At: &at, HeadAt: &at, Message: "thin rubber", Value: 2, Limit: 3, Unit: "mm"}},
	}
}

func TestPlanByHand(t *testing.T) {
	p := plan(t, read(t, handJob), handMeasured())
	data, err := p.JSON()
	if err != nil {
		t.Fatal(err)
	}
	var tree any
	if err := json.Unmarshal(data, &tree); err != nil {
		t.Fatal(err)
	}
	got := map[string]any{}
	flattenJSON("", tree, got)
	hand := handCells()
	var paths []string
	for path := range got {
		paths = append(paths, path)
	}
	sort.Strings(paths)
	figures := 0
	for _, path := range paths {
		want, ok := hand[path]
		switch v := got[path].(type) {
		case float64:
			figures++
			if w, number := want.(float64); !ok || !number {
				t.Errorf("plan.json has %s = %v, which nobody has computed by hand: add a cell", path, v)
			} else if math.Abs(v-w) > 1e-9*math.Max(1, math.Abs(w)) {
				t.Errorf("%s: the plan has %.12g, by hand it is %.12g", path, v, w)
			}
		case string:
			if !ok && strings.ContainsAny(v, "0123456789") && !strings.HasSuffix(path, ".text") {
				t.Errorf("plan.json has %s = %q, which nobody has written by hand: add a cell", path, v)
			} else if ok && want != v {
				t.Errorf("%s: the plan has %q, by hand it is %v", path, v, want)
			}
		default:
			if ok && want != v {
				t.Errorf("%s: the plan has %v, by hand it is %v", path, v, want)
			}
		}
		delete(hand, path)
	}
	for path, want := range hand {
		t.Errorf("%s is %v by hand, and not in plan.json", path, want)
	}
	if figures < 300 {
		t.Errorf("looked at %d figures only", figures)
	}
}

// flattenJSON puts each leaf of a document at its path, such as
// "rubber.halves[0].a_g".
func flattenJSON(path string, v any, into map[string]any) {
	switch v := v.(type) {
	case map[string]any:
		for key, child := range v {
			flattenJSON(strings.TrimPrefix(path+"."+key, "."), child, into)
		}
	case []any:
		for i, child := range v {
			flattenJSON(fmt.Sprintf("%s[%d]", path, i), child, into)
		}
	default:
		into[path] = v
	}
}
