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
	runner := func(s *Spec) { s.Runner = RunnerSpec{On: true, Rise: 3 * math.Pi / 180} }
	for _, c := range []struct {
		name          string
		from          Spec
		before, after func(*Spec)
	}{
		{"the same", darterSpec(t, 2), nil, func(*Spec) {}},
		{"a wider funnel", darterSpec(t, 2), nil, func(s *Spec) { s.Sprue.Mouth += 5 }},
		{"and back", darterSpec(t, 2), func(s *Spec) { s.Sprue.Mouth += 5 }, func(s *Spec) { s.Sprue.Mouth -= 5 }},
		{"a wider throat", darterSpec(t, 2), nil, func(s *Spec) { s.Sprue.Throat += 1 }},
		{"another hook", ballSpec(3), nil, func(s *Spec) {
			for i := range s.Cavities {
				h := *s.Cavities[i].Hook
				h.Shank += 6
				s.Cavities[i].Hook = &h
			}
		}},
		{"heavier heads", ballSpec(3), nil, func(s *Spec) {
			for i := range s.Cavities {
				s.Cavities[i].Scale *= 1.2
			}
		}},
		{"turned", darterSpec(t, 2), nil, func(s *Spec) {
			for i := range s.Cavities {
				s.Cavities[i].Turn += 0.1
			}
		}},
		{"more rubber between", plainBalls(5, 7, 6), nil, func(s *Spec) { s.Frame.Between += 3; s.Frame.Over += 2 }},
		{"two rows", ballSpec(3), func(s *Spec) { s.Layout.Rows = 2 }, func(s *Spec) { s.Frame.ToWall += 2 }},
		{"other rows", ballSpec(3), func(s *Spec) { s.Layout.Rows = 2 }, func(s *Spec) { s.Layout.Rows = 1 }},
		{"under a runner", ballSpec(3), runner, func(s *Spec) { s.Sprue.GateWidth += 1 }},
		{"with a new runner", ballSpec(3), nil, runner},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.before != nil {
				c.before(&c.from)
			}
			last := buildOf(t, c.from)
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
			if size, is := got.Mold.Left.Outside.Size(), want.Left.Outside.Size(); size.Sub(is).Norm() > 0.02*is.Norm() {
				t.Errorf("the left frame takes %v, Build's %v", size, is)
			}
			for i, g := range got.Mold.Cavities {
				w := want.Cavities[i]
				near(t, "metal of "+w.Name, g.MetalVolume, w.MetalVolume, 1e-6*w.MetalVolume)
				near(t, "height of its gate below the edge", got.Mold.Left.Inside.Max.Y-g.GateAt.Y, want.Left.Inside.Max.Y-w.GateAt.Y, 0.02*w.GateAt.Dist(w.Eye)+0.1)
			}
		})
	}
}

func TestSketchIsRefused(t *testing.T) {
	last := buildOf(t, ballSpec(2))
	least, broken := ballSpec(2), ballSpec(2)
	least.Layout.Least = true
	broken.Sprue.Throat = -1
	for name, spec := range map[string]Spec{"another number": ballSpec(3), "a search": least} {
		if _, err := NewSketch(context.Background(), spec, last); !errors.Is(err, ErrNoSketch) {
			t.Errorf("%s: got error %v", name, err)
		}
	}
	var rule *SpecError
	if _, err := NewSketch(context.Background(), broken, last); !errors.As(err, &rule) {
		t.Errorf("a broken rule: got error %v", err)
	}
}
