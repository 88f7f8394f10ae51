package skeleton

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
)

// bent is a wire of 1 mm along an L of 20 and 12 mm, and what joins it.
func bent(more ...geom.Solid) geom.Solid {
	return geom.Union(append(more,
		geom.Capsule(geom.Vec{X: 2}, geom.Vec{X: 20}, 0.5), geom.Capsule(geom.Vec{X: 20}, geom.Vec{X: 20, Y: 12}, 0.5))...)
}

// An eye, a barb, and both turned any way: the ring, the way to the far end and the
// branch are found.
func TestShapeOfWires(t *testing.T) {
	eye := geom.Torus(geom.Vec{}, geom.Vec{Z: 1}, 1.8, 0.5)
	barb := geom.Capsule(geom.Vec{X: 20, Y: 9}, geom.Vec{X: 18.2, Y: 7.4}, 0.25)
	for _, c := range []struct {
		name     string
		solid    geom.Solid
		ring     bool
		branches int
	}{
		{"a wire", bent(), false, 0},
		{"with an eye", bent(eye), true, 0},
		{"with an eye across", bent(geom.Torus(geom.Vec{}, geom.Vec{Y: 1}, 1.8, 0.5)), true, 0},
		{"with an eye and a barb", bent(eye, barb), true, 1},
		{"with a barb", bent(barb), false, 1},
	} {
		for _, turn := range []geom.Transform{geom.Identity(), geom.Rotate(geom.Vec{X: 1, Y: 2, Z: 3}, 0.7)} {
			s, err := Of(context.Background(), turn.Solid(c.solid), 0.1)
			if err != nil {
				t.Fatal(err)
			}
			sh := s.Shape()
			if (len(sh.Ring) > 0) != c.ring || len(sh.Branches) != c.branches {
				t.Errorf("%s: ring of %d nodes, %d branches", c.name, len(sh.Ring), len(sh.Branches))
				continue
			}
			ends := map[bool]geom.Vec{true: sh.Tip, false: turn.Point(geom.Vec{X: 20, Y: 12.5})}
			if !c.ring && sh.Tip.Dist(ends[false]) > 5 {
				ends[true] = sh.Start // either end may come first
			}
			if d := ends[true].Dist(ends[false]); d > 0.3 {
				t.Errorf("%s: the far end is %.2f mm off", c.name, d)
			}
			if c.ring {
				middle := geom.Vec{}
				for _, n := range sh.Ring {
					middle = middle.Add(s.Nodes[n].At.Mul(1 / float64(len(sh.Ring))))
				}
				if d := middle.Dist(turn.Point(geom.Vec{})); d > 0.4 {
					t.Errorf("%s: the ring's middle is %.2f mm off", c.name, d)
				}
			}
			for _, b := range sh.Branches {
				if d := s.Nodes[b[len(b)-1]].At.Dist(turn.Point(geom.Vec{X: 18.2, Y: 7.4})); d > 0.5 {
					t.Errorf("%s: the branch ends %.2f mm off", c.name, d)
				}
			}
		}
	}
}

// The nodes' volumes add up to the solid's; a ball has a skeleton too.
func TestNodesHoldTheSolid(t *testing.T) {
	s, err := Of(context.Background(), geom.Ball(geom.Vec{}, 3), 0.2)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, n := range s.Nodes {
		sum += n.Volume
	}
	if want := 4.0 / 3 * math.Pi * 27; math.Abs(sum-want) > 0.02*want {
		t.Errorf("nodes hold %.1f mm³, want %.1f", sum, want)
	}
	if sh := s.Shape(); len(sh.Ring) != 0 {
		t.Errorf("a ball with a ring of %d nodes", len(sh.Ring))
	}
}

func TestSkeletonRefuses(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	if _, err := Of(ctx, geom.Capsule(geom.Vec{}, geom.Vec{X: 5}, 0.01), 0.5); err == nil {
		t.Error("took what is thinner than its cells")
	}
	if _, err := Of(ctx, geom.Ball(geom.Vec{}, 500), 0.1); err == nil {
		t.Error("cut a ball of a metre into a tenth of a millimetre")
	}
	stop()
	if _, err := Of(ctx, bent(), 0.1); err != context.Canceled {
		t.Errorf("got %v when stopped", err)
	}
}
