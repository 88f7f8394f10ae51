package geom

import (
	"math"
	"math/bits"
)

// Welder gives equal points one index: equal to the last bit, with -0 equal
// to +0. Indices count up in the order in which points are first seen, so the
// result depends on nothing but the input. Use NewWelder; a Welder is not safe
// for concurrent use.
type Welder struct {
	points []Vec
	slots  []int32 // index into points plus one, 0 when free; length a power of two
}

// NewWelder returns a welder with room for about the number of distinct
// points expected; a wrong guess costs time, nothing else.
func NewWelder(expected int) *Welder {
	expected = max(expected, 8)
	return &Welder{
		points: make([]Vec, 0, expected),
		slots:  make([]int32, slotsFor(expected)),
	}
}

// slotsFor keeps the table at most half full.
func slotsFor(points int) int { return 1 << bits.Len(uint(2*points-1)) }

// Index returns the index of p, a new one if p has not been seen. A NaN is
// equal to a NaN of the same bits.
func (w *Welder) Index(p Vec) int32 {
	p = Vec{p.X + 0, p.Y + 0, p.Z + 0} // -0 + 0 = +0
	mask := uint64(len(w.slots) - 1)
	for i := hashVec(p) & mask; ; i = (i + 1) & mask {
		s := w.slots[i]
		if s == 0 {
			return w.insert(p, i)
		}
		if sameBits(w.points[s-1], p) {
			return s - 1
		}
	}
}

func (w *Welder) insert(p Vec, slot uint64) int32 {
	w.points = append(w.points, p)
	n := int32(len(w.points))
	w.slots[slot] = n
	if 2*len(w.points) > len(w.slots) {
		w.grow()
	}
	return n - 1
}

func (w *Welder) grow() {
	w.slots = make([]int32, 2*len(w.slots))
	mask := uint64(len(w.slots) - 1)
	for n, p := range w.points {
		i := hashVec(p) & mask
		for w.slots[i] != 0 {
			i = (i + 1) & mask
		}
		w.slots[i] = int32(n) + 1
	}
}

// Points returns the distinct points by index. The welder must not be used
// afterwards.
func (w *Welder) Points() []Vec { return w.points }

func sameBits(a, b Vec) bool {
	return math.Float64bits(a.X) == math.Float64bits(b.X) &&
		math.Float64bits(a.Y) == math.Float64bits(b.Y) &&
		math.Float64bits(a.Z) == math.Float64bits(b.Z)
}

// hashVec folds the 128-bit products of the coordinates' bits. A coordinate
// that came out of a float32 has 29 zero bits at its low end; the high half of
// the product is what keeps such points apart. The multipliers are odd
// constants without structure: fractions of √2, √3 and √5.
func hashVec(p Vec) uint64 {
	const r2, r3, r5 = 0x6a09e667f3bcc909, 0xbb67ae8584caa73b, 0x3c6ef372fe94f82b
	x, y, z := math.Float64bits(p.X), math.Float64bits(p.Y), math.Float64bits(p.Z)
	hi, lo := bits.Mul64(x^r3, y^r2)
	h := hi ^ lo ^ bits.RotateLeft64(z*r5, 23)
	hi, lo = bits.Mul64(h^r5, r2)
	return hi ^ lo
}

// Weld returns the mesh of loose triangles, three points each, with equal
// points made one vertex. Points left over after the last whole triangle are
// ignored. Triangles with two equal corners stay; Audit reports them.
func Weld(points []Vec) *TriMesh {
	n := len(points) / 3
	w := NewWelder(n/2 + 2)
	m := &TriMesh{Triangles: make([][3]int32, n)}
	for t := range m.Triangles {
		p := points[3*t:]
		m.Triangles[t] = [3]int32{w.Index(p[0]), w.Index(p[1]), w.Index(p[2])}
	}
	m.Vertices = w.Points()
	return m
}

// Rounded32 returns m as a file of 32-bit floats stores it: every vertex that
// a triangle uses is rounded to float32 and vertices that became equal are
// welded. What is written is then what can be audited: a sliver that rounding
// has flattened shows up as a fault. Indices must be in range; a coordinate
// too great for a float32 becomes infinite.
func Rounded32(m *TriMesh) *TriMesh {
	w := NewWelder(len(m.Vertices))
	place := make([]int32, len(m.Vertices)) // new index plus one
	out := &TriMesh{Triangles: make([][3]int32, len(m.Triangles))}
	for t, corners := range m.Triangles {
		for k, v := range corners {
			if place[v] == 0 {
				place[v] = 1 + w.Index(m.Vertices[v].rounded32())
			}
			out.Triangles[t][k] = place[v] - 1
		}
	}
	out.Vertices = w.Points()
	return out
}

func (p Vec) rounded32() Vec {
	return Vec{float64(float32(p.X)), float64(float32(p.Y)), float64(float32(p.Z))}
}
