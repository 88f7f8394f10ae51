package heat

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// randomScene has a few shapes of metal that touch or pass each other, thin ones
// among them, wires through them and out of the box, and boards.
func randomScene(r *rand.Rand) Scene {
	in := func(lo, hi float64) float64 { return lo + r.Float64()*(hi-lo) }
	at := func() geom.Vec { return geom.Vec{X: in(-6, 6), Y: in(-6, 6), Z: in(-2, 2)} }
	contact := []float64{0, 500, 5000}[r.IntN(3)]
	metal := []Substance{lead(), alloy()}[r.IntN(2)]
	s := Scene{Box: around(10), Fill: plainRubber(), FillC: in(20, 120), AirC: 20, Air: [3]float64{10, 10, 10}, OpenAir: 10}
	for range r.IntN(3) {
		d := in(0.4, 1.2)
		s.Bodies = append(s.Bodies, Body{Role: Wire, Cavity: -1, Solid: geom.Capsule(at(), geom.Vec{X: 15, Y: in(-9, 9)}, d/2),
			Substance: Plain("steel", 45, 7.85, 0.48), Start: 20, Contact: contact, Outward: 1000})
	}
	for i := range 1 + r.IntN(3) {
		p, q := at(), at()
		solid := []geom.Solid{geom.Ball(p, in(0.5, 4)), geom.Capsule(p, q, in(0.2, 2)), geom.Block(geom.BoxOf(p, q).Grow(in(0.1, 1)))}[r.IntN(3)]
		s.Bodies = append(s.Bodies, Body{Role: Head, Cavity: i, Solid: solid, Substance: metal, Start: in(330, 400), Contact: contact})
	}
	s.Bodies = append(s.Bodies, Body{Role: Funnel, Solid: geom.Frustum(geom.Vec{Y: 2}, geom.Vec{Y: 12}, 1, 3), Substance: metal, Start: 330, Contact: contact},
		Body{Role: Fixed, Solid: geom.Block(geom.Box{Min: geom.Vec{X: -10, Y: -10, Z: 7}, Max: geom.Vec{X: 10, Y: 10, Z: 10}}), Substance: Plain("wood", 0.12, 0.6, 1.7), Start: 20})
	return s
}

// Whatever the shapes, two shots come to an end, heat is kept, and nothing gets
// hotter than the melt or colder than the coldest.
func TestRandomScenes(t *testing.T) {
	r := rand.New(rand.NewPCG(16, 7))
	for n := range geomtest.Rounds(3, 8) {
		scene := randomScene(r)
		got, err := Solve(context.Background(), scene, Options{Cell: 1, Shots: 2, Every: 40, Least: 30, Limits: []float64{150}, Reach: []float64{1, 10}, Snapshots: []float64{0.5, 4, 20}})
		if err != nil {
			t.Errorf("scene %d: %v", n, err)
			continue
		}
		if got.HeatError > 1e-9 || len(got.Snapshots) != 3 {
			t.Errorf("scene %d: heat off by %.2g, %d snapshots", n, got.HeatError, len(got.Snapshots))
		}
		for i, shot := range got.Shots {
			if !(shot.Solid < 600) || !(shot.Skin.Hottest <= 401) || !(shot.MeanBefore >= 19 && shot.MeanBefore < 200) {
				t.Errorf("scene %d, shot %d: solid after %g s, skin %g °C, mean before %g °C", n, i, shot.Solid, shot.Skin.Hottest, shot.MeanBefore)
			}
		}
		for _, snapshot := range got.Snapshots {
			for range 200 {
				p := geom.Vec{X: 20*r.Float64() - 10, Y: 20*r.Float64() - 10, Z: 20*r.Float64() - 10}
				x, ok := snapshot.At(p)
				if !ok || x.C < 18 || x.C > 401 || x.Solid < 0 || x.Solid > 1 {
					t.Fatalf("scene %d: at %v after %g s: %+v, %v", n, p, snapshot.Time, x, ok)
				}
			}
		}
		if _, ok := got.Snapshots[0].At(geom.Vec{X: 11}); ok {
			t.Error("a place outside the box has a temperature")
		}
	}
}

// A thick head under a thin gate is cut off while most of it is liquid, one
// under a wide gate much later; what is cut off freezes last where it is thick.
func TestFeed(t *testing.T) {
	solve := func(gate float64) Frozen {
		r, err := Solve(context.Background(), Scene{Box: geom.Box{Min: geom.Vec{X: -12, Y: -12, Z: -12}, Max: geom.Vec{X: 12, Y: 20, Z: 12}}, Fill: plainRubber(), FillC: 60,
			Bodies: []Body{
				{Role: Head, Solid: geom.Ball(geom.Vec{}, 5), Substance: alloy(), Start: 330, Contact: 5000},
				{Role: Gate, Solid: geom.Capsule(geom.Vec{Y: 3}, geom.Vec{Y: 10}, gate), Substance: alloy(), Start: 330, Contact: 5000},
				{Role: Funnel, Solid: geom.Frustum(geom.Vec{Y: 10}, geom.Vec{Y: 20}, 3, 6), Substance: alloy(), Start: 330, Contact: 5000},
			}}, Options{})
		if err != nil {
			t.Fatal(err)
		}
		return r.Shots[0].Bodies[0]
	}
	thin, wide := solve(0.8), solve(4)
	if !(thin.Shut < 3 && thin.SolidAtShut < 0.45 && thin.CutOff > 200 && thin.CutOffMost > 0.9*thin.CutOff) {
		t.Errorf("a thin gate: %+v", thin)
	}
	if !(wide.Shut > 2*thin.Shut && wide.SolidAtShut > thin.SolidAtShut+0.15 && wide.CutOff < 0.7*thin.CutOff) {
		t.Errorf("a wide gate: %+v", wide)
	}
	if d := thin.CutOffAt.Norm(); d > 3 {
		t.Errorf("what a thin gate cuts off freezes last %.1f mm from the middle", d)
	}
	if math.Abs(thin.Volume/(4*math.Pi/3*125)-1) > 5e-3 {
		t.Errorf("volume %g mm³", thin.Volume)
	}
}

