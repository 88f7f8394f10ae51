package moldbox

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
)

func buildOf(t testing.TB, spec Spec) *Mold {
	t.Helper()
	m, err := Build(context.Background(), spec)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// climb walks from a point inside a vent up to the top edge through points
// inside it, and returns how high it got.
func climb(vent geom.Solid, from geom.Vec, top float64) float64 {
	const step = 0.1
	p := from
	for p.Y < top {
		next, best := p, 0.0
		for x := -6 * step; x <= 6*step; x += step / 2 { // leaning, at least 1:6
			q := geom.Vec{X: p.X + x, Y: p.Y + step}
			if v := vent.Evaluate(q); v < best {
				next, best = q, v
			}
		}
		if best >= 0 {
			break
		}
		p = next
	}
	return p.Y
}

// Every vent starts on its head, joins it, rises all the way, and ends through
// the top edge.
func TestVentsRiseToTheTop(t *testing.T) {
	for name, spec := range map[string]Spec{
		"ball": plainBalls(6), "small ball": plainBalls(4.2), "big ball": plainBalls(14), "jigs": ballSpec(2), "darters": darterSpec(t, 2),
	} {
		spec.Vents.Count = 2
		m := buildOf(t, spec)
		for _, c := range m.Cavities {
			if len(c.VentsAt) != 2 {
				t.Errorf("%s: %d vents, want 2: %v", name, len(c.VentsAt), m.Findings)
			}
			for _, at := range c.VentsAt {
				near(t, name+": start on the head", c.Head.Evaluate(at), 0, 0.05)
				if v := c.Vent.Evaluate(at); v > -0.2 {
					t.Errorf("%s: at its start the vent's value is %.3f", name, v)
				}
				top := m.Left.Inside.Max.Y
				if y := climb(c.Vent, at, top); y < top-1e-9 {
					t.Errorf("%s: the vent from %v ends at y = %.2f, the top edge is %.2f", name, at, y, top)
				}
				if d := c.Sprue.Evaluate(at); d < leastRubber {
					t.Errorf("%s: the vent starts %.2f mm from the sprue", name, d)
				}
			}
			if n, close := nearest(c.Vent, c.Sprue, leastRubber-0.1); close {
				t.Errorf("%s: vent and sprue come too near at %v", name, n.at)
			}
			if c.Bed != nil {
				if n, close := nearest(c.Vent, c.Bed, leastRubber-0.1); close {
					t.Errorf("%s: vent and hook come too near at %v", name, n.at)
				}
			}
		}
	}
}

// A head of two humps traps air under the hump that has no gate: that is where
// the vent belongs.
func TestVentAtSecondHump(t *testing.T) {
	head := geom.Union(geom.Ball(geom.Vec{X: -9}, 6), geom.Ball(geom.Vec{X: 9}, 5), geom.Capsule(geom.Vec{X: -9}, geom.Vec{X: 9}, 2))
	spec := Default()
	spec.Cavities = []Cavity{{Head: head, Pose: plainPose}}
	c := buildOf(t, spec).Cavities[0]
	near(t, "gate over the higher hump", c.GateAt.X-c.ToMold(geom.Vec{X: -9}).X, 0, 0.2)
	if len(c.VentsAt) != 1 {
		t.Fatalf("%d vents, want 1", len(c.VentsAt))
	}
	near(t, "vent on the other hump", c.VentsAt[0].Dist(c.ToMold(geom.Vec{X: 9, Y: 5})), 0, 0.15)
}

func TestPeaks(t *testing.T) {
	// Heights 5 and 4 with a saddle at 2: the lower one is 2 high.
	s := section{step: 1}
	for _, h := range []float64{1, 3, 5, 3, 2, 4, 4, 1} {
		s.columns = append(s.columns, []span{{0, h}})
	}
	// Below an overhang, a pocket of its own.
	s.columns = append(s.columns, []span{{0, 1}, {6, 7}}, []span{{0, 2}, {6, 8}}, []span{{0, 1}, {6, 7}})
	ps := s.peaks(0.5)
	want := []struct{ x, y, fall float64 }{{9, 8, math.Inf(1)}, {2, 5, math.Inf(1)}, {5.5, 4, 2}, {9, 2, 1}}
	if len(ps) != len(want) {
		t.Fatalf("%d peaks, want %d: %v", len(ps), len(want), ps)
	}
	for i, w := range want {
		near(t, "x", ps[i].at.X, w.x, 1e-9)
		near(t, "y", ps[i].at.Y, w.y, 1e-9)
		if ps[i].prominence != w.fall {
			t.Errorf("peak %d: prominence %g, want %g", i, ps[i].prominence, w.fall)
		}
	}
}

func TestSectionOfBall(t *testing.T) {
	ball := geom.Ball(geom.Vec{X: 2, Y: 1, Z: 1.5}, 6)
	s := traceSection(context.Background(), ball, reach(ball))
	r := math.Sqrt(36 - 2.25)
	for i, c := range s.columns {
		dx := s.x(i) - 2
		if math.Abs(dx) > r-0.05 {
			continue
		}
		h := math.Sqrt(r*r - dx*dx)
		if len(c) != 1 {
			t.Fatalf("column at %.2f has %d spans", s.x(i), len(c))
		}
		near(t, "low", c[0].lo, 1-h, 1e-3)
		near(t, "high", c[0].hi, 1+h, 1e-3)
	}
}

// A channel runs on into the head until it lies 0.3 mm below the surface.
func TestVentRunsIntoTheHead(t *testing.T) {
	v := ventingUnder(-30, -20)
	near(t, "straight in", v.into(geom.Vec{Y: 4}, geom.Vec{Y: -1}), 0.35, 0.06)
	// 30° off the surface it takes 0.3/sin 30° and more, for the ball is round.
	near(t, "slanting in", v.into(geom.Vec{Y: 4}, geom.Vec{X: math.Sqrt(3) / 2, Y: -0.5}), 0.75, 0.1)
	near(t, "along the surface", v.into(geom.Vec{Y: 4}, geom.Vec{X: 1}), 0.6, 0)
}

// Straight up where that is free, else leaning to the nearer side of what is over
// it by as little as keeps clear: the channel's half width and the least rubber.
func TestVentLeansAside(t *testing.T) {
	const aside = 0.5 + leastRubber
	for _, c := range []struct {
		x0, x1 float64 // of the bar over it
		lo, hi float64 // where it may come out
	}{{-30, -20, 0, 0}, {-30, 2.4, 2.4 + aside, 2.9 + aside}, {-2.4, 30, -2.9 - aside, -2.4 - aside}, {-3, 2.4, 2.4 + aside, 2.9 + aside}} {
		v := ventingUnder(c.x0, c.x1)
		ch, ok := v.upward(geom.Vec{Y: 4})
		if !ok {
			t.Errorf("bar from %g to %g: no way", c.x0, c.x1)
			continue
		}
		end := ch.way[len(ch.way)-1]
		if end.X < c.lo-1e-9 || end.X > c.hi+1e-9 || end.Y != v.end || ch.way[0] != (geom.Vec{Y: 4}) {
			t.Errorf("bar from %g to %g: %v", c.x0, c.x1, ch.way)
		}
	}
}
