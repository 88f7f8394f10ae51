package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestPrismDistance(t *testing.T) {
	// An L of 3 x 3 less its upper right 2 x 2, raised from 0 to 2.
	l := Prism(Polygon(Vec2{0, 0}, Vec2{3, 0}, Vec2{3, 1}, Vec2{1, 1}, Vec2{1, 3}, Vec2{0, 3}), 2, 0)
	for _, c := range []struct {
		p    Vec
		want float64
	}{
		{Vec{0.5, 0.5, 1}, -0.5},
		{Vec{0.7, 0.7, 1}, -0.3 * math.Sqrt2}, // nearest the inner corner
		{Vec{0.5, 2, 0.1}, -0.1},
		{Vec{0.5, 2, 1.8}, -0.2},
		{Vec{2, 2, 1}, 1},
		{Vec{2, 2, 3}, math.Sqrt2},
		{Vec{-3, -4, 1}, 5},
		{Vec{-2, -3, 8}, 7}, // √(4+9+36)
		{Vec{1, 1, 1}, 0},
		{Vec{0.5, 0.5, 2}, 0},
		{Vec{0.5, 0.5, -4}, 4},
	} {
		if got := l.Evaluate(c.p); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("at %v: %v, want %v", c.p, got, c.want)
		}
	}
	if b := l.BoundingBox(); b != (Box{Vec{0, 0, 0}, Vec{3, 3, 2}}) {
		t.Errorf("box %v", b)
	}
}

func TestPrismOfNothing(t *testing.T) {
	for name, s := range map[string]Solid{
		"no loops":  Prism(nil, 0, 1),
		"no height": Prism(Outline{square(0, 0, 1)}, 1, 1),
	} {
		if v := s.Evaluate(Vec{0.5, 0.5, 0.5}); !math.IsInf(v, 1) {
			t.Errorf("%s: %v, want +Inf", name, v)
		}
		if !s.BoundingBox().IsEmpty() {
			t.Errorf("%s: box %v", name, s.BoundingBox())
		}
	}
}

func boxNear(rng *rand.Rand, in Box, most float64) Box {
	size := most * math.Pow(rng.Float64(), 3)
	at := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	m := Vec{at(in.Min.X, in.Max.X), at(in.Min.Y, in.Max.Y), at(in.Min.Z, in.Max.Z)}
	return Box{m, m.Add(Vec{size * rng.Float64(), size * rng.Float64(), size * rng.Float64()})}
}

func pointIn(rng *rand.Rand, b Box) Vec {
	s := b.Size()
	return b.Min.Add(Vec{s.X * rng.Float64(), s.Y * rng.Float64(), s.Z * rng.Float64()})
}

// checkPruning holds the optional abilities against the solid itself.
func checkAbilities(t *testing.T, rng *rand.Rand, s Solid, boxes int) (slabs, lighter int) {
	t.Helper()
	for range boxes {
		b := boxNear(rng, s.BoundingBox().Grow(1), 3)
		in, part := Range(s, b), PruneByValue(s, b)
		slab, flat := SlabOf(s, b)
		inPart := Range(part, b)
		if flat {
			slabs++
			if math.Abs(slab.N.Norm()-1) > 1e-12 {
				t.Fatalf("box %v: slab normal %v", b, slab.N)
			}
		}
		if part != s {
			lighter++
		}
		for range 20 {
			p := pointIn(rng, b)
			v := s.Evaluate(p)
			if !in.Contains(v) || !inPart.Contains(v) {
				t.Fatalf("box %v at %v: %v is not in %v and %v", b, p, v, in, inPart)
			}
			if w := part.Evaluate(p); w != v {
				t.Fatalf("box %v at %v: %v, trimmed %v", b, p, v, w)
			}
			h := slab.N.Dot(p) - slab.D
			if flat && (h < -slab.W && v > 1e-12 || h > slab.W && v < -1e-12) {
				t.Fatalf("box %v at %v: slab %v, height %v, value %v", b, p, slab, h, v)
			}
		}
	}
	return slabs, lighter
}

func TestPrismPruning(t *testing.T) {
	const seed = 21
	t.Logf("seed %d", seed)
	rng := rand.New(rand.NewPCG(seed, 0))
	slabs, lighter := 0, 0
	for range 60 {
		s := Prism(randomOutline(rng), -1, 1.5)
		if s.BoundingBox().IsEmpty() {
			continue
		}
		a, b := checkAbilities(t, rng, s, 100)
		slabs, lighter = slabs+a, lighter+b
	}
	if slabs < 300 || lighter < 300 {
		t.Errorf("only %d slabs and %d lighter parts in 6000 boxes: the abilities are hardly used", slabs, lighter)
	}
}