// The mold cools from shot to shot when it rests long, and warms when it rests
// little; the second head takes the longer the warmer it is.
func TestRhythm(t *testing.T) {
	solve := func(every float64) Result {
		r, err := Solve(context.Background(), Scene{Box: around(12), Fill: plainRubber(), FillC: 60, AirC: 20, Air: [3]float64{10, 10, 10}, OpenAir: 10,
			Bodies: []Body{{Role: Head, Solid: geom.Ball(geom.Vec{}, 4), Substance: lead(), Start: 360, Contact: 5000}}}, Options{Cell: 1, Shots: 3, Every: every})
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	slow, fast := solve(1200), solve(30)
	if a, b := slow.Shots[2], fast.Shots[2]; !(a.MeanBefore < 45 && b.MeanBefore > 60 && b.SkinMeanBefore > a.SkinMeanBefore+30 && b.Solid > 1.2*a.Solid && a.Opened > 0) {
		t.Errorf("slow %+v\nfast %+v", a, b)
	}
	// Heat of all that the air took and the metal brought: none is lost.
	if slow.HeatError > 1e-9 || fast.HeatError > 1e-9 {
		t.Errorf("heat off by %.2g and %.2g", slow.HeatError, fast.HeatError)
	}
}

// Scenes that make no sense are refused, and an end of the context ends all.
func TestSolveRefuses(t *testing.T) {
	ball := Body{Role: Head, Solid: geom.Ball(geom.Vec{}, 1), Substance: lead(), Start: 350}
	for name, scene := range map[string]Scene{
		"no box":       {Fill: plainRubber(), Bodies: []Body{ball}},
		"nothing cast": {Box: around(5), Fill: plainRubber()},
		"no fill":      {Box: around(5), Bodies: []Body{ball}},
	} {
		if _, err := Solve(context.Background(), scene, Options{}); !errors.Is(err, errScene) && !errors.Is(err, errCurve) {
			t.Errorf("%s: %v", name, err)
		}
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Solve(ctx, Scene{Box: around(5), Fill: plainRubber(), Bodies: []Body{ball}}, Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("ended: %v", err)
	}
}

// Every part of every cell is joined to others, whatever the shapes: else its
// heat would stay for ever.
func TestEveryPartIsJoined(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 11))
	for n := range 45 {
		scene := randomScene(r)
		g, err := newGrid(context.Background(), &scene, 0.7, 0)
		if err != nil {
			t.Fatal(err)
		}
		area := make([]float64, len(g.parts))
		for _, l := range g.link().links {
			area[l.a] += l.area
			area[l.b] += l.area
		}
		for i, a := range area {
			if a < 1e-6 {
				t.Errorf("scene %d: %+v is joined by %.2g mm²", n, g.parts[i], a)
			}
		}
	}
}

// A thin tail on a thick head is out of melt's reach long before the head, and a head
// under a thin gate as soon as the gate is. Superheat gives more time.
func TestFlow(t *testing.T) {
	solve := func(gate, start float64) Flow {
		body := func(role Role, s geom.Solid) Body {
			return Body{Role: role, Solid: s, Substance: alloy(), Start: start, Contact: 5000}
		}
		tail := geom.Block(geom.Box{Min: geom.Vec{X: 4, Y: -3, Z: -0.4}, Max: geom.Vec{X: 16, Y: 3, Z: 0.4}})
		r, err := Solve(context.Background(), Scene{Box: geom.Box{Min: geom.Vec{X: -12, Y: -12, Z: -12}, Max: geom.Vec{X: 20, Y: 20, Z: 12}}, Fill: plainRubber(), FillC: 60,
			Bodies: []Body{body(Head, geom.Union(geom.Ball(geom.Vec{}, 5), tail)), body(Gate, geom.Capsule(geom.Vec{Y: 3}, geom.Vec{Y: 10}, gate)),
				body(Funnel, geom.Frustum(geom.Vec{Y: 10}, geom.Vec{Y: 20}, 3, 6))}}, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if f := r.Shots[0].Bodies[0].Flow; f.Latest < f.Soonest || r.Shots[0].Bodies[0].Solid < 5*f.Soonest {
			t.Errorf("%+v", r.Shots[0].Bodies[0])
		}
		return r.Shots[0].Bodies[0].Flow
	}
	wide, hot, thin := solve(3, 330), solve(3, 380), solve(0.5, 330)
	if !(wide.Soonest > 0 && wide.Soonest < 1 && wide.At.X > 6) {
		t.Errorf("a tail of 0.8 mm: %+v", wide)
	}
	if !(hot.Soonest > 1.2*wide.Soonest) {
		t.Errorf("50 K hotter: %+v, before %+v", hot, wide)
	}
	if !(thin.At.X < 6 && thin.Soonest <= wide.Soonest) {
		t.Errorf("a gate of 1 mm: %+v", thin)
	}
}
