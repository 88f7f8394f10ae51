package geom_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// randomTransform leaves boxes boxes as often as not.
func randomTransform(rng *rand.Rand) geom.Transform {
	angle := 2 * math.Pi * rng.Float64()
	axis := randomVec(rng, 1)
	if rng.IntN(2) == 0 {
		axis, angle = randomAxis(rng), math.Pi/2*float64(rng.IntN(4))
	}
	p := geom.Rotate(axis, angle)
	if rng.IntN(3) == 0 {
		p = p.Then(geom.MirrorX())
	}
	return p.Then(geom.Scale(0.5 + rng.Float64())).Then(geom.Move(randomVec(rng, 3)))
}

// randomTree draws up to n primitives and combines them.
func randomTree(rng *rand.Rand, n, depth int) geom.Solid {
	var children []geom.Solid
	for range n {
		var s geom.Solid
		if depth > 0 && rng.IntN(4) == 0 {
			s = randomTree(rng, 2+rng.IntN(3), depth-1)
		} else {
			s = families[rng.IntN(len(families))].draw(rng)
		}
		switch rng.IntN(4) {
		case 0:
			s = randomTransform(rng).Solid(s)
		case 1:
			s = geom.Offset(s, 1.5*(rng.Float64()-0.4))
		}
		children = append(children, s)
	}
	switch rng.IntN(5) {
	case 0:
		return geom.Union(children...)
	case 1:
		return geom.Intersect(children[:2]...)
	case 2:
		return geom.SmoothUnion(rng.Float64()*2, children[0], geom.Union(children[1:]...))
	case 3:
		return geom.Intersect(geom.Union(children[:n/2]...), geom.Union(children[n/2:]...))
	}
	return geom.Subtract(geom.Union(children[:(n+1)/2]...), children[(n+1)/2:]...)
}

func TestCombinationsKeepTheLaws(t *testing.T) {
	const seed = 43
	rng := rand.New(rand.NewPCG(seed, 0))
	for i := range 60 {
		s := randomTree(rng, 2+rng.IntN(39), 2)
		geomtest.CheckSolid(t, s, finiteBox(s), int64(i))
		if t.Failed() {
			t.Fatalf("seed %d, solid %d: %T", seed, i, s)
		}
	}
}

func TestCombinationsFlatten(t *testing.T) {
	a, b, c := geom.Ball(geom.Vec{}, 1), geom.Ball(geom.Vec{X: 1}, 1), geom.Ball(geom.Vec{X: 0.5}, 1)
	for name, pair := range map[string][2]geom.Solid{
		"union of one":        {geom.Union(nil, a, nil), a},
		"intersection of one": {geom.Intersect(a, nil), a},
		"no cuts":             {geom.Subtract(a, nil, geom.Union()), a},
		"offset by nothing":   {geom.Offset(a, 0), a},
	} {
		if pair[0] != pair[1] {
			t.Errorf("%s is %v, want the solid itself", name, pair[0])
		}
	}
	deep := func(s geom.Solid) string { return fmt.Sprintf("%+v", s) }
	if got, want := geom.Union(geom.Union(a, b), c), geom.Union(a, b, c); deep(got) != deep(want) {
		t.Errorf("nested union %s, want %s", deep(got), deep(want))
	}
	if got, want := geom.Intersect(geom.Intersect(a, b), c), geom.Intersect(a, b, c); deep(got) != deep(want) {
		t.Errorf("nested intersection %s, want %s", deep(got), deep(want))
	}
}

func TestPruneByValueOfCombinations(t *testing.T) {
	a, b := geom.Ball(geom.Vec{}, 1), geom.Ball(geom.Vec{X: 10}, 1)
	at := func(x float64) geom.Box { return geom.Box{Min: geom.Vec{X: x}, Max: geom.Vec{X: x}}.Grow(0.3) }
	floor := geom.HalfSpace(geom.Vec{Z: 1}, 3)
	u := geom.Union(a, b)
	for _, c := range []struct {
		name string
		s    geom.Solid
		b    geom.Box
		want geom.Solid
	}{
		{"union near one", u, at(0), a},
		{"union near the other", u, at(9), b},
		{"union between", u, at(5), u},
		{"cut out of reach", geom.Subtract(a, geom.Ball(geom.Vec{X: 1.5}, 0.7)), at(-0.6), a},
		{"intersection deep in one", geom.Intersect(floor, a), at(0), a},
		{"fillet out of reach", geom.SmoothUnion(0.5, a, b), at(0), a},
		{"union under a cut", geom.Subtract(u, geom.Ball(geom.Vec{X: 10, Y: 5}, 4.5)), at(0), a},
	} {
		if got := geom.PruneByValue(c.s, c.b); got != c.want {
			t.Errorf("%s: trimmed to %+v, want %+v", c.name, got, c.want)
		}
	}
}

