package pourplan

import (
	"reflect"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
)

func TestFindingGroupNamesCavities(t *testing.T) {
	for names, want := range map[string]string{
		"": "", "cavity 1": "cavity 1", "cavity 1|cavity 2": "cavity 1, 2", "cavity 2|cavity 3|cavity 4": "cavity 2 to 4",
		"cavity 1|cavity 3|cavity 5": "cavity 1, 3, 5", "small|cavity 2": "small, cavity 2",
	} {
		var g FindingGroup
		if names != "" {
			g.Cavities = strings.Split(names, "|")
		}
		if got := g.Where(); got != want {
			t.Errorf("%q: got %q, want %q", names, got, want)
		}
	}
}

// Findings that differ in cavity, place and value alone are one group with the
// worst value; another remedy, code or severity makes another group.
func TestGroupFindings(t *testing.T) {
	thin := func(cavity string, value float64, x float64) PlanFinding {
		return PlanFinding{Severity: "warn", Code: "thin", Cavity: cavity, Message: "thin", Remedy: "thicken", Value: value, Limit: 3, HeadAtMM: &[3]float64{x, 0, 0}}
	}
	fs := []PlanFinding{
		{Severity: "note", Code: "typical", Message: "typical"},
		thin("cavity 1", 2.5, 0), thin("cavity 2", 1.5, 0.05), thin("cavity 3", 2.9, 0),
		{Severity: "stop", Code: "cross", Cavity: "cavity 2", Message: "crossing"},
		{Severity: "warn", Code: "air", Cavity: "cavity 1", Message: "air", Value: 1, Limit: 0.5, HeadAtMM: &[3]float64{1, 0, 0}},
		{Severity: "warn", Code: "air", Cavity: "cavity 3", Message: "air", Value: 4, Limit: 0.5, HeadAtMM: &[3]float64{9, 0, 0}},
		{Severity: "warn", Code: "air", Cavity: "cavity 2", Message: "air", Remedy: "turn it"},
		{Severity: "note", Code: "typical", Message: "typical"},
	}
	type row struct {
		code, where, place string
		value              float64
		members            []int
	}
	var got []row
	for _, g := range GroupFindings(fs) {
		got = append(got, row{g.Code, g.Where(), g.Place(), g.Value, g.Members})
	}
	want := []row{
		{"cross", "cavity 2", "", 0, []int{4}},
		{"thin", "cavity 1 to 3", "(0.0, 0.0, 0.0)", 1.5, []int{1, 2, 3}},
		{"air", "cavity 1, 3", "", 4, []int{5, 6}},
		{"air", "cavity 2", "", 0, []int{7}},
		{"typical", "", "", 0, []int{0}},
		{"typical", "", "", 0, []int{8}},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got\n%v, want\n%v", got, want)
	}
	if stops := (&Plan{Findings: fs}).Stops(); len(stops) != 1 || stops[0].Code != "cross" {
		t.Errorf("stops: %v", stops)
	}
}

// Cavities that have a finding within 0.1 mm of the same place of the head share
// it; the worst value is the one farthest from the limit, on either side of it.
func TestFindingGroupBounds(t *testing.T) {
	at := func(cavity string, x, y, z, value, limit float64) PlanFinding {
		return PlanFinding{Severity: "warn", Code: "c", Cavity: cavity, Value: value, Limit: limit, HeadAtMM: &[3]float64{x, y, z}}
	}
	for _, c := range []struct {
		name         string
		first, other PlanFinding
		place        string
		value        float64
	}{
		{"near along x", at("a", 1, 2, 3, 1, 5), at("b", 1.099, 2, 3, 2, 5), "(1.0, 2.0, 3.0)", 1},
		{"far along x", at("a", 1, 2, 3, 1, 5), at("b", 1.101, 2, 3, 2, 5), "", 1},
		{"far along y", at("a", 1, 2, 3, 9, 5), at("b", 1, 2.101, 3, 10, 5), "", 10},
		{"far along z", at("a", 1, 2, 3, 9, 5), at("b", 1, 2, 3.101, 2, 5), "", 9},
		{"all a little", at("a", 1, 2, 3, 2, 5), at("b", 1.06, 2.06, 3.06, 9, 5), "", 9}, // 0.06·√3 = 0.104
		{"of another limit", at("a", 1, 2, 3, 2, 5), at("b", 1, 2, 3, 9, 6), "(1.0, 2.0, 3.0)", 2},
		{"no place", at("a", -0.04, 0, 0, 2, 5), PlanFinding{Severity: "warn", Code: "c", Cavity: "b", Limit: 5, Value: 5}, "", 2},
	} {
		groups := GroupFindings([]PlanFinding{c.first, c.other})
		if len(groups) != 1 || groups[0].Place() != c.place || groups[0].Value != c.value || groups[0].Where() != "a, b" {
			t.Errorf("%s: %+v at %q", c.name, groups, groups[0].Place())
		}
	}
	alone := GroupFindings([]PlanFinding{at("a", -0.04, 1.25, -2.36, 0, 0)})
	if got := alone[0].Place(); got != "(0.0, 1.3, -2.4)" {
		t.Errorf("to a tenth of a millimetre: %q", got)
	}
	// The same cavity twice is named once; what differs in one word is apart.
	twice := GroupFindings([]PlanFinding{at("a", 1, 2, 3, 1, 5), at("a", 1, 2, 3, 2, 5)})
	if len(twice) != 1 || twice[0].Where() != "a" || len(twice[0].Members) != 2 {
		t.Errorf("%+v", twice)
	}
	for i, change := range []func(*PlanFinding){
		func(f *PlanFinding) { f.Severity = "stop" }, func(f *PlanFinding) { f.Code = "d" }, func(f *PlanFinding) { f.Message = "m" },
		func(f *PlanFinding) { f.Remedy = "r" }, func(f *PlanFinding) { f.Cavity = "" },
	} {
		other := at("b", 1, 2, 3, 1, 5)
		change(&other)
		if groups := GroupFindings([]PlanFinding{at("a", 1, 2, 3, 1, 5), other}); len(groups) != 2 {
			t.Errorf("change %d: %+v", i, groups)
		}
	}
}

