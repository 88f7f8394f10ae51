package geom

import (
	"context"
	"math"
	"slices"
	"sync"

	"halfpour/geom/parallel"
)

const buildChunk = 1 << 14 // triangles to a parallel job

// newBVH builds the tree over the triangles of m, without those that have
// fewer than three different corners. Indices must be in range and vertices
// within MostCoordinate.
func newBVH(m *TriMesh) *bvh {
	keys := sortByCell(m)
	n := len(keys)
	t := &bvh{ids: make([]int32, n), triangles: make([]triangle, n), balls: make([]ball32, n)}
	root := t.build(m, keys)
	if root.ref < 0 { // a leaf: give it a parent
		var node bvhNode
		none := emptyBounds32()
		node.setChild(0, &root)
		node.setChild(1, &boxedRef{none, noRef})
		t.nodes = []bvhNode{node}
	}
	size := Vec{}
	for i := range 3 {
		s := float64(root.hi[i]) - float64(root.lo[i])
		size = size.Add(Vec{X: s * s})
	}
	t.slack = 1e-13 * math.Sqrt(size.X)
	return t
}

// boxedRef is what has been built over some triangles, and its box.
type boxedRef struct {
	bounds32
	ref bvhRef
}

func (n *bvhNode) setChild(k int, r *boxedRef) { n.child[k], n.lo[k], n.hi[k] = r.ref, r.lo, r.hi }

// join makes the node, which is number at, the parent of two.
func (n *bvhNode) join(at int, left, right *boxedRef) boxedRef {
	n.setChild(0, left)
	n.setChild(1, right)
	box := left.bounds32
	box.add(&right.lo, &right.hi)
	return boxedRef{box, bvhRef(at)}
}

// build parts the sorted keys at the blocks of cells that they are in, builds the tree
// over each part and joins what that comes to.
func (t *bvh) build(m *TriMesh, keys []cellKey) boxedRef {
	var parts []*bvhPart
	joinBlocks(keys, 0, 0, &[]bvhNode{}, func(first, end, depth int) boxedRef {
		parts = append(parts, &bvhPart{tree: t, first: first, end: end, depth: depth})
		return boxedRef{}
	})
	eachOf(len(parts), func(i int) { parts[i].build(m, keys) })
	n, next := len(parts)-1, 0
	for _, p := range parts {
		n += len(p.nodes)
	}
	t.nodes = make([]bvhNode, 0, n)
	root := joinBlocks(keys, 0, 0, &t.nodes, func(int, int, int) boxedRef {
		p := parts[next]
		p.at, next = bvhRef(len(t.nodes)), next+1
		t.nodes = t.nodes[:len(t.nodes)+len(p.nodes)]
		return boxedRef{p.box, p.moved(p.root)}
	})
	eachOf(len(parts), func(i int) { parts[i].move(t.nodes) })
	return root
}

// bvhPart is a subtree; its node indices count from its own start.
type bvhPart struct {
	tree              *bvh
	first, end, depth int // slots
	nodes             []bvhNode
	at                bvhRef // where they go in the tree
	root              bvhRef
	box               bounds32
}

// itemSpace has room for the items of a part, to be used again.
var itemSpace = sync.Pool{New: func() any { return new([]bvhItem) }}

func (p *bvhPart) build(m *TriMesh, keys []cellKey) {
	space := itemSpace.Get().(*[]bvhItem)
	defer itemSpace.Put(space)
	*space = slices.Grow((*space)[:0], p.end-p.first)
	items, box := (*space)[:p.end-p.first], emptySorted32
	for i, k := range keys[p.first:p.end] {
		var t triangle
		t.a, t.b, t.c = m.Corners(int(k.id()))
		items[i] = itemOf(&t, k.id())
		box.add(&items[i].sorted32)
	}
	p.nodes = make([]bvhNode, 0, len(items)/4)
	p.root = p.grow(items, p.first, p.depth)
	p.box = box.bounds()
	for i := range items {
		slot, id := p.first+i, items[i].id
		t := &p.tree.triangles[slot]
		t.a, t.b, t.c = m.Corners(int(id))
		p.tree.ids[slot], p.tree.balls[slot] = id, ballOf(t)
	}
}

// move puts the part's nodes to their place in the tree.
func (p *bvhPart) move(nodes []bvhNode) {
	for i, n := range p.nodes {
		n.child[0], n.child[1] = p.moved(n.child[0]), p.moved(n.child[1])
		nodes[int(p.at)+i] = n
	}
}

func (p *bvhPart) moved(r bvhRef) bvhRef {
	if r < 0 {
		return r
	}
	return r + p.at
}

// grow appends the tree over items, which start at slot first, to the part.
func (p *bvhPart) grow(items []bvhItem, first, depth int) bvhRef {
	if len(items) <= maxLeaf {
		return leafRef(first, len(items))
	}
	at := len(p.nodes)
	p.nodes = append(p.nodes, bvhNode{})
	mid, left, right := split(items, depth)
	l := boxedRef{left.bounds(), p.grow(items[:mid], first, depth+1)}
	r := boxedRef{right.bounds(), p.grow(items[mid:], first+mid, depth+1)}
	p.nodes[at].setChild(0, &l)
	p.nodes[at].setChild(1, &r)
	return bvhRef(at)
}

// inChunks runs job over 0..n in parallel chunks that do not depend on the
// number of processors.
func inChunks(n int, job func(chunk, from, to int)) {
	// The background context is never cancelled, so there is no error.
	_ = parallel.For(context.Background(), (n+buildChunk-1)/buildChunk, 0, func(i int) {
		job(i, i*buildChunk, min(n, (i+1)*buildChunk))
	})
}

// eachOf runs job for 0 to n-1 in parallel.
func eachOf(n int, job func(i int)) { _ = parallel.For(context.Background(), n, 0, job) }

func chunksOf(n int) int { return (n + buildChunk - 1) / buildChunk }

// isCollapsed reports whether two corners of a triangle are one vertex. Such a
// triangle has no surface, and its edges are paired with each other.
func isCollapsed(t [3]int32) bool { return t[0] == t[1] || t[1] == t[2] || t[2] == t[0] }