// The fillet between two walls at right angles is a round of its radius.
func TestSmoothUnionIsAFillet(t *testing.T) {
	const r = 2.0
	s := geom.SmoothUnion(r, geom.HalfSpace(geom.Vec{X: 1}, 0), geom.HalfSpace(geom.Vec{Z: 1}, 0))
	for i := range 31 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / 30)
		p := geom.Vec{X: r - r*cos, Z: r - r*sin}
		if v := s.Evaluate(p); math.Abs(v) > 1e-12 {
			t.Errorf("value %v at %v on the round", v, p)
		}
	}
	if v := s.Evaluate(geom.Vec{X: r, Z: r}); math.Abs(v-math.Sqrt2/2*r) > 1e-12 {
		t.Errorf("value %v in the middle of the round", v)
	}
}

func TestOffsetValues(t *testing.T) {
	block := geom.Block(geom.Box{Max: geom.Vec{X: 2, Y: 2, Z: 2}})
	for _, c := range []struct {
		name string
		s    geom.Solid
		p    geom.Vec
		want float64
	}{
		{"ball", geom.Offset(geom.Ball(geom.Vec{}, 2), 1), geom.Vec{X: 4}, 1},
		{"ball shrunk away", geom.Offset(geom.Ball(geom.Vec{}, 2), -3), geom.Vec{}, 1},
		{"grown block is round", geom.Offset(block, 1), geom.Vec{X: 5, Y: 6, Z: 2}, 4},
		{"shrunk block", geom.Offset(block, -0.5), geom.Vec{X: 1, Y: 1, Z: 1}, -0.5},
		{"there and back", geom.Offset(geom.Offset(block, 1), -1), geom.Vec{X: 5, Y: 6, Z: 2}, 5},
		{"hole closes", geom.Offset(geom.Subtract(block, geom.Ball(geom.Vec{X: 1, Y: 1, Z: 1}, 0.5)), 0.2), geom.Vec{X: 1, Y: 1, Z: 1}, 0.3},
	} {
		if v := c.s.Evaluate(c.p); math.Abs(v-c.want) > 1e-12 {
			t.Errorf("%s: %v at %v, want %v", c.name, v, c.p, c.want)
		}
	}
}

// Asking costs no memory, nor does pruning that changes nothing.
func TestNoAllocations(t *testing.T) {
	const seed = 44
	rng := rand.New(rand.NewPCG(seed, 0))
	for i := range 40 {
		s := randomTree(rng, 2+rng.IntN(20), 2)
		p, b := randomVec(rng, 5), geom.Box{Max: geom.Vec{X: 1, Y: 1, Z: 1}}
		if n := testing.AllocsPerRun(10, func() { s.Evaluate(p) }); n != 0 {
			t.Errorf("seed %d, solid %d: Evaluate allocates %v times", seed, i, n)
		}
		if n := testing.AllocsPerRun(10, func() { geom.Range(s, b); geom.SlabOf(s, b); geom.Gradient(s, p) }); n != 0 {
			t.Errorf("seed %d, solid %d: Range, Slab and Grade allocate %v times", seed, i, n)
		}
		part := geom.PruneByValue(s, b)
		if again := geom.PruneByValue(part, b); again != part {
			continue
		}
		if n := testing.AllocsPerRun(10, func() { geom.PruneByValue(part, b) }); n != 0 {
			t.Errorf("seed %d, solid %d: Trim without change allocates %v times", seed, i, n)
		}
	}
}

func BenchmarkUnion(b *testing.B) {
	for _, n := range []int{10, 100, 400} {
		rng := rand.New(rand.NewPCG(45, 0))
		axis := make([]geom.Vec, n+1)
		for i := range axis {
			axis[i] = randomVec(rng, 20)
		}
		s := geom.Wire(axis, 0.5)
		cell := geom.Box{Max: geom.Vec{X: 2, Y: 2, Z: 2}}
		b.Run(fmt.Sprintf("evaluate/%d", n), func(b *testing.B) {
			for b.Loop() {
				s.Evaluate(geom.Vec{X: 1})
			}
		})
		b.Run(fmt.Sprintf("trim/%d", n), func(b *testing.B) {
			for b.Loop() {
				geom.PruneByValue(s, cell)
			}
		})
	}
}

