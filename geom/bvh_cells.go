package geom

import (
	"math/bits"
	"slices"
	"sort"
)

// Before a tree is built, the triangles are sorted by the cells of a fine grid along a
// curve that fills space (Morton, "A computer oriented geodetic data base", IBM, 1966).
// The tree's upper nodes are blocks of cells, halved and halved again.

const (
	cellBits  = 12 // along each axis
	cellsLong = 1 << cellBits
	idBits    = 27 // of what is below maxTriangles
	topBits   = 12 // of the curve, sorted by first
	tops      = 1 << topBits
	topShift  = idBits + 3*cellBits - topBits
	blockMost = 1 << 13 // triangles in a block that is split no more by its cells
)

// cellKey is a triangle's place along the curve and below that its number.
type cellKey uint64

func (k cellKey) id() int32 { return int32(k & (maxTriangles - 1)) }
func (k cellKey) top() int  { return int(k >> topShift) }

// cellGrid deals space into cells, alike along each axis.
type cellGrid struct {
	base  Vec
	scale float64
}

// gridOver works with thrice the coordinates: those of a triangle's corners summed up.
func gridOver(b Box) cellGrid {
	size := b.Size()
	return cellGrid{b.Min.Mul(3), cellsLong * (1 - 1e-9) / max(3*max(size.X, size.Y, size.Z), leastSpread)}
}

// boxOfAll returns the least box round points.
func boxOfAll(points []Vec) Box {
	boxes := make([]Box, chunksOf(len(points)))
	inChunks(len(points), func(chunk, from, to int) {
		b := EmptyBox()
		for _, p := range points[from:to] {
			b = b.Include(p)
		}
		boxes[chunk] = b
	})
	all := EmptyBox()
	for _, b := range boxes {
		all = all.Union(b)
	}
	return all
}

func (g *cellGrid) key(a, b, c Vec, id int) cellKey {
	p := a.Add(b).Add(c).Sub(g.base).Mul(g.scale)
	return cellKey((spreadBits(p.X)|spreadBits(p.Y)<<1|spreadBits(p.Z)<<2)<<idBits | uint64(id))
}

// spreadBits puts two zeros before each bit of a cell's number.
func spreadBits(cell float64) uint64 {
	x := uint64(min(max(int64(cell), 0), cellsLong-1))
	x = (x | x<<16) & 0x0000ff0000ff
	x = (x | x<<8) & 0x00f00f00f00f
	x = (x | x<<4) & 0x0c30c30c30c3
	return (x | x<<2) & 0x249249249249
}

// cellSort is the keys of a mesh's triangles, chunk by chunk without the collapsed, and
// how many there are of each top.
type cellSort struct {
	keys   []cellKey
	kept   []int // where each chunk's keys end
	counts [][tops]int32
}

// sortByCell returns the sorted keys of the triangles that are not collapsed.
func sortByCell(m *TriMesh) []cellKey {
	s := keysOf(m)
	ends := s.place()
	keys := make([]cellKey, ends[len(ends)-1])
	inChunks(len(s.keys), func(chunk, from, _ int) {
		at := &s.counts[chunk]
		for _, k := range s.keys[from:s.kept[chunk]] {
			keys[at[k.top()]] = k
			at[k.top()]++
		}
	})
	eachOf(len(ends)-1, func(i int) { sortKeys(keys[ends[i]:ends[i+1]], s.keys[ends[i]:ends[i+1]]) })
	return keys
}

func keysOf(m *TriMesh) *cellSort {
	n := len(m.Triangles)
	grid := gridOver(boxOfAll(m.Vertices))
	s := &cellSort{make([]cellKey, n), make([]int, chunksOf(n)), make([][tops]int32, chunksOf(n))}
	inChunks(n, func(chunk, from, to int) {
		n, counts := from, &s.counts[chunk]
		for i := from; i < to; i++ {
			t := m.Triangles[i]
			if isCollapsed(t) {
				continue
			}
			k := grid.key(m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]], i)
			counts[k.top()]++
			s.keys[n] = k
			n++
		}
		s.kept[chunk] = n
	})
	return s
}

// place makes the counts the places where keys go, in order of their tops and chunks. It
// returns the bounds of runs of whole tops, each enough for a parallel job.
func (s *cellSort) place() []int {
	bounds, n := []int{0}, 0
	for top := range tops {
		for chunk := range s.counts {
			count := &s.counts[chunk][top]
			n, *count = n+int(*count), int32(n)
		}
		if n-bounds[len(bounds)-1] >= buildChunk/8 || top == tops-1 {
			bounds = append(bounds, n)
		}
	}
	return bounds
}

// sortKeys sorts a run of keys, with as much room to spare.
func sortKeys(keys, spare []cellKey) {
	if len(keys) < 256 {
		slices.Sort(keys)
		return
	}
	from, to := keys, spare
	for shift := idBits; shift < idBits+3*cellBits; shift += 9 { // an even number of times
		var at [512]int32
		for _, k := range from {
			at[k>>shift&511]++
		}
		sum := int32(0)
		for i := range at {
			at[i], sum = sum, sum+at[i]
		}
		for _, k := range from {
			d := k >> shift & 511
			to[at[d]] = k
			at[d]++
		}
		from, to = to, from
	}
}

// joinBlocks halves the block of cells that sorted keys from first on are in until few
// enough are in each half. It calls part for those and joins what that returns.
func joinBlocks(keys []cellKey, first, depth int, nodes *[]bvhNode, part func(first, end, depth int) boxedRef) boxedRef {
	differ := uint64(0)
	if len(keys) > blockMost {
		differ = uint64(keys[0]^keys[len(keys)-1]) >> idBits
	}
	if differ == 0 {
		return part(first, first+len(keys), depth)
	}
	half := cellKey(1) << (idBits + bits.Len64(differ) - 1)
	mid := sort.Search(len(keys), func(i int) bool { return keys[i]&half != 0 })
	at := len(*nodes)
	*nodes = append(*nodes, bvhNode{})
	left := joinBlocks(keys[:mid], first, depth+1, nodes, part)
	right := joinBlocks(keys[mid:], first+mid, depth+1, nodes, part)
	return (*nodes)[at].join(at, &left, &right)
}
