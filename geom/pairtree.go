package geom

import (
	"context"
	"math"
	"math/bits"
	"slices"

	"halfpour/geom/parallel"
)

// pairTree finds triangles that may meet: a complete binary tree of boxes over
// blocks of a few runs of triangles each, in the order of a space-filling curve.
type pairTree struct {
	mesh   *TriMesh
	runs   []triangleRun // along the curve
	bounds []gridBox     // by place in runs
	blocks int
	first  int       // node of block 0; nodes are numbered from 1, the children of n are 2n and 2n+1
	box    []gridBox // by node, empty past the last block
	kin    []int32   // by node: of all its runs, 0 where they differ, -1 past the last block
}

// triangleRun is one triangle of a mesh, or some that follow each other and are of kin.
type triangleRun struct {
	first, count int32
	kin          int32 // triangles of the same number other than 0 are known not to meet
}

const pairBlock = 4 // runs in a block

// newPairTree takes all triangles of m that have an area, or the runs given, with as much
// room round each of them as grow, in mm. It stops with ctx's error.
func newPairTree(ctx context.Context, m *TriMesh, runs []triangleRun, grow float64) (*pairTree, error) {
	if runs == nil {
		runs = make([]triangleRun, len(m.Triangles))
		for i := range runs {
			runs[i] = triangleRun{int32(i), 1, 0}
		}
	}
	runs, err := curveOrder(ctx, m, runs)
	if err != nil {
		return nil, err
	}
	t := &pairTree{mesh: m, runs: runs}
	t.blocks = (len(runs) + pairBlock - 1) / pairBlock
	t.first = 1 << bits.Len(uint(max(t.blocks, 1)-1))
	t.bounds = make([]gridBox, len(runs))
	t.box, t.kin = make([]gridBox, 2*t.first), make([]int32, 2*t.first)
	grid := newGrid(m.BoundingBox().Grow(grow))
	err = inBatches(ctx, t.first, 0, func(b int) {
		box, kin := emptyGridBox, int32(-1)
		lo, hi := t.members(b)
		for i := lo; i < hi; i++ {
			t.bounds[i] = grid.round(runs[i].box(m).Grow(grow))
			box.add(&t.bounds[i])
			kin = commonKin(kin, runs[i].kin)
		}
		t.box[t.first+b], t.kin[t.first+b] = box, kin
	})
	for n := t.first - 1; n >= 1; n-- {
		t.box[n], t.kin[n] = t.box[2*n], commonKin(t.kin[2*n], t.kin[2*n+1])
		t.box[n].add(&t.box[2*n+1])
	}
	return t, err
}

func commonKin(a, b int32) int32 {
	switch {
	case a == b || b < 0:
		return a
	case a < 0:
		return b
	}
	return 0
}

func (r triangleRun) box(m *TriMesh) Box {
	p, q, s := m.Corners(int(r.first))
	b := Box{p.Min(q).Min(s), p.Max(q).Max(s)}
	for i := r.first + 1; i < r.first+r.count; i++ {
		p, q, s := m.Corners(int(i))
		b.Min, b.Max = b.Min.Min(p.Min(q).Min(s)), b.Max.Max(p.Max(q).Max(s))
	}
	return b
}

// members returns the places of a block's runs, from lo up to but not hi; none past the
// last block.
func (t *pairTree) members(block int) (lo, hi int) {
	lo = min(block*pairBlock, len(t.runs))
	return lo, min(lo+pairBlock, len(t.runs))
}