func TestPrismLaws(t *testing.T) {
	const seed = 22
	t.Logf("seed %d", seed)
	rng := rand.New(rand.NewPCG(seed, 0))
	for range 100 {
		s := Prism(randomOutline(rng), -1, 1.5)
		b := s.BoundingBox()
		if b.IsEmpty() {
			continue
		}
		for range 200 {
			p := pointIn(rng, b.Grow(2))
			q := p.Add(Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Mul(rng.Float64()))
			v, w := s.Evaluate(p), s.Evaluate(q)
			if math.Abs(v-w) > p.Dist(q)+1e-12 {
				t.Fatalf("law 1: %v at %v, %v at %v", v, p, w, q)
			}
			if d := b.Distance(p); d > 0 && v < d-1e-12 {
				t.Fatalf("law 2: %v at %v, box at %v", v, p, b.Distance(p))
			}
			// The field is exact: against its gradient lies the surface, at |v|.
			g, dir := Gradient(s, p)
			foot := p.Sub(dir.Mul(g))
			if g != v || math.Abs(dir.Norm()-1) > 1e-9 || math.Abs(s.Evaluate(foot)) > 1e-9 {
				t.Fatalf("grade at %v: %v %v, value %v, at its foot %v", p, g, dir, v, s.Evaluate(foot))
			}
		}
	}
}

func TestSlabOfCurvedWallIsThin(t *testing.T) {
	// 720 edges on a circle of 10: over 1 mm the surface leaves its chord by
	// 1/(8·10) mm, so the slab must be about half of that either way.
	var loop []Vec2
	for i := range 720 {
		s, c := math.Sincos(math.Pi * float64(i) / 360)
		loop = append(loop, Vec2{10 * c, 10 * s})
	}
	slab, ok := SlabOf(Prism(Outline{loop}, 0, 5), Box{Vec{9.5, -0.5, 1}, Vec{10.5, 0.5, 2}})
	if !ok || slab.W > 0.0075 || slab.W < 0.005 {
		t.Errorf("slab %+v %v", slab, ok)
	}
}

func BenchmarkPrism(b *testing.B) {
	o, _, err := Text("SHAD 3/8 oz LEFT 2 of 4", 5)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("make", func(b *testing.B) {
		for b.Loop() {
			Prism(o, 0, 0.5)
		}
	})
	s := Prism(o, 0, 0.5)
	rng := rand.New(rand.NewPCG(1, 0))
	ps := make([]Vec, 1000)
	for i := range ps {
		ps[i] = pointIn(rng, s.BoundingBox())
	}
	b.Run("evaluate", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			s.Evaluate(ps[i%len(ps)])
		}
	})
	part := PruneByValue(s, Box{Vec{1, 1, 0}, Vec{2, 2, 1}})
	b.Run("evaluate trimmed", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			p := ps[i%len(ps)]
			part.Evaluate(Vec{1 + p.X/60, 1 + p.Y/5, p.Z})
		}
	})
}

// The depth between the caps is greatest half-way.
func TestPrismRangeAlong(t *testing.T) {
	s := Prism(Outline{square(0, 0, 100)}, 2, 8).(*prism)
	for _, c := range []struct{ z0, z1, lo, hi float64 }{
		{3, 4, -2, -1}, {4, 6, -3, -2}, {4.5, 7.5, -3, -0.5}, {6, 7, -2, -1},
		{0, 1, 1, 2}, {9, 12, 1, 4}, {0, 20, -3, 12}, {5, 6, -3, -2}, {4, 5, -3, -2},
	} {
		got := s.alongRange(Box{Vec{50, 50, c.z0}, Vec{51, 51, c.z1}})
		if math.Abs(got.Lo-c.lo) > 2e-12 || math.Abs(got.Hi-c.hi) > 2e-12 {
			t.Errorf("from %g to %g: %v, want [%g, %g]", c.z0, c.z1, got, c.lo, c.hi)
		}
	}
}

// Both sides of a wall in one box make no slab; one side
// that runs right through it does.
func TestPrismSlabsKeepToOneSide(t *testing.T) {
	wall := Prism(Polygon(Vec2{0, -5}, Vec2{1, -5}, Vec2{1, 5}, Vec2{0, 5}), 0, 5)
	for _, c := range []struct {
		name           string
		x0, x1, y0, y1 float64
		want           bool
	}{
		{"both sides, alike", -1, 2, -1, 1, false},
		{"one side", -1, 0.5, -1, 1, true},
		{"nothing", 0.2, 0.8, -1, 1, false},
	} {
		if l, ok := SlabOf(wall, Box{Vec{c.x0, c.y0, 1}, Vec{c.x1, c.y1, 2}}); ok != c.want || ok && l != (Slab{N: Vec{X: -1}}) {
			t.Errorf("%s: %+v, %v", c.name, l, ok)
		}
	}
}
