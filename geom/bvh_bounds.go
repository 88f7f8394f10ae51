package geom

import "math"

// bounds32 is a box of 32-bit floats.
type bounds32 struct{ lo, hi [3]float32 }

func emptyBounds32() bounds32 {
	inf := float32(math.Inf(1))
	return bounds32{[3]float32{inf, inf, inf}, [3]float32{-inf, -inf, -inf}}
}

func (b *bounds32) add(lo, hi *[3]float32) {
	b.lo = [3]float32{min(b.lo[0], lo[0]), min(b.lo[1], lo[1]), min(b.lo[2], lo[2])}
	b.hi = [3]float32{max(b.hi[0], hi[0]), max(b.hi[1], hi[1]), max(b.hi[2], hi[2])}
}

// down32 and up32 round to 32 bits, never up and never down.
func down32(x float64) float32 { return orderDown(x).float() }
func up32(x float64) float32   { return orderUp(x).float() }

// order32 is a float32 in the order of integers: their least and greatest are quicker
// found.
type order32 int32

func orderOf(f float32) order32 {
	b := int32(math.Float32bits(f))
	return order32(b ^ b>>31&math.MaxInt32)
}

func (o order32) float() float32 { return math.Float32frombits(uint32(o ^ o>>31&math.MaxInt32)) }

// orderDown and orderUp do without a branch that goes either way by chance.
func orderDown(x float64) order32 {
	f := float32(x)
	o, less := orderOf(f), order32(0)
	if float64(f) > x {
		less = 1
	}
	return o - less
}

func orderUp(x float64) order32 {
	f := float32(x)
	o, more := orderOf(f), order32(0)
	if float64(f) < x {
		more = 1
	}
	return o + more
}

// sorted32 is a bounds32 in the order of integers.
type sorted32 struct{ lo, hi [3]order32 }

var emptySorted32 = func() (b sorted32) {
	none := emptyBounds32()
	for k := range 3 {
		b.lo[k], b.hi[k] = orderOf(none.lo[k]), orderOf(none.hi[k])
	}
	return b
}()

// sorted32 returns the least such box round a box.
func (b *Box) sorted32() sorted32 {
	return sorted32{
		[3]order32{orderDown(b.Min.X), orderDown(b.Min.Y), orderDown(b.Min.Z)},
		[3]order32{orderUp(b.Max.X), orderUp(b.Max.Y), orderUp(b.Max.Z)},
	}
}

func (b *sorted32) bounds() bounds32 {
	return bounds32{
		[3]float32{b.lo[0].float(), b.lo[1].float(), b.lo[2].float()},
		[3]float32{b.hi[0].float(), b.hi[1].float(), b.hi[2].float()},
	}
}

func (b *sorted32) add(o *sorted32) {
	b.lo[0], b.hi[0] = min(b.lo[0], o.lo[0]), max(b.hi[0], o.hi[0])
	b.lo[1], b.hi[1] = min(b.lo[1], o.lo[1]), max(b.hi[1], o.hi[1])
	b.lo[2], b.hi[2] = min(b.lo[2], o.lo[2]), max(b.hi[2], o.hi[2])
}

func (b *sorted32) include(p *[3]order32) {
	b.lo[0], b.hi[0] = min(b.lo[0], p[0]), max(b.hi[0], p[0])
	b.lo[1], b.hi[1] = min(b.lo[1], p[1]), max(b.hi[1], p[1])
	b.lo[2], b.hi[2] = min(b.lo[2], p[2]), max(b.hi[2], p[2])
}

// halfArea returns half the surface area, 0 when empty.
func (b *sorted32) halfArea() float64 {
	if b.lo[0] > b.hi[0] {
		return 0
	}
	x := float64(b.hi[0].float() - b.lo[0].float())
	y := float64(b.hi[1].float() - b.lo[1].float())
	z := float64(b.hi[2].float() - b.lo[2].float())
	return x*y + y*z + z*x
}
