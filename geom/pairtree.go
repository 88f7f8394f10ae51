package geom

import (
	"context"
	"math"
	"math/bits"
	"slices"

	"halfpour/geom/parallel"
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

// newPairTree stops with ctx's error.
func newPairTree(ctx context.Context, m *TriMesh) (*pairTree, error) {
	order, err := curveOrder(ctx, m)
	if err != nil {
		return nil, err
	}
	t := &pairTree{mesh: m, order: order}
	t.blocks = (len(t.order) + pairBlock - 1) / pairBlock
	t.first = 1 << bits.Len(uint(max(t.blocks, 1)-1))
	t.bounds = make([]Box, len(t.order))
	t.box = make([]Box, 2*t.first)
	err = inBatches(ctx, t.first, 0, func(b int) {
		box := EmptyBox()
		lo, hi := t.members(b)
		for i := lo; i < hi; i++ {
			p, q, r := m.Corners(int(t.order[i]))
			t.bounds[i] = Box{p.Min(q).Min(r), p.Max(q).Max(r)}
			box = box.Union(t.bounds[i])
		}
		t.box[t.first+b] = box
	})
	for n := t.first - 1; n >= 1; n-- {
		t.box[n] = t.box[2*n].Union(t.box[2*n+1])
	}
	return t, err
}

// members returns the places in order of a block's triangles, from lo up to
// but not hi; none past the last block.
func (t *pairTree) members(block int) (lo, hi int) {
	lo = min(block*pairBlock, len(t.order))
	return lo, min(lo+pairBlock, len(t.order))
}

// curveOrder sorts the triangles that have an area by the Morton code of
// their middle, 1024 steps an axis.
func curveOrder(ctx context.Context, m *TriMesh) ([]int32, error) {
	const steps = 1024
	box := m.BoundingBox()
	size := box.Size()
	scale := (steps - 1) / max(size.X, max(size.Y, size.Z))
	if math.IsInf(scale, 0) || math.IsNaN(scale) {
		scale = 0
	}
	codes := make([]int32, len(m.Triangles)) // -1 for those without an area
	err := inBatches(ctx, len(codes), 0, func(i int) {
		p, q, r := m.Corners(i)
		if _, ok := seenAlong(p, q, r); !ok {
			codes[i] = -1
			return
		}
		c := p.Min(q).Min(r).Lerp(p.Max(q).Max(r), 0.5).Sub(box.Min).Mul(scale)
		codes[i] = int32(spread(c.X) | spread(c.Y)<<1 | spread(c.Z)<<2)
	})
	if err != nil {
		return nil, err
	}
	// By the first bits of the code, and then each lot by itself.
	const lots, shift = 1 << 9, 30 - 9
	var start [lots + 1]int
	for _, c := range codes {
		if c >= 0 {
			start[c>>shift+1]++
		}
	}
	for i := range lots {
		start[i+1] += start[i]
	}
	keys, fill := make([]uint64, start[lots]), start
	for i, c := range codes {
		if c >= 0 {
			keys[fill[c>>shift]] = uint64(c)<<32 | uint64(i)
			fill[c>>shift]++
		}
	}
	order := make([]int32, len(keys))
	err = parallel.For(ctx, lots, 0, func(lot int) {
		slices.Sort(keys[start[lot]:start[lot+1]])
		for n := start[lot]; n < start[lot+1]; n++ {
			order[n] = int32(uint32(keys[n]))
		}
	})
	return order, err
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
	leaf := t.first + block
	if !t.meet(block, block, visit) {
		return
	}
	near := t.box[leaf]
	var stack [2 * bits.UintSize]int
	for up := leaf; up > 1; up /= 2 {
		if up%2 == 1 {
			continue // its sibling's blocks come before
		}
		stack[0] = up + 1
		for top := 1; top > 0; {
			top--
			n := stack[top]
			switch {
			case !overlap(&t.box[n], &near):
			case n < t.first:
				stack[top], stack[top+1] = 2*n+1, 2*n
				top += 2
			case !t.meet(block, n-t.first, visit):
				return
			}
		}
	}
}

// meet is eachNear for two blocks; it reports whether to go on.
func (t *pairTree) meet(block, later int, visit func(a, b int) bool) bool {
	lo, hi := t.members(block)
	from, to := t.members(later)
	near := &t.box[t.first+block]
	for j := from; j < to; j++ {
		other := &t.bounds[j]
		if !overlap(other, near) {
			continue
		}
		for i := lo; i < min(hi, j); i++ { // each pair in one block once
			if overlap(&t.bounds[i], other) && !visit(int(t.order[i]), int(t.order[j])) {
				return false
			}
		}
	}
	return true
}

func overlap(b, c *Box) bool {
	return b.Min.X <= c.Max.X && c.Min.X <= b.Max.X &&
		b.Min.Y <= c.Max.Y && c.Min.Y <= b.Max.Y &&
		b.Min.Z <= c.Max.Z && c.Min.Z <= b.Max.Z
}
