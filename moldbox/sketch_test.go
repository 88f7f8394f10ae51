package moldbox

import (
	"context"
	"errors"
	"math"
	"testing"

	"halfpour/geom"
)

// A sketch from another mold comes near to what Build makes of its spec.
func TestSketchIsNearTheMold(t *testing.T) {
	ctx := context.Background()
	minnows, balls := darterSpec(t, 2), ballSpec(3)
	built := map[int]*Mold{2: buildOf(t, minnows), 3: buildOf(t, balls)} // by cavities, of what many rows begin with
	runner := func(s *Spec) { s.Runner = RunnerSpec{On: true, Rise: 3 * math.Pi / 180} }
	for _, c := range []struct {
		name          string
		from          Spec
		before, after func(*Spec)
	}{
		{"the same", minnows, nil, func(*Spec) {}},
		{"a wider funnel", minnows, nil, func(s *Spec) { s.Sprue.Mouth += 5 }},
		{"and back", darterSpec(t, 2), func(s *Spec) { s.Sprue.Mouth += 5 }, func(s *Spec) { s.Sprue.Mouth -= 5 }},
		{"a wider throat", minnows, nil, func(s *Spec) { s.Sprue.Throat += 1 }},
		{"another hook", balls, nil, func(s *Spec) {
			for i := range s.Cavities {
				h := *s.Cavities[i].Hook
				h.Shank += 6
				s.Cavities[i].Hook = &h
			}
		}},
		{"heavier heads", balls, nil, func(s *Spec) {
			for i := range s.Cavities {
				s.Cavities[i].Scale *= 1.2
			}
		}},
		{"turned", minnows, nil, func(s *Spec) {
			for i := range s.Cavities {
				s.Cavities[i].Turn += 0.1
			}
		}},
		{"more rubber between", plainBalls(5, 7, 6), func(*Spec) {}, func(s *Spec) { s.Frame.Between += 3; s.Frame.Over += 2 }},
		{"two rows", ballSpec(3), func(s *Spec) { s.Layout.Rows = 2 }, func(s *Spec) { s.Frame.ToWall += 2 }},
		{"other rows", ballSpec(3), func(s *Spec) { s.Layout.Rows = 2 }, func(s *Spec) { s.Layout.Rows = 1 }},
		{"under a runner", ballSpec(3), runner, func(s *Spec) { s.Sprue.GateWidth += 1 }},
		{"with a new runner", balls, nil, runner},
	} {
		t.Run(c.name, func(t *testing.T) {
			last := built[len(c.from.Cavities)]
			if c.before != nil {
				c.before(&c.from)
				last = buildOf(t, c.from)
			}
			spec := c.from
			spec.Cavities = append([]Cavity{}, spec.Cavities...)
			c.after(&spec)
			want := buildOf(t, spec)
			got, err := NewSketch(ctx, spec, last)
			if err != nil {
				t.Fatal(err)
			}
			left, right := volume(t, want.Left.Rubber(), geom.Box{}).Best, volume(t, want.Right.Rubber(), geom.Box{}).Best
			t.Logf("left %+.3f %%, right %+.3f %%", 100*(got.Left/left-1), 100*(got.Right/right-1))
			near(t, "rubber of the left half", got.Left, left, 0.02*left)
			near(t, "rubber of the right half", got.Right, right, 0.02*right)
			if (got.Mold.Runner != nil) != (want.Runner != nil) {
				t.Errorf("runner %v, Build's %v", got.Mold.Runner, want.Runner)
			}
			if size, is := got.Mold.Left.Outside.Size(), want.Left.Outside.Size(); size.Sub(is).Norm() > 0.02*is.Norm() {
				t.Errorf("the left frame takes %v, Build's %v", size, is)
			}
			for i, g := range got.Mold.Cavities {
				w := want.Cavities[i]
				if len(g.VentsAt) != len(w.VentsAt) {
					t.Errorf("%s has %d vents, Build's %d", w.Name, len(g.VentsAt), len(w.VentsAt))
				}
				near(t, "metal of "+w.Name, g.MetalVolume, w.MetalVolume, 1e-6*w.MetalVolume)
				near(t, "height of its gate below the edge", got.Mold.Left.Inside.Max.Y-g.GateAt.Y, want.Left.Inside.Max.Y-w.GateAt.Y, 0.02*w.GateAt.Dist(w.Eye)+0.1)
			}
		})
	}
}

func TestSketchIsRefused(t *testing.T) {
	last := ballMold(t, 2)
	least, turned, broken := ballSpec(2), ballSpec(2), ballSpec(2)
	least.Layout.Least, turned.Layout.Alternate = true, true
	broken.Sprue.Throat = -1
	for name, spec := range map[string]Spec{"another number": ballSpec(3), "a search": least, "every second turned": turned} {
		if _, err := NewSketch(context.Background(), spec, last); !errors.Is(err, ErrNoSketch) {
			t.Errorf("%s: got error %v", name, err)
		}
	}
	var rule *SpecError
	if _, err := NewSketch(context.Background(), broken, last); !errors.As(err, &rule) {
		t.Errorf("a broken rule: got error %v", err)
	}
}

// A spacing is known of the kinds that the last mold had.
func TestSketchKnowsKinds(t *testing.T) {
	parts := partsOf(t, plainBalls(6, 8))
	m := &made{parts: parts[:1]}
	for kind, want := range []bool{true, false, false} {
		if m.knows(kind, seat{part: parts[0]}) != want {
			t.Errorf("kind %d of 1: knows %v", kind, !want)
		}
	}
	if !m.knows(9, seat{}) {
		t.Error("the way down of a runner is not known")
	}
}

// A dome of 2 mm on a circle of 3 mm radius is πh(3r²+h²)/6; a tray with upright walls
// and round corners of 3 mm holds its rectangle less (4-π)r².
func TestSketchVolumes(t *testing.T) {
	k := Key{Diameter: 6, Depth: 2}
	near(t, "bump", k.capVolume(0), math.Pi*2*(27+4)/6, 1e-9)
	// The socket's ball, of 3.25 mm, is larger by 0.15 and its cap as much higher.
	near(t, "socket", k.capVolume(0.15), math.Pi*2.15*2.15*(3*3.4-2.15)/3, 1e-9)
	near(t, "tray", upright(60, 50).room(), 8*(3000-(4-math.Pi)*9), 1e-9)
}
