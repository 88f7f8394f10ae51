package geom

import "math"

// bvhItem is a triangle while the tree is built: its box, twice the middle of that, and its
// number.
type bvhItem struct {
	sorted32
	middle [3]order32
	id     int32
}

// bins is the greatest number of places where a run may be split.
const bins = 16

// leastSpread is the least spread of middles, twice in mm, that is shared out to
// bins: over a smaller one a float32 cannot divide.
const leastSpread = 1e-30

func itemOf(t *triangle, id int32) bvhItem {
	b := t.bounds()
	it := bvhItem{sorted32: b.sorted32(), id: id}
	for k := range 3 {
		it.middle[k] = orderOf(it.lo[k].float() + it.hi[k].float())
	}
	return it
}

// split parts items into two runs and returns where the second starts and their boxes, at
// the least surface area cost over some bins along the axis on which the middles spread
// most (Wald, "On fast construction of SAH-based bounding volume hierarchies", IEEE
// Symposium on Interactive Ray Tracing, 2007).
func split(items []bvhItem, depth int) (mid int, left, right sorted32) {
	all := emptySorted32 // of the middles
	for i := range items {
		all.include(&items[i].middle)
	}
	middles := all.bounds()
	axis, spread := 0, middles.hi[0]-middles.lo[0]
	for k := 1; k < 3; k++ {
		if s := middles.hi[k] - middles.lo[k]; s > spread {
			axis, spread = k, s
		}
	}
	if depth >= splitDepth || !(spread > leastSpread) {
		return halve(items)
	}
	g := binning{axis: axis, base: middles.lo[axis], last: min(bins, 2+len(items)/4) - 1}
	g.scale = float32(g.last+1) * (1 - 1e-6) / spread
	cut := g.cheapestCut(items, &left, &right)
	if cut == 0 {
		return halve(items)
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
			return i, left, right
		}
		items[i], items[j] = items[j], items[i]
	}
}

func halve(items []bvhItem) (mid int, left, right sorted32) {
	mid = len(items) / 2
	return mid, boxOf(items[:mid]), boxOf(items[mid:])
}

func boxOf(items []bvhItem) sorted32 {
	box := emptySorted32
	for i := range items {
		box.add(&items[i].sorted32)
	}
	return box
}

// binning sorts items into bins 0 to last along an axis.
type binning struct {
	axis, last  int
	base, scale float32
}

func (g *binning) bin(it *bvhItem) int {
	return min(g.last, int((it.middle[g.axis].float()-g.base)*g.scale))
}

// cheapestCut returns the first bin of the second half and the boxes of both; 0 where all
// are in one bin.
func (g *binning) cheapestCut(items []bvhItem, left, right *sorted32) int {
	var boxes [bins]sorted32
	var counts [bins]int
	for k := 0; k <= g.last; k++ {
		boxes[k] = emptySorted32
	}
	for i := range items {
		k := g.bin(&items[i])
		counts[k]++
		boxes[k].add(&items[i].sorted32)
	}
	var from [bins]sorted32 // of bins k and up
	box := emptySorted32
	for k := g.last; k > 0; k-- {
		box.add(&boxes[k])
		from[k] = box
	}
	n := 0
	box = emptySorted32
	best, cut := math.Inf(1), 0
	for k := 1; k <= g.last; k++ {
		box.add(&boxes[k-1])
		n += counts[k-1]
		if n == 0 || n == len(items) || counts[k-1] == 0 && cut > 0 {
			continue
		}
		if cost := box.halfArea()*float64(n) + from[k].halfArea()*float64(len(items)-n); cost < best {
			best, cut = cost, k
			*left, *right = box, from[k]
		}
	}
	return cut
}
