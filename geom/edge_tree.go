package geom

import (
	"math"
	"sort"
)

// edgeTree is a bounding-volume tree over edges in a plane. Edges keep the
// numbers that they came with.
type edgeTree struct {
	edges []edge2
	order []int32 // edge numbers, leaf by leaf
	nodes []edgeNode
}

// edgeNode is a leaf when count > 0; its children otherwise stand at the next
// place and at right.
type edgeNode struct {
	box          rect
	right        int32
	first, count int32
}

const edgesPerLeaf = 4

func newEdgeTree(es []edge2) *edgeTree {
	t := &edgeTree{edges: es, order: make([]int32, len(es))}
	for i := range t.order {
		t.order[i] = int32(i)
	}
	if len(es) > 0 {
		t.build(0, len(es))
	}
	return t
}

// build makes the subtree over order[lo:hi], halved at the middle of its
// longer side's order.
func (t *edgeTree) build(lo, hi int) {
	part := t.order[lo:hi]
	box := emptyRect()
	for _, i := range part {
		box = box.union(t.edges[i].bounds())
	}
	at := len(t.nodes)
	t.nodes = append(t.nodes, edgeNode{box: box, first: int32(lo)})
	if len(part) <= edgesPerLeaf {
		t.nodes[at].count = int32(len(part))
		return
	}
	wide := box.max.X-box.min.X > box.max.Y-box.min.Y
	key := func(i int32) float64 {
		e := t.edges[i]
		if wide {
			return e.a.X + e.b.X
		}
		return e.a.Y + e.b.Y
	}
	sort.SliceStable(part, func(x, y int) bool { return key(part[x]) < key(part[y]) })
	mid := (lo + hi) / 2
	t.build(lo, mid)
	t.nodes[at].right = int32(len(t.nodes))
	t.build(mid, hi)
}

// visit calls f with the number of every edge whose box meets r.
func (t *edgeTree) visit(r rect, f func(i int)) {
	t.prune(
		func(box rect) bool { return box.overlaps(r) },
		func(i int) {
			if t.edges[i].bounds().overlaps(r) {
				f(i)
			}
		})
}

// prune walks the tree, into every node whose box may hold something of
// interest, and calls f with the edges met. Since both may learn on the way,
// edges are found earlier, not better, than by asking them all.
func (t *edgeTree) prune(enter func(box rect) bool, f func(i int)) {
	if len(t.nodes) == 0 {
		return
	}
	var stack [64]int32 // halving leaves no deeper tree
	n := 1
	for n > 0 {
		n--
		at := stack[n]
		node := &t.nodes[at]
		if !enter(node.box) {
			continue
		}
		if node.count > 0 {
			for _, i := range t.order[node.first : node.first+node.count] {
				f(int(i))
			}
			continue
		}
		stack[n], stack[n+1] = node.right, at+1
		n += 2
	}
}

// nearest returns the edge nearest to p, the least number where several are
// as near, and the squared distance; -1 and +Inf without edges.
func (t *edgeTree) nearest(p Vec2) (int, float64) {
	best, dist := -1, math.Inf(1)
	if len(t.nodes) == 0 {
		return best, dist
	}
	type entry struct {
		at int32
		d  float64
	}
	var stack [64]entry
	stack[0] = entry{0, t.nodes[0].box.distance2(p)}
	n := 1
	for n > 0 {
		n--
		if stack[n].d > dist {
			continue
		}
		at := stack[n].at
		node := &t.nodes[at]
		if node.count > 0 {
			for _, i := range t.order[node.first : node.first+node.count] {
				q, _ := t.edges[i].at(p)
				v := p.Sub(q)
				if d := v.Dot(v); d < dist || d == dist && int(i) < best {
					best, dist = int(i), d
				}
			}
			continue
		}
		l := entry{at + 1, t.nodes[at+1].box.distance2(p)}
		r := entry{node.right, t.nodes[node.right].box.distance2(p)}
		if l.d < r.d {
			l, r = r, l
		}
		stack[n], stack[n+1] = l, r
		n += 2
	}
	return best, dist
}
