package geom

import "math"

// bvh is a bounding volume hierarchy over triangles: a binary tree of boxes in
// one flat array, in preorder. Triangles are copied in the order of the
// leaves, so that what is near in space is near in memory; the place of a
// triangle in that order is its slot.
type bvh struct {
	nodes     []bvhNode
	triangles []triangle
	balls     []ball32
	ids       []int32 // number of each triangle in its mesh, by slot
	meanArea  float64 // mm², of a triangle
	slack     float64 // mm: more than the rounding error of a distance near the mesh
}

// ball32 is a ball that holds a triangle: to see that the ball is too far away takes
// a tenth of the time that the nearest point does.
type ball32 struct{ x, y, z, r float32 }

func ballOf(t *triangle) ball32 {
	c := t.a.Add(t.b).Add(t.c).Mul(1.0 / 3)
	b := ball32{x: float32(c.X), y: float32(c.Y), z: float32(c.Z)}
	c = Vec{float64(b.x), float64(b.y), float64(b.z)}
	r := math.Sqrt(max(c.Sub(t.a).Dot(c.Sub(t.a)), c.Sub(t.b).Dot(c.Sub(t.b)), c.Sub(t.c).Dot(c.Sub(t.c))))
	b.r = up32(r + 1e-12*r)
	return b
}

// beyond reports whether the whole ball is farther from p than d.
func (b *ball32) beyond(p Vec, d float64) bool {
	dx, dy, dz := p.X-float64(b.x), p.Y-float64(b.y), p.Z-float64(b.z)
	d += float64(b.r)
	return dx*dx+dy*dy+dz*dz > d*d
}

// bvhNode holds the boxes of both its children, one cache line in all. Bounds
// are rounded outwards to 32 bits.
type bvhNode struct {
	lo, hi [2][3]float32
	child  [2]bvhRef
}

// bvhRef is a node's index, or when negative a leaf: a run of slots.
type bvhRef int32

// maxLeaf is the greatest number of triangles in a leaf.
const maxLeaf = 8

func leafRef(first, count int) bvhRef { return ^bvhRef(first<<4 | count) }

// slots returns the run of a leaf.
func (r bvhRef) slots() (first, end int32) {
	first = int32(^r) >> 4
	return first, first + int32(^r)&15
}

// maxDepth bounds the tree: below splitDepth levels by cost, triangles are
// halved by count, which at most 31 further levels can do.
const (
	splitDepth = 40
	maxDepth   = splitDepth + 32
)

// hit is the nearest point of a mesh.
type hit struct {
	square float64 // of the distance, mm²
	way    Vec     // from the nearest point to the point asked about
	slot   int32
	on     feature
}

// noHit is beaten by everything.
var noHit = hit{square: math.Inf(1), slot: math.MaxInt32}

// found is false where the distance overflows.
func (h *hit) found() bool { return h.slot != math.MaxInt32 }

// try makes t the nearest when it is nearer, or as near and earlier: which
// triangle is found depends on the point alone, never on the order of search.
func (h *hit) try(t *triangle, slot int32, p Vec) bool {
	way, on := t.closest(p)
	s := way.Dot(way)
	if s > h.square || s == h.square && slot > h.slot {
		return false
	}
	*h = hit{s, way, slot, on}
	return true
}

// reach returns the distance from which on a lower bound rules a triangle out
// when one at distance d is known: a little more than d, for rounding.
func (t *bvh) reach(d float64) float64 { return d + t.slack + 1e-12*d }

// squareTo returns the squared distance from p to the box of child k.
func (n *bvhNode) squareTo(k int, p Vec) float64 {
	dx := max(float64(n.lo[k][0])-p.X, p.X-float64(n.hi[k][0]), 0)
	dy := max(float64(n.lo[k][1])-p.Y, p.Y-float64(n.hi[k][1]), 0)
	dz := max(float64(n.lo[k][2])-p.Z, p.Z-float64(n.hi[k][2]), 0)
	return dx*dx + dy*dy + dz*dz
}

// squareToBox returns the squared distance between b and the box of child k.
func (n *bvhNode) squareToBox(k int, b *Box) float64 {
	dx := max(float64(n.lo[k][0])-b.Max.X, b.Min.X-float64(n.hi[k][0]), 0)
	dy := max(float64(n.lo[k][1])-b.Max.Y, b.Min.Y-float64(n.hi[k][1]), 0)
	dz := max(float64(n.lo[k][2])-b.Max.Z, b.Min.Z-float64(n.hi[k][2]), 0)
	return dx*dx + dy*dy + dz*dz
}

// box returns the box of child k.
func (n *bvhNode) box(k int) Box {
	lo, hi := &n.lo[k], &n.hi[k]
	return Box{
		Vec{float64(lo[0]), float64(lo[1]), float64(lo[2])},
		Vec{float64(hi[0]), float64(hi[1]), float64(hi[2])},
	}
}
