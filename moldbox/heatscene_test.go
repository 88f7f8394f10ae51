package moldbox

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox/heat"
)

// testMetal is an invented alloy like lead with some antimony.
func testMetal() heat.Substance {
	return heat.Substance{Name: "alloy", States: []heat.State{
		{C: 0, H: 0, Solid: 1, K: 30}, {C: 252, H: 0.356, Solid: 1, K: 30}, {C: 252, H: 0.420, Solid: 0.77, K: 26.5},
		{C: 275, H: 0.500, Solid: 0.62, K: 24.3}, {C: 299, H: 0.690, Solid: 0, K: 15}, {C: 399, H: 0.850, Solid: 0, K: 15}}}
}

func testHot() Hot {
	return Hot{Metal: testMetal(), Rubber: heat.Plain("rubber", 0.25, 1.33, 1.3), Wire: heat.Plain("steel", 45, 7.85, 0.48), Board: heat.Plain("wood", 0.12, 0.6, 1.7),
		PourC: 329, MoldC: 60, WireC: 20, AirC: 20, Contact: 5000, Air: 10, Boards: 12}
}

// The scene of a mold holds all its metal, wires out of the box and boards, and
// comes to an end: gate and head before the funnel, a head later without the
// cold hook in it.
func TestHeatScene(t *testing.T) {
	m, err := Build(context.Background(), ballSpec(1))
	if err != nil {
		t.Fatal(err)
	}
	scene := m.HeatScene(testHot())
	roles := map[heat.Role]int{}
	for _, b := range scene.Bodies {
		roles[b.Role]++
	}
	if roles[heat.Head] != 1 || roles[heat.Gate] != 1 || roles[heat.Funnel] != 1 || roles[heat.Wire] != 1 || roles[heat.Fixed] != 1 {
		t.Fatalf("roles %v", roles)
	}
	if got, want := scene.Box.Size().Z, m.Left.FillHeight+m.Right.FillHeight+24; math.Abs(got-want) > 1e-9 {
		t.Errorf("%g mm thick with its boards, want %g", got, want)
	}
	solid := func(scene heat.Scene) (head, all float64) {
		r, err := heat.Solve(context.Background(), scene, heat.Options{})
		if err != nil {
			t.Fatal(err)
		}
		cast := 0.0
		for i, b := range scene.Bodies {
			if b.Role == heat.Head {
				head = r.Shots[0].Bodies[i].Solid
			}
			if b.Role.Cast() {
				cast += r.Shots[0].Bodies[i].Volume
			}
		}
		want, err := geom.Integrate(context.Background(), m.Cavities[0].Metal, geom.IntegrateOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if len(scene.Bodies) > 5 && math.Abs(cast/want.Best-1) > 0.01 {
			t.Errorf("%g mm³ are cast, the cavity holds %g", cast, want.Best)
		}
		return head, r.Shots[0].Solid
	}
	with, all := solid(scene)
	if !(with > 1 && all > with) {
		t.Errorf("head solid after %g s, all after %g s", with, all)
	}
	scene.Bodies = scene.Bodies[1:]
	if without, _ := solid(scene); !(without > 1.03*with) {
		t.Errorf("head solid after %g s with a cold hook, %g s without", with, without)
	}
}

func benchmarkHeat(b *testing.B, scene heat.Scene, opt heat.Options) {
	b.Helper()
	for b.Loop() {
		r, err := heat.Solve(context.Background(), scene, opt)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(r.Unknowns), "unknowns")
		b.ReportMetric(float64(r.Steps), "steps")
	}
}

// BenchmarkHeatOneShot is a ball jig to the end of one shot, BenchmarkHeatTenShots
// ten of them with all that is followed in them.
func BenchmarkHeatOneShot(b *testing.B) {
	benchmarkHeat(b, benchmarkBall(b), heat.Options{})
}

func BenchmarkHeatTenShots(b *testing.B) {
	benchmarkHeat(b, benchmarkBall(b), heat.Options{Shots: 10, Every: 240, Open: 30})
}

// BenchmarkFreezeFiveMinnows is a tray of five to the end of one shot as a build
// computes it, alike cavities once; BenchmarkHeatFiveMinnows all of it, finer.
func BenchmarkFreezeFiveMinnows(b *testing.B) {
	m, err := Build(context.Background(), minnowSpec(b))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := m.Freeze(context.Background(), testHot(), nil); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkHeatFiveMinnows(b *testing.B) {
	m, err := Build(context.Background(), minnowSpec(b))
	if err != nil {
		b.Fatal(err)
	}
	benchmarkHeat(b, m.HeatScene(testHot()), heat.Options{})
}

// BenchmarkRhythm is ten shots of the ball jig, where the mold settles and the
// rhythm that keeps it warm.
func BenchmarkRhythm(b *testing.B) {
	m, err := Build(context.Background(), ballSpec(1))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		r, err := m.Rhythm(context.Background(), testHot(), heat.Rhythm{Every: 240, Open: 30, Lies: 30, Shots: 10})
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(r.Solved), "shots")
	}
}

func benchmarkBall(b *testing.B) heat.Scene {
	b.Helper()
	m, err := Build(context.Background(), ballSpec(1))
	if err != nil {
		b.Fatal(err)
	}
	return m.HeatScene(testHot())
}
