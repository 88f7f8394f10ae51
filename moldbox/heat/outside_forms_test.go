package heat_test

import (
	"math"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest/tets"
	"halfpour/moldbox/heat"
)

// A ball of a good conductor at its freezing point in endless rubber: what it
// gives away until t is 4πR²·kΔT(t/R + 2√(t/πa)) (Carslaw & Jaeger, Conduction of
// Heat in Solids, 2nd ed., 9.10: the region outside a sphere).
func TestFiniteElementsOnBall(t *testing.T) {
	needFreeFem(t)
	t.Parallel()
	const r, latent, melts = 4.0, 0.3865, 139.0
	p := pouring{metal: line("good conductor", 400, [2]float64{0, 0}, [2]float64{melts - 0.2, 0.2}, [2]float64{melts, 0.2 + latent}, [2]float64{melts + 100, 0.4 + latent}),
		rubber: rubber, board: wood, pour: melts, mold: 70, air: 20, until: 60}
	a := 0.27 / (1.32 * 1.25) // mm²/s
	given := func(t float64) float64 { return 0.27e-3 * (melts - p.mold) * (t/r + 2*math.Sqrt(t/(math.Pi*a))) }
	want := geom.Root(func(t float64) float64 { return given(t) - latent*r/3 }, 1, 100, -1, 1, 1e-9, 0)
	box := geom.Box{Max: geom.Vec{X: 24, Y: 24, Z: 24}}
	const h = 0.35
	files := inBlock(t, cut(t, geom.Ball(geom.Vec{}, r), box, tets.Options{Finest: h, Halvings: 3, Size: graded(h, 2, 0.45)}), p, 100, 101, geom.Vec{X: r})
	got := finiteElements(t, "block.edp", p, files)
	within(t, "ball solid", got.solid[0], want, 0.01)
}

// Melt against a mold, both endless: the interface keeps its temperature, what is
// solid grows with the root of time (Carslaw & Jaeger, 2nd ed., 11.2, III).
func TestFiniteElementsOnPlane(t *testing.T) {
	needFreeFem(t)
	t.Parallel()
	const latent, melts, capacity, k = 0.3865, 139.0, 1.6e-3, 20.0
	// A mold as conductive as metal: rubber would take minutes for this.
	p := pouring{metal: line("metal", k, [2]float64{0, 0}, [2]float64{melts - 0.2, capacity * (melts - 0.2)},
		[2]float64{melts, capacity*melts + latent}, [2]float64{melts + 100, capacity*(melts+100) + latent}),
		rubber: heat.Plain("mold", 18, 1.5, 1.1), board: wood, pour: melts + 10, mold: 70, air: 20, until: 20}
	ours, theirs := math.Sqrt(k*1e-3*capacity), math.Sqrt(18e-3*1.5e-3*1.1) // effusivities
	at := func(l float64) float64 {                                         // of the interface
		r := theirs * math.Erf(l) / ours
		return (melts + r*p.mold) / (1 + r)
	}
	lambda := geom.Root(func(l float64) float64 {
		return latent*l*math.Sqrt(math.Pi) - capacity*math.Exp(-l*l)*((melts-at(l))/math.Erf(l)-(p.pour-melts)/math.Erfc(l))
	}, 1e-3, 2, -1, 1, 1e-9, 0)
	const h, wide = 0.4, 3.2
	m := cut(t, geom.HalfSpace(geom.Vec{Y: 1}, 0), geom.Box{Min: geom.Vec{Y: -96}, Max: geom.Vec{X: wide, Y: 96, Z: wide}},
		tets.Options{Finest: h, Halvings: 3, Size: graded(h, 0.15, 0.3)})
	const first, second = 1.5, 2.9
	deepest := func(within float64) (last float64) {
		for _, q := range m.Points {
			if q.Y > -within {
				last = math.Max(last, -q.Y)
			}
		}
		return last
	}
	files := inBlock(t, m, p, -second, -first, geom.Vec{})
	got := finiteElements(t, "block.edp", p, files, "-share", "0.02")
	// A node is solid when half an element beyond it is: so two layers are compared.
	grown := (deepest(second) - deepest(first)) / (math.Sqrt(got.solid[1]) - math.Sqrt(got.solid[2]))
	within(t, "growth of the solid, mm/√s", grown, 2*lambda*math.Sqrt(k*1e-3/capacity), 0.02)
	for _, time := range []float64{2, 10, 20} {
		if c := got.at(time)[0]; math.Abs(c-at(lambda)) > 0.3 {
			t.Errorf("interface at %g s: %.2f °C, want %.2f", time, c, at(lambda))
		}
		t.Log(time, got.at(time), at(lambda))
	}
}
