package moldbox

import (
	"context"
	"math"
	"testing"

	"halfpour/moldbox/heat"
)

// hotLead is pure lead (as in heat's own tests) poured at 360 °C into rubber.
func hotLead() Hot {
	const rho = 11.34e-3
	solid, melt := rho*0.129, rho*0.148
	top := solid * 327.5
	metal := heat.Substance{Name: "lead", States: []heat.State{{C: 0, H: 0, Solid: 1, K: 35.3}, {C: 327.5, H: top, Solid: 1, K: 35.3},
		{C: 327.5, H: top + rho*23.07, K: 15.8}, {C: 427.5, H: top + rho*23.07 + 100*melt, K: 15.8}}}
	return Hot{Metal: metal, Rubber: heat.Plain("rubber", 0.27, 1.35, 1.3), Wire: heat.Plain("steel", 50, 7.85, 0.49),
		Board: heat.Plain("board", 0.13, 0.6, 1.6), PourC: 360, MoldC: 60, WireC: 60, AirC: 23, Contact: 5000, WireContact: 5000, Air: 10, Boards: 12}
}

// Alike cavities are computed once, up to the middle between them: heads come out
// as in the whole mold, each at its own place.
func TestFreezeByWindows(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds of heat")
	}
	m := ballMold(t, 2)
	if w := m.windows(); len(w) != 1 || w[0].cavity != 0 || !(w[0].from < m.Cavities[0].Eye.X && m.Cavities[0].Eye.X < w[0].to && w[0].to < m.Cavities[1].Eye.X) {
		t.Fatalf("windows %+v", w)
	}
	limits := []float64{250, 400}
	f, err := m.Freeze(context.Background(), hotLead(), limits)
	if err != nil {
		t.Fatal(err)
	}
	r, err := heat.Solve(context.Background(), m.HeatScene(hotLead()), heat.Options{Limits: limits, Reach: []float64{10}, Cell: freezeCell})
	if err != nil {
		t.Fatal(err)
	}
	whole := r.Shots[0]
	near := func(what string, got, want, share float64) {
		t.Helper()
		if math.Abs(got-want) > share*want {
			t.Errorf("%s: %.3f, in the whole mold %.3f", what, got, want)
		}
	}
	near("all solid", f.Solid, whole.Solid, 0.03)
	near("skin", f.Skin.Hottest, whole.Skin.Hottest, 0.02)
	near("skin over 250 °C", f.Skin.Above[0], whole.Skin.Above[0], 0.05)
	if f.Skin.Above[1] != 0 {
		t.Errorf("%.2f s above what is never reached", f.Skin.Above[1])
	}
	for i, b := range m.HeatScene(hotLead()).Bodies {
		switch b.Role {
		case heat.Head:
			near("head solid", f.Heads[b.Cavity].Solid, whole.Bodies[i].Solid, 0.05)
		case heat.Gate:
			near("gate solid", f.Heads[b.Cavity].Gate, whole.Bodies[i].Solid, 0.2) // thinner than two cells
		}
	}
	there := m.Cavities[1].Eye.Sub(m.Cavities[0].Eye)
	if f.Heads[1].Last != f.Heads[0].Last.Add(there) || f.Heads[1].Solid != f.Heads[0].Solid {
		t.Errorf("the second head: %+v, the first %+v", f.Heads[1], f.Heads[0])
	}
	if !(f.Reach > 2 && f.Reach < 8) || !(f.Heads[0].Shut > 0 && f.Heads[0].Shut < f.Heads[0].Solid) || !(f.Heads[0].Fed > 0 && f.Heads[0].Fed < 1) {
		t.Errorf("reach %.2f mm, head %+v", f.Reach, f.Heads[0])
	}
}

// Six digits are left of a figure, and of what is never reached infinity.
func TestSixDigits(t *testing.T) {
	for x, want := range map[float64]float64{9.932028308984165: 9.93203, -64.94908040745847: -64.9491, 0: 0, 1234567: 1.23457e6, 2.5e-7: 2.5e-7} {
		if got := sixDigits(x); got != want {
			t.Errorf("%v: %v, want %v", x, got, want)
		}
	}
	if !math.IsInf(sixDigits(math.Inf(1)), 1) {
		t.Error("what is never solid is solid")
	}
}
