package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

// slowBoxDistance projects to and fro between box and triangle, which for two
// convex sets converges to the distance from above.
func slowBoxDistance(b Box, t *triangle) float64 {
	q := b.Centre()
	for range 3000 {
		way, _ := t.closest(q)
		p := q.Sub(way)
		q = p.Max(b.Min).Min(b.Max)
		if p == q {
			return 0
		}
	}
	way, _ := t.closest(q)
	return way.Norm()
}

func TestBoundsOfTriangleAndBox(t *testing.T) {
	const seed = 22
	r := rand.New(rand.NewPCG(seed, 0))
	touching, close := 0, 0
	for range 3000 {
		tri := randomTriangle(r)
		b := BoxOf(randomVec(r), randomVec(r))
		f := frameOf(b)
		way, _ := tri.closest(f.centre)
		beyond := f.beyond(way, way.Norm())
		gap, bounds, far := f.gap(&tri), f.boundsGap(&tri), f.farthest(&tri)
		want := slowBoxDistance(b, &tri)
		if low := max(beyond, gap, bounds); low > want+1e-9 {
			t.Fatalf("seed %d: %v and %+v: bounds %g %g %g, want at most %g", seed, b, tri, beyond, gap, bounds, want)
		} else if want > 0.01 && low > 0.8*want {
			close++
		}
		// Between nearly parallel sets the projections take for ever.
		if gap < -0.01 && want > 0.001 {
			t.Fatalf("seed %d: %v and %+v: gap %g, but distance %g", seed, b, tri, gap, want)
		}
		if want == 0 {
			touching++
		}
		p := tri.clip(&b)
		if (p.n > 0) != (gap <= 0) && math.Abs(gap) > 1e-9 {
			t.Fatalf("seed %d: %v and %+v: clipped to %d corners, but gap %g", seed, b, tri, p.n, gap)
		}
		for range 20 {
			if d := slowDistance(&tri, randomIn(r, b)); d > far+1e-9 {
				t.Fatalf("seed %d: %v and %+v: farthest %g, found %g", seed, b, tri, far, d)
			}
		}
	}
	if touching < 300 || close < 300 {
		t.Errorf("%d touching, %d with close bounds: the draw is too easy", touching, close)
	}
}

// The parts of a triangle in the eight octants of its box make up the whole.
func TestClipLosesNothing(t *testing.T) {
	const seed = 23
	r := rand.New(rand.NewPCG(seed, 0))
	for range 3000 {
		tri := randomTriangle(r)
		whole := BoxOf(tri.a, tri.b, tri.c)
		mid := randomIn(r, whole)
		var sum Vec
		for i := range 8 {
			part := Box{mid.Min(whole.Corner(i)), mid.Max(whole.Corner(i))}
			p := tri.clip(&part)
			for _, v := range p.at[:p.n] {
				if !part.Grow(1e-12).Contains(v) {
					t.Fatalf("seed %d: %v is not in %v", seed, v, part)
				}
			}
			sum = sum.Add(p.areaNormal())
		}
		if d := sum.Dist(tri.normal().Mul(0.5)); d > 1e-12 {
			t.Fatalf("seed %d: parts of %+v are off by %g mm²", seed, tri, d)
		}
	}
}

// A triangle that touches the box, from whichever side, does not miss it; one a
// last digit away does.
func TestTouchingIsNotMissing(t *testing.T) {
	b := Box{Vec{-1, -2, -3}, Vec{4, 5, 6}}
	for k := range 3 {
		for _, side := range [2]float64{b.Min.along(k), b.Max.along(k)} {
			away := math.Nextafter(side, side+side-b.Centre().along(k))
			for _, c := range []struct {
				at   float64
				want bool
			}{{side, false}, {away, true}} {
				tri := triangle{Vec{}, Vec{X: 1, Y: 1}, Vec{Y: 1, Z: 1}}
				for _, p := range [3]*Vec{&tri.a, &tri.b, &tri.c} { // two beyond, one nearest
					p.setAlong(k, 9*side)
				}
				tri.b.setAlong(k, c.at)
				if got := b.misses(&tri); got != c.want {
					t.Errorf("axis %d, a corner at %g: %v, want %v", k, c.at, got, c.want)
				}
			}
		}
	}
}
