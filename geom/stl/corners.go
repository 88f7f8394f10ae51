package stl

import (
	"math"
	"math/bits"

	"halfpour/geom"
)

// corner is three coordinates as the bits of float32 numbers, -0 as +0.
type corner [3]uint32

func (c corner) vec() geom.Vec {
	return geom.Vec{X: float(c[0]), Y: float(c[1]), Z: float(c[2])}
}

func float(bits uint32) float64 { return float64(math.Float32frombits(bits)) }

// hash folds the 128-bit product of the bits, mixed with fractions of √2 and √3.
func (c corner) hash() uint64 {
	const r2, r3 = 0x6a09e667f3bcc909, 0xbb67ae8584caa73b
	hi, lo := bits.Mul64((uint64(c[0])|uint64(c[1])<<32)^r2, uint64(c[2])*r2^r3)
	hi, lo = bits.Mul64(hi^lo, r3)
	return hi ^ lo
}

// cornerTable gives equal corners one index, by the order in which they come.
type cornerTable struct {
	corners []corner
	slots   []int32 // index into corners plus one, 0 when free; length a power of two
}

// empty makes the table one for about so many corners.
func (t *cornerTable) empty(expected int) {
	t.corners = make([]corner, 0, expected)
	if n := 1 << bits.Len(uint(2*expected)); len(t.slots) == n {
		clear(t.slots)
	} else {
		t.slots = make([]int32, n)
	}
}

func (t *cornerTable) index(c corner) int32 {
	mask := uint64(len(t.slots) - 1)
	for i := c.hash() & mask; ; i = (i + 1) & mask {
		s := t.slots[i]
		if s == 0 {
			return t.insert(c, i)
		}
		if t.corners[s-1] == c {
			return s - 1
		}
	}
}

func (t *cornerTable) insert(c corner, slot uint64) int32 {
	t.corners = append(t.corners, c)
	n := int32(len(t.corners))
	t.slots[slot] = n
	if 2*len(t.corners) > len(t.slots) {
		t.grow()
	}
	return n - 1
}

func (t *cornerTable) grow() {
	t.slots = make([]int32, 2*len(t.slots))
	mask := uint64(len(t.slots) - 1)
	for n, c := range t.corners {
		i := c.hash() & mask
		for t.slots[i] != 0 {
			i = (i + 1) & mask
		}
		t.slots[i] = int32(n) + 1
	}
}
