package pourplan

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"halfpour/pourplan/internal/plantest"
)

// pricedFives is a plan of five heads a shot with a price for everything.
func pricedFives(t *testing.T) *Plan {
	t.Helper()
	return plan(t, read(t, swap("cavities = 3", "cavities = 5")(shortJob)+plantest.Priced), measuredBalls(5))
}

// A life of 20 to 25 pours of five heads is 100 to 125 heads (common practice,
// no source), less what has been poured.
func TestLifeUsed(t *testing.T) {
	p := pricedFives(t)
	p.Metal.YieldPercent = 100
	for _, c := range []struct {
		total     MoldTotal
		low, high int // shots left
		heads     [2]int
	}{
		{MoldTotal{}, 20, 25, [2]int{100, 125}},
		{MoldTotal{Shots: 12, Good: 54, Bad: 6}, 8, 13, [2]int{36, 58}}, // 4.5 good ones a shot
		{MoldTotal{Shots: 22, Good: 110}, 0, 3, [2]int{0, 15}},
		{MoldTotal{Shots: 30, Good: 100, Bad: 50}, 0, 0, [2]int{0, 0}},
	} {
		l := lifeUsed(p, c.total)
		if l.LeftLowShots != c.low || l.LeftHighShots != c.high || l.LeftLowHeads != c.heads[0] || l.LeftHighHeads != c.heads[1] || !l.Usual {
			t.Errorf("%+v: got %+v", c.total, l)
		}
	}
}

func TestSummary(t *testing.T) {
	p := pricedFives(t)
	best := p.Heads[0].FinishedG.Best
	w, err := p.Weigh("", []float64{best - 0.1, best, best + 0.1, best + 0.4})
	if err != nil {
		t.Fatal(err)
	}
	a := &Account{Castings: []Casting{
		{Date: "2026-01-01", Mold: 2, Shots: 4, Good: 19, Bad: 1, Weighing: w},
		{Date: "2026-01-02", Mold: 1, Shots: 24, Good: 100, Bad: 20},
		{Date: "2026-01-03", Mold: 2, Shots: 1, Good: 5},
	}}
	s := a.Summarise(p, 2)
	if s.Castings != 2 || s.Life.Shots != 5 || a.LastMold() != 2 {
		t.Errorf("got %+v", s)
	}
	if want := []MoldTotal{{1, 24, 100, 20}, {2, 5, 24, 1}}; !reflect.DeepEqual(s.Molds, want) {
		t.Errorf("molds %+v", s.Molds)
	}
	low, high := Wilson(24, 25)
	near(t, "yield", s.Yield.Percent, 96, 1e-12)
	near(t, "yield low", s.Yield.LowPercent, 100*low, 1e-12)
	near(t, "yield high", s.Yield.HighPercent, 100*high, 1e-12)
	h := s.Weighed[0]
	near(t, "mean", h.MeanG, best+0.1, 1e-5)
	near(t, "spread", h.SpreadG, math.Sqrt((0.04+0.01+0+0.09)/3), 1e-3)
	near(t, "error", h.ErrorG, h.SpreadG/2, 1e-12)
	near(t, "off", h.OffPercent, 100*0.1/best, 1e-3)
	if h.Weights != 4 || s.Fill == nil || s.Fill.Weights != 4 || h.LowestG >= h.HighestG {
		t.Errorf("got %+v, %+v", h, s.Fill)
	}
	want := 0
	for _, g := range w.Weights {
		if g >= w.Expected.Low && g <= w.Expected.High {
			want++
		}
	}
	if h.Within != want {
		t.Errorf("%d within, want %d", h.Within, want)
	}
	// The mold is not in the account: nothing is known of it but its life.
	if s := a.Summarise(p, 3); s.Castings != 0 || s.Yield != nil || s.Cost != nil || len(s.Weighed) != 0 || s.Life.Shots != 0 {
		t.Errorf("got %+v", s)
	}
}

// The cost of what was cast, added up from the job's prices.
func TestCostSoFarByHand(t *testing.T) {
	p := pricedFives(t)
	c := costSoFar(p, MoldTotal{Mold: 1, Shots: 12, Good: 54, Bad: 6})
	if c == nil {
		t.Fatal("no cost")
	}
	heads := p.Metal.HeadsPerShotG / 5 * 54 / 1000 * 5
	dross := 12 * p.Metal.ShotG * (1/0.96 - 1) / 1000 * 5
	spent := p.Cost.MoldMoney + 60*0.20 + heads + dross
	near(t, "spent", c.SpentMoney, spent, 1e-9)
	near(t, "a head", c.HeadMoney, spent/54, 1e-9)
	near(t, "saved", c.SavedMoney, 54*1.5-spent, 1e-9)
	if costSoFar(p, MoldTotal{Shots: 3, Bad: 15}) != nil {
		t.Error("a cost of no good head")
	}
	bare := plan(t, read(t, strings.Replace(shortJob, "cavities = 3", "cavities = 5", 1)), measuredBalls(5))
	if costSoFar(bare, MoldTotal{Shots: 3, Good: 15}) != nil {
		t.Error("a cost without prices")
	}
}
