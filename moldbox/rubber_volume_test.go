package moldbox

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
)

// Rubber whose cavities are measured by themselves, alike ones once, is what it is when
// measured whole. Where cavities run into each other it is measured whole.
func TestRubberByCavities(t *testing.T) {
	colliding := plainBalls(8, 8, 8)
	colliding.Frame.Pitch = 13
	collide := buildOf(t, colliding)
	coated := plainBalls(6, 6, 8)
	coated.Finish.SealCoat = 0.1
	for _, c := range []struct {
		name  string
		mold  *Mold
		apart bool
		kinds int // of cavities
	}{
		{"one", ballMold(t, 1), true, 1},
		{"three alike", ballMold(t, 3), true, 1},
		{"three kinds, under a coat", buildOf(t, coated), true, 3},
		{"colliding", collide, false, 3},
	} {
		const share = 2e-3
		for _, h := range c.mold.Halves() {
			hollows := c.mold.hollowsIn(h)
			if got := c.mold.keepApart(h, hollows); got != c.apart {
				t.Errorf("%s, %s half: apart %v", c.name, h.Name, got)
			}
			kinds := 0
			for i := range hollows {
				if like := c.mold.Cavities[i].AlikeTo; like == i || !c.mold.standAlike(h, hollows, like, i) {
					kinds++
				}
			}
			want, err := geom.Integrate(context.Background(), h.Rubber(), geom.IntegrateOptions{RelTol: share})
			if err != nil {
				t.Fatal(err)
			}
			got, err := c.mold.rubberVolume(context.Background(), h, share)
			if err != nil || got.Lo > want.Hi || got.Hi < want.Lo || math.Abs(got.Best-want.Best) > share*want.Best || kinds != c.kinds {
				t.Errorf("%s, %s half: %.1f to %.1f mm³ of %d kinds (%v), measured whole %.1f to %.1f", c.name, h.Name, got.Lo, got.Hi, kinds, err, want.Lo, want.Hi)
			}
			if whole := got == want; whole == c.apart {
				t.Errorf("%s, %s half: measured whole: %v", c.name, h.Name, whole)
			}
			narrow := h
			narrow.Inside.Max.X = 1
			if len(hollows) > 1 && c.mold.standAlike(narrow, hollows, 0, 1) {
				t.Errorf("%s, %s half: alike beside a short wall", c.name, h.Name)
			}
		}
	}
}

// What marks take of the rubber is reckoned: as much as is measured of their solid over
// the floor. A mark on a key, in a wall or on another mark is not.
func TestRubberByMarks(t *testing.T) {
	m := ballMold(t, 1)
	for _, h := range m.Halves() {
		in := geom.Intersect(h.Fill, h.Marking, geom.HalfSpace(geom.Vec{Z: -1}, 0))
		want, err := geom.Integrate(context.Background(), in, geom.IntegrateOptions{RelTol: 2e-4})
		if err != nil {
			t.Fatal(err)
		}
		got := m.markVolume(h)
		if !(got > 1 && got >= want.Lo && got <= want.Hi && math.Abs(got-want.Best) < 1e-3*got) {
			t.Errorf("%s half: marks of %.3f mm³, measured %.3f to %.3f", h.Name, got, want.Lo, want.Hi)
		}
	}
	h := m.Left
	mk := m.made.by.leftMarks[0]
	low, high := mk.outline.Bounds()
	for name, to := range map[string]geom.Vec2{ // its lower left corner
		"a key":        {X: m.Keys[0].At.X - (high.X-low.X)/2, Y: m.Keys[0].At.Y - (high.Y-low.Y)/2},
		"a wall":       {X: h.Inside.Min.X - 1, Y: low.Y},
		"another mark": low.Add(geom.Vec2{X: 1}),
	} {
		by := *m.made.by
		by.leftMarks = []mark{newMark(mk.outline.Move(to.Sub(low)))}
		if name == "another mark" {
			by.leftMarks = append(by.leftMarks, mk)
		}
		moved, half := *m, h
		moved.made.by = &by
		half.Marking = by.leftMarks[0].solid(-sink, by.spec.Marking.Relief)
		if moved.keepApart(half, moved.hollowsIn(half)) {
			t.Errorf("a mark on %s counts as by itself", name)
		}
	}
}

func TestDisjoint(t *testing.T) {
	ball := func(x float64) geom.Solid { return geom.Ball(geom.Vec{X: x}, 5) }
	for _, c := range []struct {
		apart float64
		want  bool
	}{{20, true}, {10.3, true}, {9.9, false}, {3, false}, {0, false}} {
		if got := disjoint(geom.Intersect(ball(0), ball(c.apart)), mostHalvings); got != c.want {
			t.Errorf("balls of 10 mm, middles %g mm apart: %v", c.apart, got)
		}
	}
}
