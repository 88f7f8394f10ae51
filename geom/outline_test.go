package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

func square(x, y, side float64) []Vec2 {
	return []Vec2{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}}
}

func reversed(loop []Vec2) []Vec2 {
	out := make([]Vec2, len(loop))
	for i, p := range loop {
		out[len(loop)-1-i] = p
	}
	return out
}

func TestOutlineArea(t *testing.T) {
	pentagram := func(r float64) []Vec2 {
		var ps []Vec2
		for i := range 5 {
			s, c := math.Sincos(2 * math.Pi * float64(2*i%5) / 5)
			ps = append(ps, Vec2{r * c, r * s})
		}
		return ps
	}
	// The pentagram is five kites from its centre to its ten corners; inner
	// radius r/φ², φ the golden section (Euclid XIII; derived).
	phi := (1 + math.Sqrt(5)) / 2
	for _, c := range []struct {
		name  string
		o     Outline
		area  float64
		edges int
	}{
		{"empty", nil, 0, 0},
		{"two points", Outline{{{0, 0}, {1, 0}}}, 0, 0},
		{"square", Outline{square(1, 2, 3)}, 9, 4},
		{"clockwise square", Outline{reversed(square(1, 2, 3))}, 9, 4},
		{"hole", Outline{square(0, 0, 4), reversed(square(1, 1, 2))}, 12, 8},
		{"no hole: both the same way", Outline{square(0, 0, 4), square(1, 1, 2)}, 16, 4},
		{"crossing squares", Outline{square(0, 0, 2), square(1, 1, 2)}, 7, 8},
		{"crossing, opposite ways", Outline{square(0, 0, 2), reversed(square(1, 1, 2))}, 6, 12},
		{"the same square twice", Outline{square(0, 0, 2), square(0, 0, 2)}, 4, 4},
		{"a square and its undoing", Outline{square(0, 0, 2), reversed(square(0, 0, 2))}, 0, 0},
		{"side by side", Outline{square(0, 0, 1), square(1, 0, 1)}, 2, 6},
		{"half a side shared", Outline{square(0, 0, 2), square(2, 1, 2)}, 8, 8},
		{"touching at a corner", Outline{square(0, 0, 1), square(1, 1, 1)}, 2, 8},
		{"corner on a side", Outline{square(0, 0, 2), {{2, 1}, {3, 0.5}, {3, 1.5}}}, 4.5, 8},
		{"repeated points", Outline{{{0, 0}, {0, 0}, {1, 0}, {1, 1}, {1, 1}}}, 0.5, 3},
		{"pentagram", Outline{pentagram(2)}, 5 * 2 * 2 / (phi * phi) * math.Sin(math.Pi/5), 10},
		{"far from the origin", Outline{square(1000, -1000, 0.5), square(1000.25, -1000, 0.5)}, 0.375, 8},
	} {
		if got := c.o.Area(); math.Abs(got-c.area) > 1e-9 {
			t.Errorf("%s: area %v, want %v", c.name, got, c.area)
		}
		if got := len(c.o.boundary()); got != c.edges {
			t.Errorf("%s: %d boundary edges, want %d", c.name, got, c.edges)
		}
	}
}

// randomOutline is a few wild loops that cross themselves and one another.
func randomOutline(rng *rand.Rand) Outline {
	var o Outline
	for range 1 + rng.IntN(4) {
		var loop []Vec2
		c := Vec2{rng.Float64() * 6, rng.Float64() * 6}
		for range 3 + rng.IntN(7) {
			p := c.Add(Vec2{rng.NormFloat64() * 2, rng.NormFloat64() * 2})
			if rng.IntN(3) == 0 { // on a coarse lattice, so that edges and corners coincide
				p = Vec2{math.Round(p.X), math.Round(p.Y)}
			}
			loop = append(loop, p)
		}
		o = append(o, loop)
	}
	return o
}

