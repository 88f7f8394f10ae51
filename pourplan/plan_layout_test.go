package pourplan

import (
	"math"
	"strings"
	"testing"

	"halfpour/moldbox"
)

func TestPlanLayout(t *testing.T) {
	r := Rubber{Density: 1.3, Waste: 0.05}
	for _, c := range []struct {
		in   moldbox.MeasuredLayout
		want string
	}{
		{moldbox.MeasuredLayout{Rows: 1}, "1 row"},
		{moldbox.MeasuredLayout{Rows: 2, Runner: 5.2, Down: 7}, "2 rows under a runner of 5.2 mm"},
		{moldbox.MeasuredLayout{Rows: 1, Search: &moldbox.Search{Plain: 2e5, Rubber: 2e5, Tried: 7}},
			"1 row: of 7 layouts tried, none takes less rubber than the job's own"},
		// 200 - 180 ml, 20 x 1.3 x 1.05 g.
		{moldbox.MeasuredLayout{Rows: 1, Search: &moldbox.Search{Plain: 2e5, Rubber: 1.8e5, Turned: -math.Pi / 6, Alternate: true}},
			"1 row, all turned by -30°, every second the other way up: 180 ml of rubber instead of 200 ml, saves 20.0 ml (0.68 US fl oz) or 27.3 g (0.963 oz)"},
	} {
		if got := planLayout(c.in, r).Text(); got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
	}
}

// Side cutters take 3 mm (common practice, no source); metal wants 1.5 times the
// finest diameter: 1.5·2·0.4 mm by hand.
func TestPlanGate(t *testing.T) {
	head := HeadPlan{Fill: &Filling{FillS: 0.2, GateFreezesS: 0.9, FinestRadiusMM: 0.4}}
	slow := HeadPlan{Fill: &Filling{FillS: 1.2, GateFreezesS: 0.9, FinestRadiusMM: 0.4}}
	for _, c := range []struct {
		what        string
		width, deep float64
		heads       []HeadPlan
		snip, fill  bool
		say         string
	}{
		{"usual", 3, 2.4, []HeadPlan{head}, true, true, "thin enough to snip (side cutters take 3 mm), thick enough to fill (metal needs 1.20 mm; full in 0.20 s, rough; shut after 0.90 s, rough"},
		{"thick", 4, 3.5, []HeadPlan{head}, false, true, "too thick to snip"},
		{"thin", 3, 1.1, []HeadPlan{head}, true, false, "may not fill"},
		{"slow", 3, 2.4, []HeadPlan{head, slow}, true, false, "may not fill (metal needs 1.20 mm; full in 1.20 s"},
		{"unknown metal", 3, 2.4, []HeadPlan{{}}, true, true, "(side cutters take 3 mm)"},
	} {
		g := planGate(SprueTable{GateWidth: c.width, GateThickness: c.deep}, c.heads)
		if g.Snips != c.snip || g.Fills != c.fill || !strings.Contains(g.Text(), c.say) {
			t.Errorf("%s: %+v\n%s", c.what, g, g.Text())
		}
	}
}

// What all heads share counts as runner, in the shot and in what comes back.
func TestSharedRunner(t *testing.T) {
	metal := Metal{Density: exactly(10), FillFactor: 1}
	heads := []HeadPlan{{MetalG: Range{Best: 5}, RunnerG: 1}, {MetalG: Range{Best: 5}, RunnerG: 1}}
	m := planMetal(CastingTable{Yield: 100}, metal, heads, 700)
	near(t, "shared runner", m.SharedRunnerG, 7, 1e-12)
	near(t, "runners", m.RunnerPerShotG, 9, 1e-12)
	near(t, "shot", m.ShotG, 19, 1e-12)
	near(t, "what comes back", m.ReturnsG, 9, 1e-12)
}
