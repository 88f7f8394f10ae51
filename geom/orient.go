package geom

import (
	"math"
	"math/big"
	"math/bits"
	"sync"
)

// orient3d returns the sign of det(a-d, b-d, c-d), exactly: 0 when the four
// points lie in one plane, and else which side of the plane d is on: +1 when
// a, b, c turn clockwise seen from d.
//
// The determinant in float64 decides where it exceeds its error bound
// (7+56ε)ε·permanent (Shewchuk, Discrete & Computational Geometry 18, 1997,
// section 4.3; a fused multiply-add only lessens the error), then one of twice
// the digits; integers decide the rest. Points must be finite.
func orient3d(a, b, c, d Vec) int {
	const bound = (7 + 56*0x1p-53) * 0x1p-53
	a1, b1, c1 := a.Sub(d), b.Sub(d), c.Sub(d)
	bc, cb := b1.X*c1.Y, c1.X*b1.Y
	ca, ac := c1.X*a1.Y, a1.X*c1.Y
	ab, ba := a1.X*b1.Y, b1.X*a1.Y
	det := a1.Z*(bc-cb) + b1.Z*(ca-ac) + c1.Z*(ab-ba)
	permanent := math.Abs(a1.Z)*(math.Abs(bc)+math.Abs(cb)) +
		math.Abs(b1.Z)*(math.Abs(ca)+math.Abs(ac)) +
		math.Abs(c1.Z)*(math.Abs(ab)+math.Abs(ba))
	if e := bound * permanent; e > 0x1p-900 { // underflow is far below this while points are below 2^128
		if det > e {
			return 1
		}
		if det < -e {
			return -1
		}
	} else if permanent == 0 && flat(a1, b1, c1) {
		return 0
	}
	if sign, sure := orientTwofold(a, b, c, d, permanent); sure {
		return sign
	}
	if sign, ok := orientInteger(a, b, c, d); ok {
		return sign
	}
	return orientExact(a, b, c, d)
}

// twofold is an unevaluated sum of two float64, the second within half a unit
// of the last place of the first (Dekker, Numerische Mathematik 18, 1971).
type twofold struct{ hi, lo float64 }

func twofoldSum(a, b float64) twofold {
	s := a + b
	t := s - a
	return twofold{s, (a - (s - t)) + (b - t)}
}

func (a twofold) add(b twofold) twofold {
	s := twofoldSum(a.hi, b.hi)
	return twofoldSum(s.hi, s.lo+(a.lo+b.lo))
}

func (a twofold) neg() twofold { return twofold{-a.hi, -a.lo} }

func (a twofold) mul(b twofold) twofold {
	p := a.hi * b.hi
	e := math.FMA(a.hi, b.hi, -p) + (a.hi*b.lo + a.lo*b.hi)
	return twofoldSum(p, e)
}

// orientTwofold returns the sign of the determinant of orient3d where about
// 100 bits of its permanent decide it. The differences that it starts from are
// exact, so that the determinant is a multiple of the cube of their last bit;
// nearer to 0 than that is 0.
func orientTwofold(a, b, c, d Vec, permanent float64) (sign int, sure bool) {
	e := 0x1p-96 * permanent // the errors of some thirty operations stay below 2^-99
	if !(e > 0x1p-800) {
		return 0, false
	}
	row := func(p Vec) [3]twofold {
		return [3]twofold{twofoldSum(p.X, -d.X), twofoldSum(p.Y, -d.Y), twofoldSum(p.Z, -d.Z)}
	}
	u, v, w := row(a), row(b), row(c)
	det := u[2].mul(v[0].mul(w[1]).add(w[0].mul(v[1]).neg()))
	det = det.add(v[2].mul(w[0].mul(u[1]).add(u[0].mul(w[1]).neg())))
	det = det.add(w[2].mul(u[0].mul(v[1]).add(v[0].mul(u[1]).neg())))
	switch {
	case det.hi > e:
		return 1, true
	case det.hi < -e:
		return -1, true
	}
	last := math.MaxInt
	for _, r := range [3][3]twofold{u, v, w} {
		for _, x := range r {
			last = min(last, lastBit(x.hi), lastBit(x.lo))
		}
	}
	return 0, last > -300 && math.Abs(det.hi)+e < math.Ldexp(1, 3*last)
}

// orientInteger is orient3d where the coordinates are whole multiples of one
// power of two, none above 2^60 of them: those of a mesh read from single
// precision are.
func orientInteger(a, b, c, d Vec) (sign int, ok bool) {
	v := [12]float64{a.X, a.Y, a.Z, b.X, b.Y, b.Z, c.X, c.Y, c.Z, d.X, d.Y, d.Z}
	last, most := math.MaxInt, 0.0
	for _, x := range v {
		last, most = min(last, lastBit(x)), max(most, math.Abs(x))
	}
	if last < -1000 || math.Ldexp(most, -last) > 0x1p60 {
		return 0, false
	}
	unit := math.Ldexp(1, -last)
	var n [12]int64
	for i, x := range v {
		n[i] = int64(x * unit)
	}
	for i := range 9 {
		n[i] -= n[9+i%3]
	}
	var sum wide192
	for i := range 3 { // down the column of Z
		j, k := (i+1)%3, (i+2)%3
		minor := mul64(n[3*j], n[3*k+1]).sub(mul64(n[3*k], n[3*j+1]))
		sum = sum.add(minor.mul(n[3*i+2]))
	}
	return sum.sign(), true
}

// wide128 and wide192 are integers in two's complement.
type (
	wide128 struct {
		hi int64
		lo uint64
	}
	wide192 struct {
		hi      int64
		mid, lo uint64
	}
)

func mul64(a, b int64) wide128 {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	return wide128{int64(hi) - a>>63&b - b>>63&a, lo}
}

