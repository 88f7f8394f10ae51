package pourplan

import (
	"math"
	"testing"

	"halfpour/geom"
)

func figureNamed(t *testing.T, list []Difference, group, what string) Difference {
	t.Helper()
	for _, d := range list {
		if d.Group == group && d.What == what {
			return d
		}
	}
	t.Fatalf("no %s, %s in %+v", group, what, list)
	return Difference{}
}

func TestComparePlanWithItself(t *testing.T) {
	p := pricedFives(t)
	list := Compare(p, p)
	if len(list) < 20 {
		t.Errorf("only %d figures", len(list))
	}
	for _, d := range list {
		if !d.Same() || d.Change == nil || *d.Change != 0 {
			t.Errorf("%+v", d)
		}
	}
}

// A larger sprue: 3 ml more rubber in each half and 500 mm³ more metal in each
// runner, and what follows from them by hand.
func TestCompareALargerSprue(t *testing.T) {
	job := read(t, shortJob)
	small, large := measuredBalls(3), measuredBalls(3)
	large.Left.Rubber = geom.Integral{Lo: 122900, Best: 123000, Hi: 123100}
	large.Right.Rubber = large.Left.Rubber
	for i := range large.Cavities {
		large.Cavities[i].Runner += 500
	}
	old, now := plan(t, job, small), plan(t, job, large)
	list := Compare(old, now)
	density := old.Metal.DensityGCM3.Best
	for _, c := range []struct {
		group, what string
		change      float64
	}{
		{"rubber", "volume, both halves", 6},
		{"each half", "volume", 3},
		{"each half", "part A", now.Rubber.Halves[0].AG - old.Rubber.Halves[0].AG},
		{"each head", "its sprue, gate, vents", 0.5 * density},
		{"metal", "sprues, gates, vents", 1.5 * density},
		{"metal", "a shot", 1.5 * density},
		{"metal", "heads in a shot", 0},
		{"each head", "finished", 0},
	} {
		d := figureNamed(t, list, c.group, c.what)
		if math.Abs(*d.Change-c.change) > 1e-9 || d.Same() != (c.change == 0) {
			t.Errorf("%s, %s: %+v, want a change of %g", c.group, c.what, d, c.change)
		}
	}
	old1, new1, change, percent := figureNamed(t, list, "each half", "volume").Row()
	if old1 != "120.0 ml" || new1 != "123.0 ml" || change != "+3.0 ml" || percent != "+2.5 %" {
		t.Errorf("row %s, %s, %s, %s", old1, new1, change, percent)
	}
}

// Figures that only one plan has, halves and heads that differ.
func TestCompareWhatIsNotInBoth(t *testing.T) {
	old, now := plan(t, read(t, shortJob), measuredBalls(3)), pricedFives(t)
	now.Rubber.Halves[1].AG++
	now.Heads[4].Scale = 1.5
	list := Compare(old, now)
	cost := figureNamed(t, list, "cost", "a mold")
	if _, _, change, _ := cost.Row(); cost.Old != nil || change != "none before" || cost.Same() {
		t.Errorf("%+v: %s", cost, change)
	}
	back := figureNamed(t, Compare(now, old), "cost", "a mold")
	if _, _, change, _ := back.Row(); change != "none now" {
		t.Errorf("%+v: %s", back, change)
	}
	figureNamed(t, list, "left half", "part A")
	figureNamed(t, list, "right half", "part A")
	if d := figureNamed(t, list, "heads", "cavities"); *d.Change != 2 {
		t.Errorf("%+v", d)
	}
	n := 0
	for _, d := range list {
		if d.What == "finished" {
			n++
		}
	}
	if n != 5 {
		t.Errorf("%d heads", n)
	}
}

// The change of a row is that between the figures shown.
func TestRowAddsUp(t *testing.T) {
	a, b := 74.249, 94.051
	c := b - a
	d := Difference{Unit: "ml", Decimals: 1, Old: &a, New: &b, Change: &c}
	if old, now, change, _ := d.Row(); old != "74.2 ml" || now != "94.1 ml" || change != "+19.9 ml" {
		t.Errorf("%s, %s, %s", old, now, change)
	}
}

