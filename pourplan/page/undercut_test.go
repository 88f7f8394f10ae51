package page

import (
	"testing"

	"halfpour/pourplan"
)

// A map's values stand as squares about their points, y upwards, in the band of
// their depth; the right half's tray shows x the other way round.
func TestMarkUndercut(t *testing.T) {
	m := &pourplan.DepthMap{LeastMM: [2]float64{10, -4}, StepMM: 0.5, Rows: []string{"0 30", "130 29"}}
	heads := []pourplan.HeadPlan{{}, {Draw: &pourplan.DrawPlan{Left: pourplan.DrawnHalf{Map: m}, Right: pourplan.DrawnHalf{Map: m}}}}
	for _, c := range []struct {
		half          string
		view          pourplan.View
		shallow, deep string
	}{
		{"left", pourplan.Above, "M10.25 3.75h0.5v0.5h-0.5z", "M9.75 3.25h0.5v0.5h-0.5z"},
		{"right", pourplan.Above, "M-10.75 3.75h0.5v0.5h-0.5z", "M-10.25 3.25h0.5v0.5h-0.5z"},
		{"left", pourplan.Section, "", ""},
	} {
		var d svg
		markUndercut(&d, pourplan.Drawing{Half: c.half, View: c.view}, heads)
		var shallow, deep string
		for _, s := range d.Shapes {
			switch s.Kind {
			case "undercut-1":
				shallow = s.Path
			case "undercut-3":
				deep = s.Path
			default:
				t.Errorf("%s: a shape %q", c.half, s.Kind)
			}
		}
		if shallow != c.shallow || deep != c.deep || (d.Name == "") != (c.deep == "") {
			t.Errorf("%s, %s: %q and %q in %q, want %q and %q", c.half, c.view, shallow, deep, d.Name, c.shallow, c.deep)
		}
	}
	var d svg
	if markUndercut(&d, pourplan.Drawing{Half: "left", View: pourplan.Above}, heads[:1]); len(d.Shapes) > 0 || d.Name != "" {
		t.Errorf("without a map: %+v", d)
	}
}
