package sheet

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"halfpour/pourplan"
	"halfpour/pourplan/internal/plantest"
)

// longAccount is many castings in many molds.
func longAccount(t *testing.T, p *pourplan.Plan, castings, weights int) *pourplan.Account {
	t.Helper()
	a := &pourplan.Account{}
	for i := range castings {
		c := pourplan.Casting{Date: fmt.Sprintf("2026-%02d-%02d", 1+i/28%12, 1+i%28), Mold: 1 + i/20, Shots: 1 + i%4, Good: 4, Bad: i % 2}
		var list []float64
		for k := range weights {
			list = append(list, p.Heads[0].FinishedG.Best*(1+0.01*float64((k*7+i)%9-4)))
		}
		w, err := p.Weigh(p.Heads[0].Name, list)
		if err != nil {
			t.Fatal(err)
		}
		if c.Weighing = w; weights == 0 {
			c.Weighing = pourplan.Weighing{}
		}
		a.Castings = append(a.Castings, c)
	}
	return a
}

// The page stands the tests of the sheet's pages, from an empty account to one
// of a year.
func TestAccount(t *testing.T) {
	faces, err := newTypefaces()
	if err != nil {
		t.Fatal(err)
	}
	p := sheetPlan(t, plantest.Job(5, plantest.Priced))
	for name, a := range map[string]*pourplan.Account{
		"empty": {}, "no weights": longAccount(t, p, 3, 0), "one weight": longAccount(t, p, 1, 1), "a year": longAccount(t, p, 300, 5),
	} {
		for _, paper := range []Paper{A4, Letter} {
			pages, err := layOutAccount(a, p, a.LastMold(), paper)
			if err != nil || len(pages) != 1 {
				t.Fatalf("%s: %d pages, %v", name, len(pages), err)
			}
			t.Run(name+" "+paper.Name, func(t *testing.T) { checkPage(t, faces, 1, pages[0]) })
		}
	}
	if _, err := layOutAccount(&pourplan.Account{}, p, 1, Paper{"card", 50, 80}); err == nil {
		t.Error("drawn on a card")
	}
}

// Each weight is a dot, and a heavier one stands higher.
func TestWeightsOnThePage(t *testing.T) {
	p := sheetPlan(t, plantest.Job(5, plantest.Priced))
	a := longAccount(t, p, 2, 4)
	pages, err := layOutAccount(a, p, 1, A4)
	if err != nil {
		t.Fatal(err)
	}
	var heights []float64
	for _, s := range pages[0].shapes {
		if s.fill == 0 && s.ink == none && len(s.loops) == 1 {
			heights = append(heights, s.loops[0].points[0].Y)
		}
	}
	dots := weighedDots(a, 1)
	if len(heights) != len(dots) || len(dots) != 8 {
		t.Fatalf("%d dots of %d weights", len(heights), len(dots))
	}
	for i := range dots {
		for k := range dots {
			if dots[i].percent > dots[k].percent+0.1 && heights[i] >= heights[k] {
				t.Errorf("%.1f %% stands at %g, %.1f %% at %g", dots[i].percent, heights[i], dots[k].percent, heights[k])
			}
		}
	}
	var one, two bytes.Buffer
	if err := WriteAccount(&one, a, p, 1, A4); err != nil || !strings.HasPrefix(one.String(), "%PDF") {
		t.Error(err)
	}
	if err := WriteAccount(&two, a, p, 1, A4); err != nil || !bytes.Equal(one.Bytes(), two.Bytes()) {
		t.Errorf("%v: not the same bytes again", err)
	}
}

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		most      int
		want      string
	}{{0, 26.25, 12, "[0 5 10 15 20 25]"}, {96.6, 102.6, 10, "[97 98 99 100 101 102]"}, {0, 1.05, 5, "[0 0.5 1]"}} {
		if got := fmt.Sprint(axis{low: c.low, high: c.high}.ticks(c.most)); got != c.want {
			t.Errorf("%g to %g: %s, want %s", c.low, c.high, got, c.want)
		}
	}
}