// Every figure of a comparison, with its unit and the decimals worth showing:
// the k-th figure of the old plan is k, that of the new one 100 + k.
func TestCompareShowsEveryFigure(t *testing.T) {
	made := func(from float64) *Plan {
		next := func() float64 { from++; return from }
		p := &Plan{Heads: []HeadPlan{{Name: "ball"}}, Cost: &CostPlan{}, Frames: []FramePlan{{Half: "left"}},
			Rubber: RubberPlan{Halves: []HalfPlan{{Half: "left"}}}}
		r, h, m, c, d, k := &p.Rubber, &p.Rubber.Halves[0], &p.Metal, &p.Casting, &p.Heads[0], p.Cost
		for _, x := range []*float64{&r.TotalML, &r.TotalG, &r.TotalAG, &r.TotalBG, &h.VolumeML.Best, &h.AG, &h.BG, &h.CupML, &h.FillFromFloorMM,
			&p.Frames[0].OutsideMM[0], &p.Frames[0].OutsideMM[1], &p.Frames[0].OutsideMM[2],
			&d.FinishedG.Best, &d.MetalG.Best, &d.SteelG, &d.Scale, &d.RunnerG,
			&m.FillFactor, &m.HeadsPerShotG, &m.RunnerPerShotG, &m.ShotG} {
			*x = next()
		}
		m.Shots, m.MoldsHigh = int(next()), int(next())
		for _, x := range []*float64{&m.MeltG, &c.PourC, &c.ContactC, &c.OpenAfterS, &k.RubberMoney, &k.MoldMoney, &k.RunningMoney, &k.HeadMoney.Best} {
			*x = next()
		}
		return p
	}
	old, now := made(0), made(100)
	old.Cost.Currency, now.Cost.Currency = "shells", "coins"
	got := Compare(old, now)
	want := []struct {
		group, what, unit string
		decimals          int
		old               float64
	}{
		{"rubber", "volume, both halves", "ml", 1, 1}, {"rubber", "to mix", "g", 1, 2}, {"rubber", "part A", "g", 1, 3}, {"rubber", "part B", "g", 2, 4},
		{"left half", "volume", "ml", 1, 5}, {"left half", "part A", "g", 1, 6}, {"left half", "part B", "g", 2, 7},
		{"left half", "cup, at least", "ml", 0, 8}, {"left half", "fill over the floor", "mm", 1, 9},
		{"left half", "frame across", "mm", 1, 10}, {"left half", "frame up", "mm", 1, 11}, {"left half", "frame high", "mm", 1, 12},
		{"heads", "cavities", "", 0, 1},
		{"each head", "finished", "g", 2, 13}, {"each head", "metal", "g", 2, 14}, {"each head", "steel", "g", 2, 15},
		{"each head", "drawn size x", "", 3, 16}, {"each head", "its sprue, gate, vents", "g", 2, 17},
		{"metal", "fill factor", "", 3, 18}, {"metal", "heads in a shot", "g", 2, 19}, {"metal", "sprues, gates, vents", "g", 2, 20},
		{"metal", "a shot", "g", 2, 21}, {"metal", "shots", "", 0, 22}, {"metal", "molds, at most", "", 0, 23}, {"metal", "to melt", "g", 0, 24},
		{"casting", "pour", "°C", 0, 25}, {"casting", "metal meets rubber", "°C", 0, 26}, {"casting", "open after", "s", 0, 27},
		{"cost", "rubber for a mold", "coins", 2, 28}, {"cost", "a mold", "coins", 2, 29}, {"cost", "one more head", "coins", 2, 30},
		{"cost", "a head over the mold's life", "coins", 2, 31},
	}
	if len(got) != len(want) {
		t.Fatalf("%d figures, want %d", len(got), len(want))
	}
	for i, w := range want {
		d, change := got[i], 100.0
		if w.what == "cavities" {
			change = 0 // one in both
		}
		if d.Group != w.group || d.Unit != w.unit || d.Decimals != w.decimals || *d.Old != w.old || *d.New != w.old+change || *d.Change != change {
			t.Errorf("figure %d: %+v, want %+v", i, d, w)
		}
		near(t, w.what+", percent", *d.Percent, 100*change/w.old, 1e-12)
	}
	// Of a half that one plan does not have, nothing is compared; of a frame
	// neither, beside its half's figures.
	now.Frames[0].Half = "right"
	if n := len(Compare(old, now)); n != len(want)-3 {
		t.Errorf("without a frame: %d figures", n)
	}
	now.Rubber.Halves[0].Half = "right"
	if n := len(Compare(old, now)); n != len(want)-8 {
		t.Errorf("without a half: %d figures", n)
	}
}

// A figure is the same as far as it is worth showing.
func TestSameFigure(t *testing.T) {
	a, b, c := 1.04, 0.96, 1.06
	for _, f := range []struct {
		a, b     *float64
		decimals int
		want     bool
	}{{&a, &b, 1, true}, {&a, &b, 2, false}, {&a, &c, 1, false}, {&a, nil, 1, false}, {nil, &a, 1, false}, {nil, nil, 1, true}} {
		if got := sameFigure(f.a, f.b, f.decimals); got != f.want {
			t.Errorf("%v and %v to %d decimals: %v", f.a, f.b, f.decimals, got)
		}
	}
	zero, ten := 0.0, 10.0
	d := comparison{}
	d.add("rubber", "part B", "g", 2, &zero, &ten)
	if d.list[0].Percent != nil {
		t.Error("percent of nothing")
	}
	if old, now, change, percent := d.list[0].Row(); old != "0.00 g" || now != "10.00 g" || change != "+10.00 g" || percent != "" {
		t.Errorf("%s, %s, %s, %s", old, now, change, percent)
	}
}