// A plan's findings have all figures of the checks' own.
func TestPlanFindings(t *testing.T) {
	fs := []moldbox.Finding{
		{Severity: moldbox.Stop, Code: "thin", Cavity: "one", Message: "m", Remedy: "r", Value: 2, Limit: 3, Unit: "mm", At: &geom.Vec{X: 1, Y: 2, Z: 3}, HeadAt: &geom.Vec{X: 4, Y: 5, Z: 6}},
		{Severity: moldbox.Note, Code: "n", Message: "n"},
	}
	want := []PlanFinding{
		{Severity: "stop", Code: "thin", Mark: "a", Cavity: "one", Message: "m", Remedy: "r", Value: 2, Limit: 3, Unit: "mm", AtMM: &[3]float64{1, 2, 3}, HeadAtMM: &[3]float64{4, 5, 6}},
		{Severity: "note", Code: "n", Message: "n"},
	}
	if got := PlanFindings(fs); !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v, want %+v", got, want)
	}
}

// By hand: √(2² + 3² + 6²) = 7, whichever way round.
func TestDistance(t *testing.T) {
	for _, d := range [][3]float64{{2, 3, 6}, {-2, 3, -6}, {6, -2, 3}} {
		p := [3]float64{10, 20, 30}
		if got := distance(p, [3]float64{10 + d[0], 20 + d[1], 30 + d[2]}); got != 7 {
			t.Errorf("%v: %g", d, got)
		}
	}
}

// A plan has what its own figures say among its findings, and the drawings show the
// letter of each that has a place: of a void that a shot tells as of thin rubber.
func TestPlanHasEveryFinding(t *testing.T) {
	p := plan(t, read(t, shortJob+"[evening]\nmix = \"30 min\"\n[sprue]\ngate_thickness = 3.2\ngate_width = 5\n"), measuredBalls(3))
	said := map[string]bool{}
	for _, g := range GroupFindings(p.Findings) {
		said[g.Code] = true
	}
	for _, code := range []string{"typical-figures", "too-slow", "gate-neck"} {
		if !said[code] {
			t.Errorf("the plan does not say %s: %v", code, said)
		}
	}
	for _, g := range p.AtBench() {
		if g.Code == "too-slow" || g.Code == "typical-figures" {
			t.Errorf("the sheet says %s twice", g.Code)
		}
		delete(said, g.Code)
	}
	if said["gate-neck"] {
		t.Errorf("not for the bench: %v", said)
	}
	void := PlanFindings([]moldbox.Finding{{Severity: moldbox.Warn, Code: voidCode, At: &geom.Vec{Z: 1}}})
	if marks := FindingMarks(void, moldbox.Half{Name: "left"}); len(marks) != 1 || marks[0].Letter != "a" {
		t.Errorf("a void has the marks %v", marks)
	}
}

// Stops are at the bench whatever their code is, and findings that nobody has placed.
func TestStopsAreAtTheBench(t *testing.T) {
	p := &Plan{Findings: []PlanFinding{{Severity: "note", Code: "turn-chosen"}, {Severity: "stop", Code: "head-file"}, {Severity: "warn", Code: "too-slow"}, {Severity: "warn", Code: "brand-new"}, {Severity: "note", Code: "rubber-hot"}}}
	got := ""
	for _, g := range p.AtBench() {
		got += g.Code + " "
	}
	if got != "head-file brand-new rubber-hot " {
		t.Errorf("at the bench: %s", got)
	}
}