// Of two parallel faces the outer one is the surface of the union and the inner one
// that of the intersection, in whichever order they come and on either side of 0.
func TestSlabOfParallelFaces(t *testing.T) {
	for _, d := range []float64{-5, 0.1, 5} {
		low, high := geom.HalfSpace(geom.Vec{Z: 1}, d-0.2), geom.HalfSpace(geom.Vec{Z: 1}, d)
		b := geom.Box{Min: geom.Vec{Z: d - 0.1}, Max: geom.Vec{Z: d - 0.1}}.Grow(0.3)
		for _, c := range []struct {
			name string
			s    geom.Solid
			want float64
		}{
			{"union", geom.Union(low, high), d}, {"union, turned round", geom.Union(high, low), d},
			{"intersection", geom.Intersect(low, high), d - 0.2}, {"intersection, turned round", geom.Intersect(high, low), d - 0.2},
		} {
			l, ok := geom.SlabOf(c.s, b)
			if want := (geom.Slab{N: geom.Vec{Z: 1}, D: c.want}); !ok || l != want {
				t.Errorf("%s at %g: %+v, %v, want %+v", c.name, d, l, ok, want)
			}
		}
	}
}

// A face of one part flush with the box is a slab of the union, though other parts
// are far: the box is then within that part and touches nothing else.
func TestUnionKnowsFlushFaces(t *testing.T) {
	s := geom.Union(geom.Block(geom.Box{Max: geom.Vec{X: 4, Y: 4, Z: 4}}), geom.Ball(geom.Vec{X: 50}, 1))
	b := geom.Box{Min: geom.Vec{X: 1, Y: 1, Z: 3}, Max: geom.Vec{X: 2, Y: 2, Z: 4}}
	if l, ok := geom.SlabOf(s, b); !ok || l != (geom.Slab{N: geom.Vec{Z: 1}, D: 4}) {
		t.Errorf("slab %v %v, want the plane z = 4", l, ok)
	}
}

// In a fillet between parts that stand at another size the gradient's value is the
// value, and the value grows along it as fast as it says.
func TestFilletOfPlacedParts(t *testing.T) {
	bar := geom.Prism(geom.Polygon(geom.Vec2{X: -1, Y: -1}, geom.Vec2{X: 1, Y: -1}, geom.Vec2{X: 1, Y: 1}, geom.Vec2{X: -1, Y: 1}), -1, 1)
	s := geom.SmoothUnion(1.5, geom.Rotate(geom.Vec{Z: 1}, 0.3).Then(geom.Scale(3)).Solid(bar), geom.Ball(geom.Vec{X: 3.5}, 2))
	rng := rand.New(rand.NewPCG(48, 0))
	for range 500 {
		p := geom.Vec{X: 3}.Add(randomVec(rng, 2))
		v, n := geom.Gradient(s, p)
		if want := s.Evaluate(p); math.Abs(v-want) > 1e-12 {
			t.Fatalf("at %v: %v, want %v", p, v, want)
		}
		const h = 1e-6
		if rise := s.Evaluate(p.Add(n.Mul(h))) - v; rise < -1e-9 || rise > h*(1+1e-6) {
			t.Fatalf("at %v: %v higher after %g along %v", p, rise, h, n)
		}
	}
}

// Of two planes that are almost one the union has the outer for its surface and the
// intersection the inner, whichever comes first.
func TestSlabsOfPlanesAlmostInOne(t *testing.T) {
	z := geom.Vec{Z: 1}
	inner, outer := geom.HalfSpace(z, -5.001), geom.HalfSpace(z, -5)
	at := geom.Vec{X: 1, Y: 2, Z: -5}
	b := geom.Box{Min: at, Max: at}.Grow(1)
	for i, pair := range [2][2]geom.Solid{{inner, outer}, {outer, inner}} {
		for want, s := range map[float64]geom.Solid{-5: geom.Union(pair[:]...), -5.001: geom.Intersect(pair[:]...)} {
			if l, ok := geom.SlabOf(s, b); !ok || l.N != z || math.Abs(l.D-want)+l.W > 1e-12 {
				t.Errorf("order %d: %+v, %v, want the plane at %g", i, l, ok, want)
			}
		}
	}
}
