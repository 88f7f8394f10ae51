package pourplan

import (
	"reflect"
	"strings"
	"testing"
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