func TestSignFollowsWinding(t *testing.T) {
	const seed = 11
	t.Logf("seed %d", seed)
	rng := rand.New(rand.NewPCG(seed, 0))
	for n := range 400 {
		o := randomOutline(rng)
		surface := newOutlineSurface(o.boundary())
		for range 200 {
			p := Vec2{rng.Float64()*14 - 4, rng.Float64()*14 - 4}
			d := surface.distance(p)
			if math.Abs(d) < 1e-9 {
				continue
			}
			if filled := o.Winding(p) != 0; filled != (d < 0) {
				t.Fatalf("outline %d %v: at %v winding %d, distance %v", n, o, p, o.Winding(p), d)
			}
		}
	}
}

func TestBoundaryIsClosed(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 0))
	for n := range 400 {
		o := randomOutline(rng)
		sum := map[Vec2]int{}
		for _, e := range o.boundary() {
			sum[e.a]++
			sum[e.b]--
		}
		for p, s := range sum {
			if s != 0 {
				t.Fatalf("outline %d %v: at %v as many as %d edges more leave than arrive", n, o, p, s)
			}
		}
	}
}

func TestNearestAgreesWithAllEdges(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 0))
	for range 60 {
		es := randomOutline(rng).boundary()
		tree := newEdgeTree(es)
		for range 100 {
			p := Vec2{rng.Float64()*14 - 4, rng.Float64()*14 - 4}
			best, dist := -1, math.Inf(1)
			for i, e := range es {
				q, _ := e.at(p)
				v := p.Sub(q)
				if d := v.Dot(v); d < dist {
					best, dist = i, d
				}
			}
			if i, d := tree.nearest(p); i != best || d != dist {
				t.Fatalf("at %v: edge %d at %v, want %d at %v", p, i, d, best, dist)
			}
		}
	}
}

func TestRectsOverlap(t *testing.T) {
	r := rect{Vec2{0, 0}, Vec2{4, 2}}
	for _, c := range []struct {
		s    rect
		want bool
	}{
		{rect{Vec2{1, 0.5}, Vec2{2, 1}}, true}, {rect{Vec2{-1, -1}, Vec2{9, 9}}, true},
		{rect{Vec2{4, 0}, Vec2{5, 2}}, true}, {rect{Vec2{4.1, 0}, Vec2{5, 2}}, false},
		{rect{Vec2{-1, 0}, Vec2{0, 2}}, true}, {rect{Vec2{-1, 0}, Vec2{-0.1, 2}}, false},
		{rect{Vec2{0, 2}, Vec2{4, 3}}, true}, {rect{Vec2{0, 2.1}, Vec2{4, 3}}, false},
		{rect{Vec2{0, -1}, Vec2{4, 0}}, true}, {rect{Vec2{0, -1}, Vec2{4, -0.1}}, false},
	} {
		if r.overlaps(c.s) != c.want || c.s.overlaps(r) != c.want {
			t.Errorf("%v and %v: want %v", r, c.s, c.want)
		}
	}
}

// A roof that falls by 1 in 10 to both sides lies between its ridge and its
// height at the ends of the rectangle.
func TestSlabOfARoof(t *testing.T) {
	s := newOutlineSurface(Outline{{{0, 3}, {-20, 1}, {-20, -9}, {20, -9}, {20, 1}}}.boundary())
	n, d, w, ok := s.slab(rect{Vec2{-2, 2}, Vec2{2, 4}})
	if !ok || n.Sub(Vec2{0, 1}).Norm() > 1e-12 || math.Abs(d-2.9) > 1e-9 || math.Abs(w-0.1) > 1e-9 {
		t.Errorf("normal %v, %v by %v, %v; want 2.9 by 0.1 upwards", n, d, w, ok)
	}
	n, d, w, ok = s.slab(rect{Vec2{-5, 1}, Vec2{-1, 4}})
	if up := (Vec2{-0.1, 1}); !ok || n.Sub(up.Mul(1/up.Norm())).Norm() > 1e-12 || math.Abs(d-3/up.Norm()) > 1e-12 || w != 0 {
		t.Errorf("normal %v, %v by %v, %v; want one plane", n, d, w, ok)
	}
	if _, _, _, ok := s.slab(rect{Vec2{-2, 3.5}, Vec2{2, 4}}); ok {
		t.Error("a slab where there is no surface")
	}
}

