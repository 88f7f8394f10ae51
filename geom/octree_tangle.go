package geom

import "context"

// A patch is sampled from one crossing an edge. Where smaller neighbours show
// that the surface crosses an edge of a leaf more than once, the leaf is tangled
// and must be split.

// untangle splits tangled leaves until there are none, and returns the
// crossings. Leaves are split one by one, each time looking only round the
// leaf, in an order that does not depend on workers.
func (t *octree) untangle(ctx context.Context, workers int) ([]crossing, error) {
	for {
		list, tangled, err := t.findCrossings(ctx, workers)
		if err != nil {
			return nil, err
		}
		if len(tangled) == 0 {
			return list, nil
		}
		clearSampling(t.root.leaves(nil))
		for len(tangled) > 0 {
			l := tangled[0]
			tangled = tangled[1:]
			if t.at([3]int32{l.x, l.y, l.z}, l.size).leaf != l || !t.isTangled(l) {
				continue
			}
			t.splitLeaf(ctx, l, nil, l.keen)
			tangled = t.tangledRound(l, tangled)
			if err := ctx.Err(); err != nil {
				return nil, err
			}
		}
	}
}

// splitLeaf splits the cell of a leaf, and its children as their own surface asks; those
// that touch seek, if it is not nil, until corners of cells show the surface; with
// keen, until their patches reach sharp edges.
func (t *octree) splitLeaf(ctx context.Context, l *leaf, seek *sought, keen bool) {
	c := t.at([3]int32{l.x, l.y, l.z}, l.size)
	d := seed{cell: c, solid: l.solid, x: l.x, y: l.y, z: l.z, size: l.size, seek: seek, keen: keen, group: l.group}
	d.sampled = l.sampled || l.faceted != nil && l.size <= t.feature
	t.growChildren(ctx, d)
}

// at returns the cell that holds the finest cell at p and is no smaller than
// size.
func (t *octree) at(p [3]int32, size int32) *cell {
	c, s := &t.root, t.top
	var o [3]int32
	for c.children != nil && s > size {
		s /= 2
		k := 0
		for i := range p {
			if p[i] >= o[i]+s {
				o[i] += s
				k |= 1 << i
			}
		}
		c = &c.children[k]
	}
	return c
}

// crossingsOn counts the smallest edges along an edge that the surface crosses.
func (t *octree) crossingsOn(from [3]int32, axis int, size int32) int {
	u, w := (axis+1)%3, (axis+2)%3
	var round [4]*cell
	for q := range round {
		p := from
		p[u] -= int32(1 - q&1)
		p[w] -= int32(1 - q>>1)
		round[q] = t.at(p, size)
	}
	n := 0
	count := walker{edge: func(cells [4]*cell, axis int, size int32) {
		l, e := smallestAt(cells, axis, size)
		if l == nil {
			return
		}
		if t.know(l); l.crossed(e) {
			n++
		}
	}}
	count.edges(round, axis, size)
	return n
}

func (t *octree) isTangled(l *leaf) bool {
	for e := 0; e < 12; e++ {
		c, _ := edgeCorners(e)
		from := [3]int32{l.x + int32(c&1)*l.size, l.y + int32(c>>1&1)*l.size, l.z + int32(c>>2)*l.size}
		if t.crossingsOn(from, e>>2, l.size) > 1 {
			return true
		}
	}
	return false
}

// tangledRound adds the tangled leaves that touch the place of l,
// which has been split.
func (t *octree) tangledRound(l *leaf, list []*leaf) []*leaf {
	lo, hi := [3]int32{l.x, l.y, l.z}, [3]int32{l.x + l.size, l.y + l.size, l.z + l.size}
	var visit func(c *cell, x, y, z, size int32)
	visit = func(c *cell, x, y, z, size int32) {
		if x > hi[0] || x+size < lo[0] || y > hi[1] || y+size < lo[1] || z > hi[2] || z+size < lo[2] {
			return
		}
		if c.children == nil {
			if c.leaf != nil && c.leaf.faceted == nil && c.leaf.lentTo == nil && size > 1 && t.isTangled(c.leaf) {
				list = append(list, c.leaf)
			}
			return
		}
		half := size / 2
		for i := range c.children {
			visit(&c.children[i], x+int32(i&1)*half, y+int32(i>>1&1)*half, z+int32(i>>2)*half, half)
		}
	}
	visit(&t.root, 0, 0, 0, t.top)
	return list
}
