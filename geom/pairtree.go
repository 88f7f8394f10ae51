package geom

import (
	"math"
	"math/bits"
	"slices"
)

// pairTree finds triangles that may meet: a complete binary tree of boxes over
// blocks of a few triangles each, in the order of a space-filling curve.
type pairTree struct {
	mesh   *TriMesh
	order  []int32 // triangles with an area, along the curve
	bounds []Box   // by place in order
	blocks int
	first  int   // node of block 0; nodes are numbered from 1, the children of n are 2n and 2n+1
	box    []Box // by node, empty past the last block
}

const pairBlock = 4 // triangles in a block

func newPairTree(m *TriMesh) *pairTree {
	t := &pairTree{mesh: m, order: curveOrder(m)}
	t.blocks = (len(t.order) + pairBlock - 1) / pairBlock
	t.first = 1 << bits.Len(uint(max(t.blocks, 1)-1))
	t.bounds = make([]Box, len(t.order))
	for i, n := range t.order {
		p, q, r := m.Corners(int(n))
		t.bounds[i] = Box{p.Min(q).Min(r), p.Max(q).Max(r)}
	}
	t.box = make([]Box, 2*t.first)
	for b := range t.first {
		box := EmptyBox()
		lo, hi := t.members(b)
		for i := lo; i < hi; i++ {
			box = box.Union(t.bounds[i])
		}
		t.box[t.first+b] = box
	}
	for n := t.first - 1; n >= 1; n-- {
		t.box[n] = t.box[2*n].Union(t.box[2*n+1])
	}
	return t
}

// members returns the places in order of a block's triangles, from lo up to
// but not hi; none past the last block.
func (t *pairTree) members(block int) (lo, hi int) {
	lo = min(block*pairBlock, len(t.order))
	return lo, min(lo+pairBlock, len(t.order))
}

// curveOrder sorts the triangles that have an area by the Morton code of
// their middle, 1024 steps an axis.
func curveOrder(m *TriMesh) []int32 {
	const steps = 1024
	box := m.BoundingBox()
	size := box.Size()
	scale := (steps - 1) / math.Max(size.X, math.Max(size.Y, size.Z))
	if math.IsInf(scale, 0) || math.IsNaN(scale) {
		scale = 0
	}
	keys := make([]uint64, 0, len(m.Triangles))
	for i := range m.Triangles {
		p, q, r := m.Corners(i)
		if _, ok := seenAlong(p, q, r); !ok {
			continue
		}
		c := p.Min(q).Min(r).Lerp(p.Max(q).Max(r), 0.5).Sub(box.Min).Mul(scale)
		code := spread(c.X) | spread(c.Y)<<1 | spread(c.Z)<<2
		keys = append(keys, code<<32|uint64(i))
	}
	slices.Sort(keys)
	order := make([]int32, len(keys))
	for n, k := range keys {
		order[n] = int32(uint32(k))
	}
	return order
}

// spread moves bit i of x, from 0 to 1023, to bit 3i.
func spread(x float64) uint64 {
	v := uint64(min(max(x, 0), 1023))
	v = (v | v<<16) & 0x030000ff
	v = (v | v<<8) & 0x0300f00f
	v = (v | v<<4) & 0x030c30c3
	return (v | v<<2) & 0x09249249
}

// eachNear calls visit with each pair of triangles whose boxes meet, one of
// them in the block and the other in it or in a later one, until visit returns
// false. Over all blocks every such pair comes once, in a fixed order.
func (t *pairTree) eachNear(block int, visit func(a, b int) bool) {
	lo, hi := t.members(block)
	near := t.box[t.first+block]
	var stack [2 * bits.UintSize]int
	stack[0] = 1
	for top := 1; top > 0; {
		top--
		n := stack[top]
		if !overlap(&t.box[n], &near) {
			continue
		}
		if n < t.first {
			// Skip a child all of whose blocks come before this one.
			stack[top] = 2*n + 1
			top++
			if t.lastBlock(2*n) >= block {
				stack[top] = 2 * n
				top++
			}
			continue
		}
		from, to := t.members(n - t.first)
		for j := from; j < to; j++ {
			for i := lo; i < min(hi, j); i++ { // each pair in one block once
				if overlap(&t.bounds[i], &t.bounds[j]) && !visit(int(t.order[i]), int(t.order[j])) {
					return
				}
			}
		}
	}
}

// lastBlock returns the last block under a node.
func (t *pairTree) lastBlock(n int) int {
	down := bits.Len(uint(t.first)) - bits.Len(uint(n))
	return (n+1)<<down - 1 - t.first
}

func overlap(b, c *Box) bool {
	return b.Min.X <= c.Max.X && c.Min.X <= b.Max.X &&
		b.Min.Y <= c.Max.Y && c.Min.Y <= b.Max.Y &&
		b.Min.Z <= c.Max.Z && c.Min.Z <= b.Max.Z
}
