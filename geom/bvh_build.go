package geom

import (
	"context"
	"math"
	"sync"

	"halfpour/geom/parallel"
)

// bvhItem is a triangle while the tree is built: its box and its number.
type bvhItem struct {
	bounds32
	id int32
}

// bounds32 is a box of 32-bit floats.
type bounds32 struct{ lo, hi [3]float32 }

func emptyBounds32() bounds32 {
	inf := float32(math.Inf(1))
	return bounds32{[3]float32{inf, inf, inf}, [3]float32{-inf, -inf, -inf}}
}

// bounds32 returns the least box of 32-bit floats round a box.
func (b Box) bounds32() bounds32 {
	lo, hi := b.Min, b.Max
	return bounds32{[3]float32{down32(lo.X), down32(lo.Y), down32(lo.Z)}, [3]float32{up32(hi.X), up32(hi.Y), up32(hi.Z)}}
}

func (b *bounds32) add(lo, hi *[3]float32) {
	b.lo = [3]float32{min(b.lo[0], lo[0]), min(b.lo[1], lo[1]), min(b.lo[2], lo[2])}
	b.hi = [3]float32{max(b.hi[0], hi[0]), max(b.hi[1], hi[1]), max(b.hi[2], hi[2])}
}

// halfArea returns half the surface area, 0 when empty.
func (b *bounds32) halfArea() float64 {
	x, y, z := float64(b.hi[0]-b.lo[0]), float64(b.hi[1]-b.lo[1]), float64(b.hi[2]-b.lo[2])
	if x < 0 {
		return 0
	}
	return x*y + y*z + z*x
}

// down32 and up32 round to 32 bits, never up and never down.
func down32(x float64) float32 {
	f := float32(min(x, math.MaxFloat32))
	if float64(f) > x {
		f -= max(f, -f)*0x1p-23 + math.SmallestNonzeroFloat32
	}
	return f
}

func up32(x float64) float32 { return -down32(-x) }

const buildChunk = 1 << 14 // triangles to a parallel job

// newBVH builds the tree over the triangles of m, without those that have
// fewer than three different corners. Indices must be in range and vertices
// within MostCoordinate.
func newBVH(m *TriMesh) *bvh {
	items := boundItems(m)
	t := &bvh{ids: make([]int32, len(items)), triangles: make([]triangle, len(items)), balls: make([]ball32, len(items))}
	tree := splitItems(items, 0, 0)
	t.nodes = tree.nodes
	if len(t.nodes) == 0 { // the root is a leaf: give it a parent
		none := emptyBounds32()
		t.nodes = []bvhNode{{
			lo:    [2][3]float32{tree.box.lo, none.lo},
			hi:    [2][3]float32{tree.box.hi, none.hi},
			child: [2]bvhRef{tree.root, leafRef(0, 0)},
		}}
	}
	inChunks(len(items), func(_, from, to int) {
		for i := from; i < to; i++ {
			t.ids[i] = items[i].id
			a, b, c := m.Corners(int(items[i].id))
			t.triangles[i] = triangle{a, b, c}
			t.balls[i] = ballOf(&t.triangles[i])
		}
	})
	size := Vec{}
	for i := range 3 {
		s := float64(tree.box.hi[i]) - float64(tree.box.lo[i])
		size = size.Add(Vec{X: s * s})
	}
	t.slack = 1e-13 * math.Sqrt(size.X)
	return t
}

// inChunks runs job over 0..n in parallel chunks that do not depend on the
// number of processors.
func inChunks(n int, job func(chunk, from, to int)) {
	// The background context is never cancelled, so there is no error.
	_ = parallel.For(context.Background(), (n+buildChunk-1)/buildChunk, 0, func(i int) {
		job(i, i*buildChunk, min(n, (i+1)*buildChunk))
	})
}

func chunksOf(n int) int { return (n + buildChunk - 1) / buildChunk }

func boundItems(m *TriMesh) []bvhItem {
	items := make([]bvhItem, len(m.Triangles))
	kept := make([]int, chunksOf(len(items)))
	inChunks(len(items), func(chunk, from, to int) {
		n := from
		for i := from; i < to; i++ {
			if isCollapsed(m.Triangles[i]) {
				continue
			}
			var t triangle
			t.a, t.b, t.c = m.Corners(i)
			b := t.bounds()
			items[n] = bvhItem{b.bounds32(), int32(i)}
			n++
		}
		kept[chunk] = n - from
	})
	n := 0
	for chunk, k := range kept {
		from := chunk * buildChunk
		if n != from {
			copy(items[n:], items[from:from+k])
		}
		n += k
	}
	return items[:n]
}

// isCollapsed reports whether two corners of a triangle are one vertex. Such a
// triangle has no surface, and its edges are paired with each other.
func isCollapsed(t [3]int32) bool { return t[0] == t[1] || t[1] == t[2] || t[2] == t[0] }

// bvhPart is a finished subtree; its node indices count from its own start.
type bvhPart struct {
	nodes []bvhNode
	root  bvhRef
	box   bounds32
}

