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