func TestOutlineMoves(t *testing.T) {
	o := Outline{square(1, 2, 3)}
	low, high := o.Mirror().Move(Vec2{10, 0}).Bounds()
	if low != (Vec2{6, 2}) || high != (Vec2{9, 5}) {
		t.Errorf("bounds %v %v", low, high)
	}
	if low, _ := o.Bounds(); low != (Vec2{1, 2}) {
		t.Errorf("the original moved to %v", low)
	}
	if a := o.Mirror().Area(); math.Abs(a-9) > 1e-12 {
		t.Errorf("mirrored area %v", a)
	}
}

// FuzzPrism must end, without a panic, whatever the points are, and keep the
// sign of the winding wherever the numbers are sane.
func FuzzPrism(f *testing.F) {
	f.Add(0.0, 0.0, 1.0, 0.0, 1.0, 1.0, 0.5, -1.0)
	f.Add(0.0, 0.0, 4.0, 0.0, 0.0, 4.0, 4.0, 4.0)                     // bow tie
	f.Add(1.0, 6.0, -108.66666666666667, 1.0, 1.0, 0.7, 1.0/3, -93.0) // two corners on a straight side
	f.Add(1.0/3, 33.375, 1.0, -55.0, -53.0, 1.0, 1.0, -55.0)          // there and back
	f.Add(0.0, -93.6, 1.0/6, -484.0, 0.0, 78.8, -8.6, -9.79e10)       // points crowd at this size
	f.Add(1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0)
	f.Add(math.NaN(), 0.0, math.Inf(1), 0.0, 1e300, 1.0, -1e-300, 5e-324)
	f.Fuzz(func(t *testing.T, a, b, c, d, e, g, h, k float64) {
		o := Outline{{{a, b}, {c, d}, {e, g}, {h, k}}, square(0, 0, 1)}
		s := Prism(o, -1, 1)
		s.BoundingBox()
		size := 0.0
		for _, p := range o[0] {
			size = math.Max(size, math.Max(math.Abs(p.X), math.Abs(p.Y)))
		}
		sane := size <= 1e3
		for _, p := range []Vec2{{0.31, 0.47}, {-0.2, 0.9}, {2.1, 0.7}} {
			v := s.Evaluate(Vec{p.X, p.Y, 0})
			clear := true // of the loops themselves, where a winding means nothing
			for _, loop := range o {
				for i, q := range loop {
					near, _ := edge2{q, loop[(i+1)%len(loop)]}.at(p)
					clear = clear && near.Sub(p).Norm() > 1e-6
				}
			}
			if sane && clear && (v < 0) != (o.Winding(p) != 0) {
				t.Errorf("at %v: %v, winding %d", p, v, o.Winding(p))
			}
		}
	})
}

// A rounded rectangle is the rectangle less four corners, in each of which twelve
// triangles of r²/2·sin 7.5° are left; a radius too large for it makes the ends round.
func TestRoundedRectangle(t *testing.T) {
	for _, c := range []struct{ r, used float64 }{{2, 2}, {3, 3}, {99, 3}, {0, 0}, {-1, 0}} {
		o := Outline{RoundedRectangle(Vec2{-4, 1}, Vec2{6, 7}, c.r)}
		want := 60 - 4*c.used*c.used + 24*c.used*c.used*math.Sin(math.Pi/24)
		low, high := o.Bounds()
		if got := loopArea(o); math.Abs(got-want) > 1e-12 || low != (Vec2{-4, 1}) || high != (Vec2{6, 7}) {
			t.Errorf("radius %g: %.12g mm² from %v to %v, want %.12g", c.r, got, low, high, want)
		}
	}
	for _, p := range Circle(Vec2{3, -2}, 5) {
		if d := p.Sub(Vec2{3, -2}).Norm(); math.Abs(d-5) > 1e-12 {
			t.Errorf("%v is %g from the middle of a circle of 5", p, d)
		}
	}
	if d := (rect{Vec2{1, 2}, Vec2{4, 6}}).halfDiagonal(); d != 2.5 {
		t.Errorf("half the diagonal of 3 by 4 is %g", d)
	}
}