func (a wide128) sub(b wide128) wide128 {
	lo, borrow := bits.Sub64(a.lo, b.lo, 0)
	return wide128{a.hi - b.hi - int64(borrow), lo}
}

func (a wide128) mul(b int64) wide192 {
	hi, lo := bits.Mul64(a.lo, uint64(b))
	low := wide128{int64(hi) - b>>63&int64(a.lo), lo} // a.lo is without a sign
	high := mul64(a.hi, b)
	mid, carry := bits.Add64(high.lo, uint64(low.hi), 0)
	return wide192{high.hi + low.hi>>63 + int64(carry), mid, low.lo}
}

func (a wide192) add(b wide192) wide192 {
	lo, carry := bits.Add64(a.lo, b.lo, 0)
	mid, carry := bits.Add64(a.mid, b.mid, carry)
	return wide192{a.hi + b.hi + int64(carry), mid, lo}
}

func (a wide192) sign() int {
	switch {
	case a.hi < 0:
		return -1
	case a.hi == 0 && a.mid == 0 && a.lo == 0:
		return 0
	}
	return 1
}

// lastBit returns the power of two of the lowest bit set in x.
func lastBit(x float64) int {
	if x == 0 {
		return math.MaxInt
	}
	b := math.Float64bits(x)
	power, mantissa := int(b>>52&0x7ff), b&(1<<52-1)
	if power == 0 {
		power = 1
	} else {
		mantissa |= 1 << 52
	}
	return power - 1075 + bits.TrailingZeros64(mantissa)
}

// flat reports whether the determinant of the rows is zero for want of a
// component in one direction: the common case of a face along the axes, and
// not a product that underflowed.
func flat(a, b, c Vec) bool {
	return a.X == 0 && b.X == 0 && c.X == 0 ||
		a.Y == 0 && b.Y == 0 && c.Y == 0 ||
		a.Z == 0 && b.Z == 0 && c.Z == 0
}

// orientExact is orient3d in integers: every float64 is one times a power of
// two, and the least of those powers serves all twelve.
func orientExact(a, b, c, d Vec) int {
	v := [12]float64{a.X, a.Y, a.Z, b.X, b.Y, b.Z, c.X, c.Y, c.Z, d.X, d.Y, d.Z}
	var mantissa [12]int64
	var power [12]int
	least := math.MaxInt
	for i, x := range v {
		f, e := math.Frexp(x)
		mantissa[i], power[i] = int64(f*0x1p53), e
		if x != 0 {
			least = min(least, e)
		}
	}
	x := wholes.Get().(*wholeNumbers)
	defer wholes.Put(x)
	n, det, minor, t := &x.n, x.det.SetInt64(0), &x.minor, &x.t
	for i := range n {
		if n[i].SetInt64(mantissa[i]); mantissa[i] != 0 {
			n[i].Lsh(&n[i], uint(power[i]-least))
		}
	}
	for i := range 9 {
		n[i].Sub(&n[i], &n[9+i%3])
	}
	for i := range 3 { // down the column of Z
		j, k := (i+1)%3, (i+2)%3
		minor.Mul(&n[3*j], &n[3*k+1])
		minor.Sub(minor, t.Mul(&n[3*k], &n[3*j+1]))
		det.Add(det, t.Mul(&n[3*i+2], minor))
	}
	return det.Sign()
}

// wholeNumbers are what orientExact computes with: kept, for their memory.
type wholeNumbers struct {
	n             [12]big.Int
	det, minor, t big.Int
}

var wholes = sync.Pool{New: func() any { return new(wholeNumbers) }}

// axis picks the direction that a projection drops.
type axis int

// drop projects p along the axis on a plane; the two axes that are left keep
// their cyclic order.
func (k axis) drop(p Vec) (x, y float64) {
	switch k {
	case 0:
		return p.Y, p.Z
	case 1:
		return p.Z, p.X
	}
	return p.X, p.Y
}

// orient2d returns the sign of the area of a, b, c projected along k: +1
// counter-clockwise, exactly. It is orient3d with a point raised over a.
func (k axis) orient2d(a, b, c Vec) int {
	ax, ay := k.drop(a)
	bx, by := k.drop(b)
	cx, cy := k.drop(c)
	// The error bound of the determinant in float64 (Shewchuk 1997, section 4.2).
	const bound, least = (3 + 16*0x1p-53) * 0x1p-53, 1e-280
	left, right := (ax-cx)*(by-cy), (ay-cy)*(bx-cx)
	switch det, off := left-right, bound*(math.Abs(left)+math.Abs(right))+least; {
	case det > off:
		return 1
	case det < -off:
		return -1
	}
	return -orient3d(Vec{X: ax, Y: ay}, Vec{X: bx, Y: by}, Vec{X: cx, Y: cy}, Vec{ax, ay, 1})
}

// Turning returns +1 where a, b, c turn counter-clockwise seen along -Z, -1 clockwise
// and 0 where they lie on one line, exactly. Points must be finite.
func Turning(a, b, c Vec) int { return axis(2).orient2d(a, b, c) }

// seenAlong returns an axis along which the triangle shows an area, or false
// when its corners lie on one line. The axis nearest to the normal comes
// first: there the sign is seldom in doubt.
func seenAlong(a, b, c Vec) (axis, bool) {
	n := b.Sub(a).Cross(c.Sub(a)).Abs()
	first := axis(2)
	if n.X > n.Y && n.X > n.Z {
		first = 0
	} else if n.Y > n.Z {
		first = 1
	}
	for k := range axis(3) {
		if k = (first + k) % 3; k.orient2d(a, b, c) != 0 {
			return k, true
		}
	}
	return 0, false
}
