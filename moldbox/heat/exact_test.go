package heat

import (
	"context"
	"fmt"
	"math"
	"testing"

	"halfpour/geom"
)

// plainRubber is that of the cases in closed form below: k 0.25, 1.25 g/cm³, 1.3 J/(g·K).
func plainRubber() Substance { return Plain("rubber", 0.25, 1.25, 1.3) }

// evenMetal conducts so well that it is at one temperature throughout: melting
// point in °C, density in g/cm³, latent heat in J/g, specific heats in J/(g·K).
func evenMetal(melts, rho, latent, c float64) Substance {
	const k = 20e3
	solid := rho * 1e-3 * c * melts
	melt := solid + rho*1e-3*latent
	return Substance{Name: "even metal", States: []State{
		{0, 0, 1, k}, {melts, solid, 1, k}, {melts, melt, 0, k}, {melts + 100, melt + rho*1e-3*c*100, 0, k}}}
}

func around(half float64) geom.Box {
	return geom.Box{Min: geom.Vec{X: -half, Y: -half, Z: -half}, Max: geom.Vec{X: half, Y: half, Z: half}}
}

// A ball of metal at its melting point in endless rubber freezes after the time
// that V/A = (T-T0)/(ρL)·[2√(kρct/π) + kt/r] says, exact for a sphere (Carslaw &
// Jaeger, 2nd ed., section 9.10: flow from a sphere kept at one temperature into
// what is round it). Cells of a tenth of the radius come within 3 %.
func TestBallInEndlessRubber(t *testing.T) {
	for _, c := range []struct {
		metal Substance
		r     float64 // mm
		want  float64 // s
	}{
		{evenMetal(327.5, 11.34, 23.07, 0.147), 3, 1.145},
		{evenMetal(327.5, 11.34, 23.07, 0.147), 5, 3.180},
		{evenMetal(138.5, 8.56, 44.8, 0.19), 5, 31.673},
	} {
		scene := Scene{Box: around(c.r + 12), Fill: plainRubber(), FillC: 25,
			Bodies: []Body{{Role: Head, Solid: geom.Ball(geom.Vec{}, c.r), Substance: c.metal, Start: c.metal.Solidus()}}}
		r, err := Solve(context.Background(), scene, Options{Cell: c.r / 10})
		if err != nil {
			t.Fatal(err)
		}
		got := r.Shots[0].Solid
		if math.Abs(got/c.want-1) > 0.03 || r.HeatError > 1e-6 || !r.Symmetric {
			t.Errorf("radius %g mm: solid after %.3f s, want %.3f; heat off by %.2g, symmetric: %v", c.r, got, c.want, r.HeatError, r.Symmetric)
		}
		if v := r.Shots[0].Bodies[0].Volume / (4 * math.Pi / 3 * c.r * c.r * c.r); math.Abs(v-1) > 3e-3 {
			t.Errorf("radius %g mm: volume off by %.5f", c.r, v-1)
		}
	}
}

// A plane wall kept hot gives off 2ΔT·√(kρct/π) (Carslaw & Jaeger, 2nd ed., section
// 2.4), however it lies to the cells, once it has gone deeper than a part of a cell.
func TestWallAtAnyAngle(t *testing.T) {
	hot := Plain("wall", 35e3, 1e6, 1)
	for _, n := range []geom.Vec{{X: 1}, {X: 1, Y: 0.3, Z: 0.2}, {X: 3, Y: 2}} {
		for _, off := range []float64{0, 0.26, 0.47} {
			scene := Scene{Box: around(6), Fill: plainRubber(), Bodies: []Body{{Role: Head, Solid: geom.HalfSpace(n.Unit(), off), Substance: hot, Start: 100}}}
			g, err := newGrid(context.Background(), &scene, 0.75, 0)
			if err != nil {
				t.Fatal(err)
			}
			s := newState(g)
			area := 0.0
			for _, l := range s.links {
				if l.kind == skin {
					area += l.area
				}
			}
			s.march(3, 0, usualPace(), func(float64) bool {
				taken := 0.0
				for i, p := range g.parts {
					if p.body == g.fill() {
						taken += s.volume[i] * s.heat[i]
					}
				}
				want := area * 100 * 2 * math.Sqrt(0.25e-3*1.625e-3*s.time/math.Pi)
				if limit := 0.06; s.time > 0.5 && math.Abs(taken/want-1) > limit {
					t.Errorf("normal %v, off %g: after %.2f s %.3f of what it should be", n, off, s.time, taken/want)
				}
				return true
			})
		}
	}
}

// The number of workers changes nothing.
func TestWorkers(t *testing.T) {
	scene := Scene{Box: around(9), Fill: plainRubber(), FillC: 40, Air: [3]float64{10, 10, 10}, AirC: 20, OpenAir: 10,
		Bodies: []Body{
			{Role: Wire, Cavity: -1, Solid: geom.Capsule(geom.Vec{X: -9}, geom.Vec{X: 3}, 0.5), Substance: Plain("steel", 45, 7.85, 0.48), Start: 20, Outward: 1000},
			{Role: Head, Solid: geom.Ball(geom.Vec{}, 3), Substance: lead(), Start: 350, Contact: 5000},
			{Role: Funnel, Solid: geom.Frustum(geom.Vec{Y: 2}, geom.Vec{Y: 9}, 1, 3), Substance: lead(), Start: 350, Contact: 5000},
		}}
	results := make([]string, 2)
	for i, workers := range []int{1, 4} {
		r, err := Solve(context.Background(), scene, Options{Cell: 1, Workers: workers, Shots: 2, Every: 60, Limits: []float64{200}, Reach: []float64{10}})
		if err != nil {
			t.Fatal(err)
		}
		r.Snapshots = nil
		results[i] = fmt.Sprintf("%x", fmt.Sprint(r))
		if r.HeatError > 1e-5 {
			t.Errorf("heat off by %.2g", r.HeatError)
		}
	}
	if results[0] != results[1] {
		t.Error("4 workers came to another result than 1")
	}
}
