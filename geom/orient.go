package geom

import (
	"math"
	"math/big"
)

// orient3d returns the sign of det(a-d, b-d, c-d), exactly: 0 when the four
// points lie in one plane, and else which side of the plane d is on: +1 when
// a, b, c turn clockwise seen from d.
//
// The determinant in float64 decides where it exceeds its error bound
// (7+56ε)ε·permanent (Shewchuk, Discrete & Computational Geometry 18, 1997,
// section 4.3; a fused multiply-add only lessens the error); integers decide
// the rest. Points must be finite.
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
	return orientExact(a, b, c, d)
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
	var n [12]big.Int
	for i := range n {
		if n[i].SetInt64(mantissa[i]); mantissa[i] != 0 {
			n[i].Lsh(&n[i], uint(power[i]-least))
		}
	}
	for i := range 9 {
		n[i].Sub(&n[i], &n[9+i%3])
	}
	var det, minor, t big.Int
	for i := range 3 { // down the column of Z
		j, k := (i+1)%3, (i+2)%3
		minor.Mul(&n[3*j], &n[3*k+1])
		minor.Sub(&minor, t.Mul(&n[3*k], &n[3*j+1]))
		det.Add(&det, t.Mul(&n[3*i+2], &minor))
	}
	return det.Sign()
}

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
	return -orient3d(Vec{X: ax, Y: ay}, Vec{X: bx, Y: by}, Vec{X: cx, Y: cy}, Vec{ax, ay, 1})
}

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
