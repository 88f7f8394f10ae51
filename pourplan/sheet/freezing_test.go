package sheet

import (
	"math"
	"testing"

	"halfpour/moldbox"
)

// Three cells of metal over each other and one of rubber: times between moments are read
// off straight lines, and the map lies on its side with its upper end to the left.
func TestFreezeMap(t *testing.T) {
	cut := moldbox.HeatCut{Step: 0.8, NX: 1, NY: 4, Times: []float64{2, 10},
		Solid: [][]float32{{-1, 0.29, 1, 0}, {-1, 0.99, 1, 0.5}}}
	m, ok := newFreezeMap(cut, 12)
	if !ok || m.nx != 1 || m.ny != 3 {
		t.Fatalf("%+v, %v", m, ok)
	}
	for k, want := range []float64{10, 2, 12} {
		if math.Abs(m.after[k]-want) > 0.05 {
			t.Errorf("cell %d is solid after %g s, want %g", k, m.after[k], want)
		}
	}
	if x, y, after := m.last(); x != 0.5 || y != 2.5 || after != 12 {
		t.Errorf("the last is at %g, %g after %g s", x, y, after)
	}
	l := m.lying()
	if l.nx != 3 || l.ny != 1 || l.after[0] != m.after[2] || l.after[2] != m.after[0] {
		t.Errorf("lying: %+v", l)
	}
	if _, ok := newFreezeMap(moldbox.HeatCut{NX: 1, NY: 1, Times: []float64{1}, Solid: [][]float32{{-1}}}, 9); ok {
		t.Error("a map without metal")
	}
}

// The picture stands on the page of the melting pot, and takes no page more.
func TestFreezingOnTheSheet(t *testing.T) {
	c := sheetCases(t)["one"]
	cut := moldbox.HeatCut{Step: 0.8, NX: 2, NY: 1, Times: []float64{5, 20}, Solid: [][]float32{{1, 0}, {1, 1}}}
	pages, err := layOut(c.plan, c.drawings, []moldbox.HeatCut{cut}, A4)
	if err != nil {
		t.Fatal(err)
	}
	if len(pages) != 3 || len(find(pages, "ring: the last of all")) != 1 || len(find(pages, "20 s")) == 0 {
		t.Errorf("%d pages, %v", len(pages), find(pages, "s"))
	}
}
