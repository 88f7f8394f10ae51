package geom

import (
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"
)

// orientRat is the determinant in rational numbers.
func orientRat(a, b, c, d Vec) int {
	rat := func(x, y float64) *big.Rat {
		return new(big.Rat).Sub(new(big.Rat).SetFloat64(x), new(big.Rat).SetFloat64(y))
	}
	row := func(p Vec) [3]*big.Rat { return [3]*big.Rat{rat(p.X, d.X), rat(p.Y, d.Y), rat(p.Z, d.Z)} }
	mul := func(x, y, z *big.Rat) *big.Rat {
		p := new(big.Rat).Mul(x, y)
		return p.Mul(p, z)
	}
	u, v, w := row(a), row(b), row(c)
	det := new(big.Rat)
	for i := range 3 {
		j, k := (i+1)%3, (i+2)%3
		det.Add(det, mul(u[i], v[j], w[k]))
		det.Sub(det, mul(u[i], v[k], w[j]))
	}
	return det.Sign()
}

func TestOrient3dSense(t *testing.T) {
	o, x, y := Vec{}, Vec{X: 1}, Vec{Y: 1}
	for _, tt := range []struct {
		d    Vec
		want int
	}{{Vec{Z: 1}, -1}, {Vec{Z: -1}, 1}, {Vec{X: 7, Y: -3}, 0}, {Vec{Z: 1e-300}, -1}, {Vec{Z: -5e-324}, 1}} {
		if got := orient3d(o, x, y, tt.d); got != tt.want {
			t.Errorf("%v: got %d, want %d", tt.d, got, tt.want)
		}
	}
	for k := range axis(3) {
		// Seen down each axis, the other two in cyclic order turn counter-clockwise.
		e := [3]Vec{{X: 1}, {Y: 1}, {Z: 1}}
		if got := k.orient2d(Vec{}, e[(k+1)%3], e[(k+2)%3]); got != 1 {
			t.Errorf("axis %d: got %d, want 1", k, got)
		}
	}
}

// Points in a plane, nudged by the last bit or not, are where the float64
// determinant has the wrong sign.
func TestOrient3dIsExact(t *testing.T) {
	const seed = 5
	rng := rand.New(rand.NewPCG(seed, 0))
	var zeros int
	for round := range 20000 {
		scale := math.Ldexp(1, rng.IntN(60)-30)
		lattice := func() Vec {
			return Vec{float64(rng.IntN(9) - 4), float64(rng.IntN(9) - 4), float64(rng.IntN(9) - 4)}.Mul(scale)
		}
		p := [4]Vec{lattice(), lattice(), lattice()}
		s, u := float64(rng.IntN(8))/4, float64(rng.IntN(8))/4
		p[3] = p[0].Add(p[1].Sub(p[0]).Mul(s)).Add(p[2].Sub(p[0]).Mul(u))
		if far := rng.IntN(3); far > 0 { // rounding moves the points off the plane
			shift := Vec{rng.Float64(), rng.Float64(), rng.Float64()}.Mul(scale * 1e3)
			for i := range p {
				p[i] = p[i].Add(shift)
			}
			if far == 2 {
				p[3].Z = math.Nextafter(p[3].Z, 1e9)
			}
		}
		want := orientRat(p[0], p[1], p[2], p[3])
		if want == 0 {
			zeros++
		}
		if got := orient3d(p[0], p[1], p[2], p[3]); got != want {
			t.Fatalf("seed %d, round %d: %v: got %d, want %d", seed, round, p, got, want)
		}
		if got, ok := orientInteger(p[0], p[1], p[2], p[3]); ok && got != want {
			t.Fatalf("seed %d, round %d: %v: integers got %d, want %d", seed, round, p, got, want)
		}
		if got := orientExact(p[0], p[1], p[2], p[3]); got != want {
			t.Fatalf("seed %d, round %d: %v: exact got %d, want %d", seed, round, p, got, want)
		}
	}
	if zeros < 1000 || zeros > 19000 {
		t.Errorf("%d of 20000 in one plane: the cases are not mixed", zeros)
	}
}

func TestOrient3dWithExtremeNumbers(t *testing.T) {
	for _, v := range []float64{5e-324, 1e-200, 1e-45, 1e38, 1e200, math.MaxFloat64} {
		a, b, c := Vec{X: v}, Vec{Y: v}, Vec{Z: v}
		for _, d := range []Vec{{}, {v, v, -v}, {v, v, v}, {-v, v, v}, {v / 4, v / 4, v / 2}} {
			if got, want := orient3d(a, b, c, d), orientRat(a, b, c, d); got != want {
				t.Errorf("scale %g, %v: got %d, want %d", v, d, got, want)
			}
		}
	}
}