// splitItems builds the tree over items, which start at slot first. Large
// halves are built at the same time; the result does not depend on it.
func splitItems(items []bvhItem, first, depth int) bvhPart {
	if len(items) <= buildChunk {
		part := bvhPart{nodes: make([]bvhNode, 0, len(items)/4)}
		part.root, part.box = part.grow(items, first, depth)
		return part
	}
	mid := split(items, depth)
	var left, right bvhPart
	var group sync.WaitGroup
	group.Add(1)
	go func() {
		defer group.Done()
		left = splitItems(items[:mid], first, depth+1)
	}()
	right = splitItems(items[mid:], first+mid, depth+1)
	group.Wait()
	return joinParts(left, right)
}

func joinParts(left, right bvhPart) bvhPart {
	part := bvhPart{nodes: make([]bvhNode, 1, 1+len(left.nodes)+len(right.nodes))}
	var root bvhNode
	for k, p := range []bvhPart{left, right} {
		shift := bvhRef(len(part.nodes))
		move := func(r bvhRef) bvhRef {
			if r < 0 {
				return r
			}
			return r + shift
		}
		for _, n := range p.nodes {
			n.child[0], n.child[1] = move(n.child[0]), move(n.child[1])
			part.nodes = append(part.nodes, n)
		}
		root.setChild(k, move(p.root), p.box)
	}
	part.nodes[0] = root
	part.box = left.box
	part.box.add(&right.box.lo, &right.box.hi)
	return part
}

func (n *bvhNode) setChild(k int, r bvhRef, b bounds32) {
	n.child[k], n.lo[k], n.hi[k] = r, b.lo, b.hi
}

// grow appends the tree over items to the part.
func (part *bvhPart) grow(items []bvhItem, first, depth int) (bvhRef, bounds32) {
	if len(items) <= maxLeaf {
		box := emptyBounds32()
		for i := range items {
			box.add(&items[i].lo, &items[i].hi)
		}
		return leafRef(first, len(items)), box
	}
	at := len(part.nodes)
	part.nodes = append(part.nodes, bvhNode{})
	mid := split(items, depth)
	left, leftBox := part.grow(items[:mid], first, depth+1)
	right, rightBox := part.grow(items[mid:], first+mid, depth+1)
	part.nodes[at].setChild(0, left, leftBox)
	part.nodes[at].setChild(1, right, rightBox)
	leftBox.add(&rightBox.lo, &rightBox.hi)
	return bvhRef(at), leftBox
}

// bins is the greatest number of places where a run may be split.
const bins = 16

// leastSpread is the least spread of middles, twice in mm, that is shared out to
// bins: over a smaller one a float32 cannot divide.
const leastSpread = 1e-30

// split parts items into two runs and returns where the second starts, at the
// least surface area cost over some bins along the axis on which the middles
// spread most (Wald, "On fast construction of SAH-based bounding volume
// hierarchies", IEEE Symposium on Interactive Ray Tracing, 2007).
func split(items []bvhItem, depth int) int {
	middles := emptyBounds32() // of lo + hi, twice the middle
	for i := range items {
		it := &items[i]
		c := [3]float32{it.lo[0] + it.hi[0], it.lo[1] + it.hi[1], it.lo[2] + it.hi[2]}
		middles.add(&c, &c)
	}
	axis, spread := 0, middles.hi[0]-middles.lo[0]
	for k := 1; k < 3; k++ {
		if s := middles.hi[k] - middles.lo[k]; s > spread {
			axis, spread = k, s
		}
	}
	if depth >= splitDepth || !(spread > leastSpread) {
		return len(items) / 2
	}
	g := binning{axis: axis, base: middles.lo[axis], last: min(bins, 2+len(items)/4) - 1}
	g.scale = float32(g.last+1) * (1 - 1e-6) / spread
	cut, ok := g.cheapestCut(items)
	if !ok {
		return len(items) / 2
	}
	i, j := 0, len(items)-1
	for {
		for i <= j && g.bin(&items[i]) < cut {
			i++
		}
		for i <= j && g.bin(&items[j]) >= cut {
			j--
		}
		if i > j {
			return i
		}
		items[i], items[j] = items[j], items[i]
	}
}

// binning sorts items into bins 0 to last along an axis.
type binning struct {
	axis, last  int
	base, scale float32
}

func (g *binning) bin(it *bvhItem) int {
	return min(g.last, int((it.lo[g.axis]+it.hi[g.axis]-g.base)*g.scale))
}

// cheapestCut returns the first bin of the second half.
func (g *binning) cheapestCut(items []bvhItem) (int, bool) {
	var boxes [bins]bounds32
	var counts [bins]int
	for k := 0; k <= g.last; k++ {
		boxes[k] = emptyBounds32()
	}
	for i := range items {
		k := g.bin(&items[i])
		counts[k]++
		boxes[k].add(&items[i].lo, &items[i].hi)
	}
	var above [bins]float64 // cost of bins k and up
	box, n := emptyBounds32(), 0
	for k := g.last; k > 0; k-- {
		box.add(&boxes[k].lo, &boxes[k].hi)
		n += counts[k]
		above[k] = box.halfArea() * float64(n)
	}
	box, n = emptyBounds32(), 0
	best, cut := math.Inf(1), 0
	for k := 1; k <= g.last; k++ {
		box.add(&boxes[k-1].lo, &boxes[k-1].hi)
		n += counts[k-1]
		if n == 0 || n == len(items) {
			continue
		}
		if cost := box.halfArea()*float64(n) + above[k]; cost < best {
			best, cut = cost, k
		}
	}
	return cut, cut > 0
}
