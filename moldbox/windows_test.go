package moldbox

import (
	"context"
	"math"
	"slices"
	"testing"

	"halfpour/moldbox/heat"
)

// slowMetal melts at 138 °C and holds much heat, like bismuth with tin: it stays liquid
// until its heat has come to the next cavity.
func slowMetal() Hot {
	h := hotLead()
	h.Metal = heat.Substance{Name: "slow", States: []heat.State{{C: 0, H: 0, Solid: 1, K: 19}, {C: 138, H: 0.23, Solid: 1, K: 19}, {C: 139, H: 0.63, K: 15}, {C: 239, H: 0.8, K: 15}}}
	h.PourC = 170
	return h
}

// Of cavities that are alike the one with the most beside it stands for all, warm
// neighbours and all. Cavities of other kinds that get warm are computed together.
func TestWindows(t *testing.T) {
	m := *ballMold(t, 4)
	m.Cavities = slices.Clone(m.Cavities)
	m.Cavities[1].AlikeTo = 1
	w := m.windows()
	if len(w) != 2 || w[0].cavity != 2 || w[1].cavity != 1 || w[0].from != w[1].to {
		t.Fatalf("windows %+v", w)
	}
	cool, warm := heat.Shot{Sides: [2]float64{2, 9}}, heat.Shot{Sides: [2]float64{12, 2}}
	for i, want := range []bool{false, true} {
		if got := m.mixes(w[0], []heat.Shot{cool, warm}[i]); got != want {
			t.Errorf("heat mixes to one of another kind: %v, want %v", got, want)
		}
	}
	if m.mixes(w[0], heat.Shot{Sides: [2]float64{0, 50}}) || m.mixes(window{cavity: -1}, warm) {
		t.Error("heat mixes to one that is alike, or to none")
	}
}

// With heat that comes to the next cavity, alike heads are as in the whole mold, those
// at the ends a little late, and those of other kinds are computed in it.
func TestWarmNeighbours(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds of heat")
	}
	for name, m := range map[string]*Mold{"three alike": ballMold(t, 3), "two kinds": buildOf(t, plainBalls(6, 4))} {
		f, err := m.FreezeRoughly(context.Background(), slowMetal(), nil)
		if err != nil {
			t.Fatal(err)
		}
		scene := m.HeatScene(slowMetal())
		r, err := heat.Solve(context.Background(), scene, heat.Options{Cell: roughCell})
		if err != nil {
			t.Fatal(err)
		}
		if alike := name == "three alike"; alike != (f.Neighbours > warmNeighbours) {
			t.Errorf("%s: %.1f K half way", name, f.Neighbours)
		}
		t.Logf("%s: %.1f K half way", name, f.Neighbours)
		for i, b := range scene.Bodies {
			if b.Role != heat.Head {
				continue
			}
			got, want := f.Heads[b.Cavity].Solid, r.Shots[0].Bodies[i].Solid
			t.Logf("head %d solid after %.2f s, in the whole mold %.2f", b.Cavity, got, want)
			if math.Abs(got/want-1) > 0.03 {
				t.Errorf("%s: head %d solid after %.2f s, in the whole mold %.2f", name, b.Cavity, got, want)
			}
		}
	}
}