// curveOrder sorts runs by the Morton code of their middle, 1024 steps an axis. It
// leaves out single triangles without an area.
func curveOrder(ctx context.Context, m *TriMesh, runs []triangleRun) ([]triangleRun, error) {
	const steps = 1024
	box := m.BoundingBox()
	size := box.Size()
	scale := (steps - 1) / max(size.X, max(size.Y, size.Z))
	if math.IsInf(scale, 0) || math.IsNaN(scale) {
		scale = 0
	}
	codes := make([]int32, len(runs)) // -1 for those that are left out
	err := inBatches(ctx, len(codes), 0, func(i int) {
		if runs[i].count == 1 && !m.hasArea(runs[i].first) {
			codes[i] = -1
			return
		}
		b := runs[i].box(m)
		c := b.Min.Lerp(b.Max, 0.5).Sub(box.Min).Mul(scale)
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
	order := make([]triangleRun, len(keys))
	err = parallel.For(ctx, lots, 0, func(lot int) {
		slices.Sort(keys[start[lot]:start[lot+1]])
		for n := start[lot]; n < start[lot+1]; n++ {
			order[n] = runs[uint32(keys[n])]
		}
	})
	return order, err
}

// hasArea reports whether the corners of a triangle are not on one line.
func (m *TriMesh) hasArea(t int32) bool {
	_, ok := seenAlong(m.Corners(int(t)))
	return ok
}

// spread moves bit i of x, from 0 to 1023, to bit 3i.
func spread(x float64) uint64 {
	v := uint64(min(max(x, 0), 1023))
	v = (v | v<<16) & 0x030000ff
	v = (v | v<<8) & 0x0300f00f
	v = (v | v<<4) & 0x030c30c3
	return (v | v<<2) & 0x09249249
}

// pairTask is two nodes as deep in the tree, of which one may be the other, for eachNear.
type pairTask struct{ a, b int }

// taskBlocks is how many blocks are under a node of a task.
const taskBlocks = 64

// tasks lists node pairs so that each two blocks whose boxes meet are under one of them, in
// a fixed order.
func (t *pairTree) tasks() (list []pairTask) {
	level := max(1, t.first/taskBlocks)
	var collect func(a, b int)
	collect = func(a, b int) {
		switch {
		case a != b && !t.near(a, b):
		case a >= level:
			list = append(list, pairTask{a, b})
		default:
			t.split(a, b, collect)
		}
	}
	collect(1, 1)
	return list
}

// near reports whether runs under two nodes may have to be looked at.
func (t *pairTree) near(a, b int) bool {
	return (t.kin[a] <= 0 || t.kin[a] != t.kin[b]) && t.box[a].overlaps(&t.box[b])
}

// split calls visit for the pairs of children of a pair of nodes.
func (t *pairTree) split(a, b int, visit func(a, b int)) {
	visit(2*a, 2*b)
	visit(2*a, 2*b+1)
	if a != b {
		visit(2*a+1, 2*b)
	}
	visit(2*a+1, 2*b+1)
}

// eachNear calls visit with each pair of triangles under the nodes of a task whose boxes
// meet and that are not known not to, until visit returns false. Over all tasks every such
// pair comes once, in a fixed order.
func (t *pairTree) eachNear(task pairTask, visit func(a, b int32) bool) {
	var stack [4 * bits.UintSize]pairTask
	stack[0] = task
	for top := 1; top > 0; {
		top--
		n := stack[top]
		switch {
		case n.a != n.b && !t.near(n.a, n.b) || n.a == n.b && t.kin[n.a] > 0:
		case n.a >= t.first:
			if !t.meet(n.a-t.first, n.b-t.first, visit) {
				return
			}
		default:
			t.split(n.a, n.b, func(a, b int) {
				stack[top] = pairTask{a, b}
				top++
			})
		}
	}
}

// meet is eachNear for two blocks; it reports whether to go on.
func (t *pairTree) meet(block, later int, visit func(a, b int32) bool) bool {
	lo, hi := t.members(block)
	from, to := t.members(later)
	near := &t.box[t.first+block]
	for j := from; j < to; j++ {
		other := &t.bounds[j]
		if !other.overlaps(near) {
			continue
		}
		b := &t.runs[j]
		for i := lo; i < min(hi, j); i++ { // each pair in one block once
			if a := &t.runs[i]; (a.kin == 0 || a.kin != b.kin) && t.bounds[i].overlaps(other) && !t.across(a, b, visit) {
				return false
			}
		}
	}
	return true
}

// across is eachNear for the triangles of two runs.
func (t *pairTree) across(a, b *triangleRun, visit func(a, b int32) bool) bool {
	if a.count == 1 && b.count == 1 {
		return visit(a.first, b.first)
	}
	for i := a.first; i < a.first+a.count; i++ {
		near := triangleRun{first: i}.box(t.mesh)
		if !t.mesh.hasArea(i) {
			continue
		}
		for j := b.first; j < b.first+b.count; j++ {
			if box := (triangleRun{first: j}).box(t.mesh); box.gap(near) <= 0 && t.mesh.hasArea(j) && !visit(i, j) {
				return false
			}
		}
	}
	return true
}

// gridBox is a box in whole steps of a grid: they are told apart without a branch.
type gridBox struct{ lo, hi [3]int32 }

// gridSteps are over the longest side of a grid, few enough that differences are 32 bits.
const gridSteps = 1 << 29

var emptyGridBox = gridBox{[3]int32{gridSteps, gridSteps, gridSteps}, [3]int32{-1, -1, -1}}

// grid is of even steps from a corner on.
type grid struct {
	from  Vec
	scale float64 // steps in a mm
}

func newGrid(b Box) grid {
	size := b.Size()
	scale := (gridSteps - 4) / max(size.X, size.Y, size.Z)
	if !(scale <= math.MaxFloat64) {
		scale = 0
	}
	return grid{b.Min, scale}
}

// round returns a box that holds one within the grid's.
func (g grid) round(b Box) gridBox {
	lo, hi := b.Min.Sub(g.from).Mul(g.scale), b.Max.Sub(g.from).Mul(g.scale)
	return gridBox{[3]int32{int32(lo.X), int32(lo.Y), int32(lo.Z)}, [3]int32{int32(hi.X) + 1, int32(hi.Y) + 1, int32(hi.Z) + 1}}
}

func (b *gridBox) add(c *gridBox) {
	for k := range 3 {
		b.lo[k], b.hi[k] = min(b.lo[k], c.lo[k]), max(b.hi[k], c.hi[k])
	}
}

// overlaps reports whether two boxes have a point in common: no end of one is before the
// beginning of the other.
func (b *gridBox) overlaps(c *gridBox) bool {
	return (b.hi[0]-c.lo[0])|(c.hi[0]-b.lo[0])|
		(b.hi[1]-c.lo[1])|(c.hi[1]-b.lo[1])|
		(b.hi[2]-c.lo[2])|(c.hi[2]-b.lo[2]) >= 0
}