// Three directions are flat for want of the same component.
func TestFlat(t *testing.T) {
	for k := range 3 {
		var p [3]Vec
		for i := range p {
			p[i] = Vec{1, 2, 3}
			p[i].setAlong(k, 0)
		}
		if !flat(p[0], p[1], p[2]) {
			t.Errorf("%v not flat", p)
		}
		for i := range p {
			q := p
			q[i].setAlong(k, 5e-324)
			if flat(q[0], q[1], q[2]) {
				t.Errorf("%v flat", q)
			}
		}
	}
	if flat(Vec{0, 1, 1}, Vec{1, 0, 1}, Vec{1, 1, 0}) {
		t.Error("flat, though each direction is there twice")
	}
}

func TestSeenAlong(t *testing.T) {
	for _, tt := range []struct {
		a, b, c Vec
		want    bool
	}{
		{Vec{}, Vec{X: 1}, Vec{Y: 1}, true},
		{Vec{}, Vec{X: 1}, Vec{Z: 1}, true},
		{Vec{}, Vec{Y: 1}, Vec{Z: 1}, true},
		{Vec{}, Vec{1, 2, 3}, Vec{2, 4, 6}, false},
		{Vec{}, Vec{1, 2, 3}, Vec{2, 4, math.Nextafter(6, 7)}, true},
		{Vec{0.1, 0.1, 0.1}, Vec{0.2, 0.2, 0.2}, Vec{0.7, 0.7, 0.7}, false},
		{Vec{}, Vec{}, Vec{X: 1}, false},
	} {
		if _, got := seenAlong(tt.a, tt.b, tt.c); got != tt.want {
			t.Errorf("%v %v %v: got %v, want %v", tt.a, tt.b, tt.c, got, tt.want)
		}
	}
	// Of three axes along which a triangle shows an area it is the one that shows most.
	for _, n := range []Vec{{3, 2, 1}, {3, 1, 2}, {2, 3, 1}, {1, 3, 2}, {2, 1, 3}, {1, 2, 3}} {
		b, c := Vec{n.Y, -n.X, 0}, Vec{n.Z, 0, -n.X} // both across n
		want := axis(slices.Index([]float64{n.X, n.Y, n.Z}, 3))
		if got, ok := seenAlong(Vec{}, b, c); got != want || !ok {
			t.Errorf("normal %v: along axis %d, want %d", n, got, want)
		}
	}
}

// Four points in one plane but for rounding, two of them at one height: the terms
// of the two others are then as large as each other, and the error bound is that of
// their sum, not of their difference.
func TestOrient3dOfLevelPoints(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 0))
	at := func() float64 { return 2*rng.Float64() - 1 }
	for range 20000 {
		d, u, v := Vec{at(), at(), at()}, Vec{at(), at(), 0}, Vec{at(), at(), at()}
		a, b := d.Add(u.Mul(at())).Add(v.Mul(at())), d.Add(u)
		c := d.Add(u.Mul(at())).Add(v.Mul(at()))
		if got, want := orient3d(a, b, c, d), orientExact(a, b, c, d); got != want {
			t.Fatalf("%v %v %v %v: side %d, want %d", a, b, c, d, got, want)
		}
	}
}

func BenchmarkOrient3d(b *testing.B) {
	p, q, r := Vec{0.1, 0.2, 0.3}, Vec{1.1, 0.7, 0.3}, Vec{0.4, 1.3, 0.9}
	for name, s := range map[string]Vec{"clear": {0.5, 0.5, 2}, "in plane": p.Add(q.Sub(p).Mul(0.5)).Add(r.Sub(p).Mul(0.5))} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				orient3d(p, q, r, s)
			}
		})
	}
}

// The wide integers against math/big, at the ends of their range too.
func TestWideIntegers(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 0))
	pick := func() int64 {
		switch rng.IntN(6) {
		case 0:
			return []int64{0, 1, -1, 1 << 61, -1 << 61, 1<<61 - 1}[rng.IntN(6)]
		case 1:
			return rng.Int64N(1000) - 500
		}
		return rng.Int64N(1<<62) - 1<<61
	}
	for range 200000 {
		var sum wide192
		want := new(big.Int)
		for range 3 {
			a, b, c, d, e := pick(), pick(), pick(), pick(), pick()
			sum = sum.add(mul64(a, b).sub(mul64(c, d)).mul(e))
			ab := new(big.Int).Mul(big.NewInt(a), big.NewInt(b))
			cd := new(big.Int).Mul(big.NewInt(c), big.NewInt(d))
			want.Add(want, ab.Sub(ab, cd).Mul(ab, big.NewInt(e)))
		}
		if sum.sign() != want.Sign() {
			t.Fatalf("sign %d, want %d of %v", sum.sign(), want.Sign(), want)
		}
	}
}
