package heat

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
)

// While a ball of metal freezes at one temperature, the rubber's skin has it
// wherever they touch perfectly; a contact of h keeps ΔT·exp(h²at/k²)·erfc(h√(at)/k)
// below it, by a little more round a ball, while the heat has not gone far (Carslaw & Jaeger, 2nd ed., 2.7).
func TestSkinOfSnapshot(t *testing.T) {
	metal := evenMetal(327.5, 11.34, 23.07, 0.147)
	const h, time = 2000.0, 0.5
	x := h * 1e-3 / 0.25 * math.Sqrt(0.25/(1.25*1.3)*time)
	below := (327.5 - 60) * math.Exp(x*x) * math.Erfc(x)
	for _, c := range []struct{ contact, want, off float64 }{{0, 327.5, 1}, {h, 327.5 - below, 6}} {
		scene := Scene{Box: around(17), Fill: plainRubber(), FillC: 60,
			Bodies: []Body{{Role: Head, Solid: geom.Ball(geom.Vec{}, 5), Substance: metal, Start: 327.5, Contact: c.contact}}}
		r, err := Solve(context.Background(), scene, Options{Cell: 0.5, Snapshots: []float64{time}})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range []geom.Vec{{X: 5}, {Y: -3, Z: 4}, {Y: -3, Z: -4}} {
			for _, within := range []float64{1, 2} {
				if got := r.Snapshots[0].Skin(p, within); math.Abs(got-c.want) > c.off {
					t.Errorf("contact %g, %v: skin %.1f °C, want %.1f", c.contact, p, got, c.want)
				}
			}
		}
	}
}
