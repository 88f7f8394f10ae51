package page

import (
	"encoding/json"
	"html"
	"strings"
	"testing"

	"halfpour/pourplan"
)

// A finding of several cavities stands in the list once, with the worst value,
// and each of its places leads to it. Stops stand over all else.
func TestFindingsOfSeveralCavities(t *testing.T) {
	plan := *built(t).plan
	at := func(x float64) *[3]float64 { return &[3]float64{x, 2, 3} }
	plan.Findings = []pourplan.PlanFinding{
		{Severity: "warn", Code: "air-trapped", Mark: "a", Cavity: "cavity 1", Message: "air stays", Value: 2, Limit: 0.5, Unit: "mm³", AtMM: at(1)},
		{Severity: "warn", Code: "air-trapped", Mark: "a", Cavity: "cavity 2", Message: "air stays", Value: 4.5, Limit: 0.5, Unit: "mm³", AtMM: at(2)},
		{Severity: "stop", Code: "wires-cross", Mark: "b", Cavity: "cavity 2", Message: "wires cross", AtMM: at(3)},
	}
	text := html.UnescapeString(write(t, Content{Plan: &plan}))
	for _, want := range []string{"cavity 1, 2: air stays (4.5 mm³, limit 0.5 mm³)", "<li>cavity 2: wires cross</li>", "Stop: do not pour this mold"} {
		if strings.Count(text, want) != 1 {
			t.Errorf("%d times %q", strings.Count(text, want), want)
		}
	}
	if strings.Index(text, "Stop: do not pour") > strings.Index(text, `id="pour-title"`) {
		t.Error("the stop stands under the figures")
	}
	data, err := spots(&plan)
	if err != nil {
		t.Fatal(err)
	}
	var list []spot
	if err := json.Unmarshal([]byte(data), &list); err != nil || len(list) != 3 {
		t.Fatalf("%d places, %v", len(list), err)
	}
	// Group 0 is the stop, which comes first.
	if list[0].Index != 0 || list[1].Index != 1 || list[2].Index != 1 || list[1].At == list[2].At {
		t.Errorf("places: %+v", list)
	}
	if strings.Contains(write(t, Content{Plan: built(t).plan}), "do not pour") {
		t.Error("a sound mold is not to be poured")
	}
}