// Points within eps are one point, to whichever side of the first they are, and
// beyond it two.
func TestPointsWithinEpsAreOne(t *testing.T) {
	for i := range 16 {
		sin, cos := math.Sincos(math.Pi / 8 * float64(i))
		for _, c := range []struct {
			far  float64
			want int
		}{{0.99, 1}, {1.01, 2}} {
			a := &arrangement{eps: 1, cells: map[[2]int64][]int32{}}
			p := Vec2{7.5, 3.5}
			a.intern(p)
			a.intern(p.Add(Vec2{c.far * cos, c.far * sin}))
			if len(a.points) != c.want {
				t.Errorf("direction %d, %g apart: %d points", i, c.far, len(a.points))
			}
		}
	}
}

// Far away, where a distance has lost its last digits, the range still holds those of
// the corners; along the diagonal of a square they are its very ends.
func TestRangeFarFromAnOutline(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 0))
	s := newOutlineSurface(Outline{square(-1, -1, 1)}.boundary())
	for range 500 {
		far, half := math.Pow(10, 8*rng.Float64()), rng.Float64()
		r := rect{Vec2{far - half, far - half}, Vec2{far + half, far + half}}
		in := s.values(r)
		for k := range 4 {
			if d := s.distance(r.corner(k)); !in.Contains(d) {
				t.Fatalf("%v: %.17g at corner %d, range %.17g to %.17g", r, d, k, in.Lo, in.Hi)
			}
		}
	}
}

// Pruned to a rectangle an outline keeps the edges that may be nearest to a point of it:
// not those that are farther from all of it than every point of it is from another.
func TestPruningKeepsTheEdgesNearby(t *testing.T) {
	whole := newOutlineSurface(Outline{Circle(Vec2{}, 5), reversed(square(-1, -1, 2))}.boundary())
	pruned := 0
	for i := range 40 {
		sin, cos := math.Sincos(float64(i))
		at, half := Vec2{0.15 * float64(i) * cos, 0.15 * float64(i) * sin}, 0.05*float64(i%9)
		if i%9 == 8 {
			half = float64(i) / 9 // as far as many of the edges, or all
		}
		r := rect{at, at}.grow(half)
		most, want := math.Inf(1), 0
		for _, e := range whole.tree.edges {
			most = math.Min(most, e.reach(r))
		}
		for _, e := range whole.tree.edges {
			if e.gap(r) <= most*(1+1e-9) {
				want++
			}
		}
		part := whole.pruneByValue(r)
		if same := 3*want > 2*len(whole.tree.edges); (part == whole) != same {
			t.Errorf("%v: with %d of %d edges left it is the same: %v", r, want, len(whole.tree.edges), part == whole)
		}
		if part != whole {
			pruned++
			if got := len(part.tree.edges); got != want {
				t.Errorf("%v: %d edges, want %d", r, got, want)
			}
		}
	}
	if pruned < 20 {
		t.Errorf("pruned %d times of 40", pruned)
	}
}

// A box beside a wall comes no nearer to it than its side does, however long the box.
func TestRangeAlongAWall(t *testing.T) {
	s := newOutlineSurface(Outline{square(0, 0, 100)}.boundary())
	for _, c := range []struct{ x0, x1, lo, hi float64 }{{10, 12, -12, -10}, {-12, -10, 10, 12}, {-2, 1, -1, 2}} {
		got := s.values(rect{Vec2{c.x0, 40}, Vec2{c.x1, 60}})
		if got.Lo > c.lo || got.Hi < c.hi || c.lo > 0 && got.Lo < c.lo-1e-9 || c.hi < 0 && got.Hi > c.hi+1e-9 {
			t.Errorf("x from %g to %g: %v, want %g to %g", c.x0, c.x1, got, c.lo, c.hi)
		}
	}
}
