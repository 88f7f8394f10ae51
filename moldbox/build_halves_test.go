package moldbox

import (
	"math"
	"math/rand/v2"
	"testing"

	"halfpour/geom"
)

// With its coat on, a print is the frame of a mold without one, as far as
// rubber sees it: below the fill line, lettering aside, the coated surface is one
// coat off the print.
func TestSealCoat(t *testing.T) {
	plain := ballSpec(1)
	plain.Marking.Lines = nil
	plain.Cavities[0].Keepers = []Keeper{{Wire: 0.9, Fit: 0.05, Points: []geom.Vec{{X: 2, Y: 2.5}, {X: 9, Y: 2.5}}}}
	coated := plain
	const coat = 0.1
	coated.Finish.SealCoat = coat
	a, b := buildOf(t, plain), buildOf(t, coated)
	const seed = 31
	r := rand.New(rand.NewPCG(seed, 0))
	for i, h := range []Half{a.Left, a.Right} {
		g := []Half{b.Left, b.Right}[i]
		near(t, "fill", g.FillHeight, h.FillHeight, 0)
		same, inCoat := 0, 0
		box := h.Inside
		box.Min.Z = -0.5
		for range 40000 {
			p := box.Min.Add(geom.Vec{X: r.Float64() * box.Size().X, Y: r.Float64() * box.Size().Y, Z: r.Float64() * box.Size().Z * 0.9})
			if r.IntN(2) == 0 {
				p.Z = r.Float64() - 0.5
			}
			if h.Marking.Evaluate(p) < 3*coat {
				continue
			}
			// The rubber is the same, to the last point.
			if d := h.Rubber().Evaluate(p); math.Abs(d) > 1e-6 && (d < 0) != geom.Inside(g.Rubber(), p) {
				t.Fatalf("seed %d, %s: rubber differs at %v by %g", seed, h.Name, p, d)
			}
			same++
			// The print keeps a coat's distance from it, and no more.
			d := g.Frame.Evaluate(p)
			if geom.Inside(g.Rubber(), p) && d < coat-1e-6 {
				t.Fatalf("seed %d, %s: the print is %.4f mm from rubber at %v", seed, h.Name, d, p)
			}
			if !geom.Inside(g.Frame, p) && !geom.Inside(g.Rubber(), p) {
				inCoat++
				if d > 2*coat { // at concave edges the coat's room is wider
					t.Fatalf("seed %d, %s: %.3f mm of room for a coat at %v", seed, h.Name, d, p)
				}
			}
		}
		if same < 1000 || inCoat < 100 {
			t.Errorf("%s: %d points compared, %d in the coat", h.Name, same, inCoat)
		}
	}
}

func TestSealCoatTooThick(t *testing.T) {
	spec := ballSpec(1)
	spec.Finish.SealCoat = 0.15
	spec.Vents.Width = 0.6
	if !hasFinding(buildOf(t, spec), "thinner-than-nozzle", Warn) {
		t.Error("a vent of 0.6 mm under a coat of 0.15 mm on both sides is printed 0.3 mm wide, and nobody says so")
	}
}
