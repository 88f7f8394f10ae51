package heat

import (
	"context"
	"errors"
	"math"
	"testing"

	"halfpour/geom"
)

// smallBall is a little mold that settles after some shots.
func smallBall() Scene {
	return Scene{Box: around(7), Fill: plainRubber(), FillC: 60, AirC: 20, Air: [3]float64{30, 30, 30}, OpenAir: 10,
		Bodies: []Body{{Role: Head, Solid: geom.Ball(geom.Vec{}, 3), Substance: lead(), Start: 360, Contact: 5000}}}
}

// Where a mold settles is where as many shots poured one by one take it, and the
// rhythm that keeps it at a temperature does. An open mold is colder.
func TestRhythmSettles(t *testing.T) {
	ctx, opt := context.Background(), Options{Cell: 1.5}
	many, err := SolveRhythm(ctx, smallBall(), opt, Rhythm{Every: 60, Open: 10, Shots: 45})
	if err != nil {
		t.Fatal(err)
	}
	last := many.Shots[len(many.Shots)-1]
	few, err := SolveRhythm(ctx, smallBall(), opt, Rhythm{Every: 60, Open: 10, Shots: 6, Wanted: 60})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(few.Settled.Skin-last.Skin) > 1 || math.Abs(few.Settled.Solid/last.Solid-1) > 0.02 || few.Shots[5] != many.Shots[5] {
		t.Errorf("settled %+v, after 45 shots %+v", few.Settled, last)
	}
	if n := many.Within; n > few.Within+2 || n < few.Within-2 || math.Abs(many.Shots[n].Skin-last.Skin) > 3 {
		t.Errorf("within 2 K of %g after %d shots, or as six say after %d", last.Skin, n, few.Within)
	}
	kept, err := SolveRhythm(ctx, smallBall(), opt, Rhythm{Every: few.Keeps, Open: 10, Shots: 30})
	if err != nil {
		t.Fatal(err)
	}
	if s := kept.Shots[29].Skin; !(few.Keeps > 20) || math.Abs(s-60) > 1 {
		t.Errorf("a shot every %.1f s keeps the skin at %.1f °C, wanted 60", few.Keeps, s)
	}
	shut, err := SolveRhythm(ctx, smallBall(), opt, Rhythm{Every: 60, Open: 10, Lies: 10, Shots: 6, Wanted: 60})
	if err != nil {
		t.Fatal(err)
	}
	if kept, err = SolveRhythm(ctx, smallBall(), opt, Rhythm{Every: shut.Keeps, Open: 10, Lies: 10, Shots: 30}); err != nil {
		t.Fatal(err)
	}
	if s := kept.Shots[29].Skin; !(shut.Keeps > few.Keeps+5) || math.Abs(s-60) > 1 {
		t.Errorf("closed, a shot every %.1f s keeps the skin at %.1f °C, wanted 60; open, every %.1f s", shut.Keeps, s, few.Keeps)
	}
	if few.Solved > 16 || shut.Solved > 16 {
		t.Errorf("%d and %d shots were poured to see where six end up", few.Solved, shut.Solved)
	}
	if !(shut.Settled.Skin > few.Settled.Skin+1) {
		t.Errorf("skin settles at %.1f °C when the mold is closed, %.1f when it lies open", shut.Settled.Skin, few.Settled.Skin)
	}
	for _, r := range []Rhythmic{many, few, kept, shut} {
		if r.HeatError > 1e-9 {
			t.Errorf("heat off by %.2g", r.HeatError)
		}
	}
}

// No rhythm keeps a mold hotter than the quickest makes it, and any keeps it as
// cold as the air. Nonsense and the end of a context are errors.
func TestRhythmEnds(t *testing.T) {
	ctx, opt := context.Background(), Options{Cell: 2}
	for wanted, want := range map[float64]float64{20: math.Inf(1), 400: 0} {
		r, err := SolveRhythm(ctx, smallBall(), opt, Rhythm{Every: 60, Open: 10, Wanted: wanted})
		if err != nil || r.Keeps != want || len(r.Shots) != 1 {
			t.Errorf("%g °C is kept by a shot every %g s, want %g; %d shots, %v", wanted, r.Keeps, want, len(r.Shots), err)
		}
	}
	if _, err := SolveRhythm(ctx, smallBall(), opt, Rhythm{}); !errors.Is(err, errScene) {
		t.Errorf("no rhythm: %v", err)
	}
	ctx, stop := context.WithCancel(ctx)
	stop()
	if _, err := SolveRhythm(ctx, smallBall(), opt, Rhythm{Every: 60}); !errors.Is(err, context.Canceled) {
		t.Errorf("ended: %v", err)
	}
}
