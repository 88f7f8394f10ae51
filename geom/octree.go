package geom

import (
	"context"
	"math"
	"slices"

	"halfpour/geom/parallel"
)

// lattice places the finest cells of the octree in space. A corner's position
// depends on its whole-number coordinates alone, so that cells that share it
// ask the solid the same question.
type lattice struct {
	origin Vec
	step   Vec // along each axis, nearly the same
}

func (l lattice) point(x, y, z int32) Vec {
	return Vec{l.origin.X + l.step.X*float64(x), l.origin.Y + l.step.Y*float64(y), l.origin.Z + l.step.Z*float64(z)}
}

// finest returns the finest cell that a point is in.
func (l lattice) finest(p Vec) [3]int32 {
	d := p.Sub(l.origin)
	return [3]int32{int32(math.Floor(d.X / l.step.X)), int32(math.Floor(d.Y / l.step.Y)), int32(math.Floor(d.Z / l.step.Z))}
}

func (l lattice) box(x, y, z, size int32) Box {
	return Box{l.point(x, y, z), l.point(x+size, y+size, z+size)}
}

// cell is a node of the octree. A cell without children is either uniform (leaf is
// nil: the surface does not come near) or holds a leaf.
type cell struct {
	children *[8]cell // child i is on the greater side of X, Y, Z for bits 0, 1, 2 of i
	leaf     *leaf
}

// leaf is a cell that the surface may cross.
type leaf struct {
	solid   Solid // pruned to the cell
	x, y, z int32
	size    int32
	number  int32       // among the leaves last sampled
	values  [8]float64  // at the corners, numbered as Box.Corner; of a faceted leaf see know
	flat    bool        // the surface is near one plane: sampled without corners
	thin    bool        // so near that any patch is within tolerance
	sheets  *sheets     // when larger than an edge of the solid may be: its parts there
	tangled bool        // an edge is crossed more than once: to be split
	sampled bool        // facets did not fit together here: the surface is sampled
	keen    bool        // the patch is held against sharp edges: one was missed here
	group   int16       // of repeats, plus 1, where the leaf is copied to other places
	lentTo  *repeatCopy // the copy that a leaf is lent to; nil for those of the tree

	faceted *facetLeaf // nil where the surface is sampled
	hits    *leafHits  // nil where no neighbour is faceted, nor the leaf

	marks  []Vec // see knownMarks
	marked bool

	own   []ownCrossing
	edges [12]int32 // 1 + the crossing on each edge, 0 for none
	links []link    // the surface's outline on the cell's faces
	patch patch
}

// link is a directed piece of the surface's outline on a face of a leaf, between
// two vertices of the mesh.
type link struct{ from, to int32 }

// An edge of a cell is numbered 4*axis + q: it runs along axis, and bits 0 and
// 1 of q tell whether it is on the greater side along axis+1 and axis+2.

// edgeCorners returns the two corners of edge e, the lesser first.
func edgeCorners(e int) (int, int) {
	axis, q := e>>2, e&3
	u, w := (axis+1)%3, (axis+2)%3
	c := (q&1)<<u | (q>>1)<<w
	return c, c | 1<<axis
}

func (l *leaf) inside(corner int) bool { return l.values[corner] < 0 }

// hasSurface reports whether the corners are of both signs.
func (l *leaf) hasSurface() bool {
	in := l.inside(0)
	for i := 1; i < 8; i++ {
		if l.inside(i) != in {
			return true
		}
	}
	return false
}

// know finds the values at the corners of a faceted leaf: only few are asked for.
func (t *octree) know(l *leaf) {
	if l.faceted == nil || l.faceted.known {
		return
	}
	b := t.leafBox(l)
	for i := range l.values {
		l.values[i] = l.solid.Evaluate(b.Corner(i))
	}
	l.faceted.known = true
}

// octree splits space until every leaf's surface is simple enough to sample.
type octree struct {
	lattice
	tol     float64 // greatest distance between surface and patch
	top     int32   // size of the root in steps, a power of two
	coarse  int32   // greatest leaf with surface
	feature int32   // greatest leaf that may hold an edge of the solid
	faceted int32   // least leaf that takes facets as they are
	whole   int32   // and the greatest
	least   int32   // leaf that is split no further but to seek what is missed
	root    cell
	sets    []*facets // that leaves take facets of
	repeats *repeats  // nil when nothing is there twice

	seeking bool // for landmarks that are missed

	edgesAsSampled bool // sharp edges are not sought between samples

	counted   int        // crossings last found
	crossings []crossing // as last sampled, until the tree is made ready to be sampled again
}

// newOctree plans the lattice. Its origin is moved by an odd fraction of a
// step, so that faces at round numbers do not coincide with cell faces. Repeats, if
// there are any, say how long the steps are to be.
func newOctree(box Box, tol float64, coarseMM, featureMM float64, r *repeats) *octree {
	// A cell that no patch suits is split down to this; its diagonal is then
	// less than the tolerance. Cells in which a landmark is missed may be smaller.
	finest := 0.5 * tol
	step := Vec{finest, finest, finest}
	if r != nil {
		step = r.steps(finest / seekFiner).Mul(seekFiner)
	}
	size, levels := box.Size(), 0.0
	for k := range 3 {
		levels = max(levels, math.Ceil(math.Log2((size.along(k)+4*featureMM)/step.along(k))))
	}
	t := &octree{tol: tol, top: 1 << int32(levels), repeats: r}
	shift := Vec{0.3819660, 0.4271813, 0.4553791}
	for k := range 3 {
		s := step.along(k)
		t.origin.setAlong(k, box.Centre().along(k)-0.5*s*float64(t.top)+shift.along(k)*s)
	}
	t.step, t.top, t.least = step.Mul(1./seekFiner), t.top*seekFiner, seekFiner
	toSteps := func(mm float64) int32 {
		n := int32(1)
		for float64(2*n)*finest/seekFiner <= mm*1.0001 && n < t.top {
			n *= 2
		}
		return n
	}
	t.coarse, t.feature = toSteps(coarseMM), toSteps(featureMM)
	t.faceted, t.whole = max(t.least, t.feature/2), t.coarse
	if r != nil {
		t.whole = r.unit
		if len(r.groups) == 0 || r.unit >= t.coarse || r.unit < t.feature || r.finest > tol/64 {
			t.repeats, t.whole = nil, t.coarse
		}
	}
	return t
}

// seekFiner is how many times as fine as others cells may be where a landmark
// was missed: as fine as that, the point of a wedge of 5° shows.
const seekFiner = 4

// seed is a subtree to be grown by one worker.
type seed struct {
	cell    *cell
	solid   Solid
	values  Interval // of the solid in the cell
	x, y, z int32
	size    int32
	sampled bool    // facets are not to be taken as they are
	seek    *sought // nil when nothing is missed
	keen    bool    // patches are held against sharp edges
	group   int16   // of repeats, plus 1, where the cell is copied to other places
	copied  bool    // the cell is a copy: nothing is to be grown
}

// grow builds the whole tree, with no faceted leaves where all is to be sampled.
// Its shape does not depend on workers.
func (t *octree) grow(ctx context.Context, s Solid, sampled bool, workers int) error {
	s, values := PruneBySign(s, t.box(0, 0, 0, t.top))
	seeds := []seed{{cell: &t.root, solid: s, values: values, size: t.top, sampled: sampled}}
	for len(seeds) < 512 {
		var next []seed
		for _, d := range seeds {
			if d.size <= t.coarse || t.settle(d) {
				if d.cell.leaf == nil && d.size <= t.coarse {
					next = append(next, d)
				}
				continue
			}
			children := t.split(d)
			next = append(next, children[:]...)
		}
		done := len(next) == 0 || next[0].size <= t.coarse
		seeds = next
		if done {
			break
		}
	}
	if t.repeats == nil {
		return parallel.For(ctx, len(seeds), workers, func(i int) { t.growCell(ctx, seeds[i]) })
	}
	found := make([][]seed, len(seeds))
	if err := parallel.For(ctx, len(seeds), workers, func(i int) { t.growUnits(ctx, seeds[i], &found[i]) }); err != nil {
		return err
	}
	units := slices.Concat(found...)
	if err := t.findRepeats(ctx, units); err != nil {
		return err
	}
	return parallel.For(ctx, len(units), workers, func(i int) {
		if d := units[i]; !d.copied && d.cell.leaf == nil {
			t.growChildren(ctx, d)
		}
	})
}

// growUnits grows no further than unit cells, and lists those that may hold surface.
func (t *octree) growUnits(ctx context.Context, d seed, units *[]seed) {
	if ctx.Err() != nil {
		return
	}
	settled := t.settle(d)
	switch {
	case d.size == t.repeats.unit && (!settled || d.cell.leaf != nil):
		*units = append(*units, d)
	case !settled:
		for _, child := range t.split(d) {
			t.growUnits(ctx, child, units)
		}
	}
}

// split gives the cell eight children.
func (t *octree) split(d seed) (out [8]seed) {
	d.cell.children = new([8]cell)
	d.cell.leaf = nil
	half := d.size / 2
	for i := range out {
		x, y, z := d.x+int32(i&1)*half, d.y+int32(i>>1&1)*half, d.z+int32(i>>2)*half
		s, values := PruneBySign(d.solid, t.box(x, y, z, half))
		out[i] = seed{&d.cell.children[i], s, values, x, y, z, half, d.sampled, d.seek, d.keen, d.group, false}
	}
	return out
}

func (t *octree) growCell(ctx context.Context, d seed) {
	if !t.settle(d) && ctx.Err() == nil {
		t.growChildren(ctx, d)
	}
}

func (t *octree) growChildren(ctx context.Context, d seed) {
	for _, child := range t.split(d) {
		t.growCell(ctx, child)
	}
}

// gentleSlab is how many tolerances thick a slab may be for a trial patch to
// be trusted in a cell of any size: in so thin a slab nothing hides between
// the samples.
const gentleSlab = 2

// settle decides whether the cell needs no splitting, and gives it its leaf.
func (t *octree) settle(d seed) bool {
	if d.values.settled() {
		return true
	}
	if d.size > t.coarse {
		return false
	}
	b := t.box(d.x, d.y, d.z, d.size)
	if !d.sampled && d.size >= t.faceted {
		if key, side, ok := drawnFacets(d.solid); ok && key.fit(b) && (side == nil || side.parts(b, &key)) {
			if d.size > t.whole {
				return false
			}
			d.cell.leaf = &leaf{solid: d.solid, x: d.x, y: d.y, z: d.z, size: d.size, group: d.group, faceted: &facetLeaf{key: key, side: side, group: d.group}}
			return true
		}
	}
	slab, ok := SlabOf(d.solid, b)
	flat := ok && 2*slab.W <= t.tol
	gentle := ok && 2*slab.W <= gentleSlab*t.tol
	var parts *sheets
	if !gentle && d.size > t.feature {
		if parts, ok = sheetsOf(d.solid, b, t.tol); !ok {
			return false
		}
	}
	l := &leaf{sheets: parts, solid: d.solid, x: d.x, y: d.y, z: d.z, size: d.size, flat: flat, thin: flat, sampled: d.sampled, keen: d.keen, group: d.group}
	for i := range l.values {
		l.values[i] = d.solid.Evaluate(b.Corner(i))
	}
	if !flat && d.size > t.least && !t.simple(l, b, gentle) {
		return false
	}
	if d.seek != nil && d.size > d.seek.finest && !l.hasSurface() && b.gap(d.seek.near) <= 0 {
		return false
	}
	d.cell.leaf = l
	return true
}

// simple reports whether the patch that the leaf would get, sampled from its own
// corners, stays within tolerance of the surface.
func (t *octree) simple(l *leaf, b Box, gentle bool) bool {
	surface := l.hasSurface()
	if gentle && surface {
		w := t.witness(l, b)
		l.flat = t.trial(l, b, &w, true) <= t.tol
		return l.flat || t.trial(l, b, &w, false) <= t.tol
	}
	probe := probeOf(l.solid, b, &l.values)
	if !surface {
		// By law 1 the surface can reach into the cell no farther than the gap
		// between probes exceeds the least value at them.
		reach := probe.gap - probe.least
		return !probe.mixed && reach <= t.tol && len(t.witness(l, b).marks) == 0
	}
	if probe.hides(l) {
		return false
	}
	w := t.witness(l, b)
	return t.trial(l, b, &w, false) <= t.tol
}

// probe is a look at the 27 points of the half-size lattice of a cell.
type probe struct {
	values [27]float64 // index x + 3y + 9z
	least  float64     // least distance seen
	mixed  bool        // both signs seen
	gap    float64     // farthest a point of the cell is from a probe
}

// probeOf takes the values at the corners, which are probes too.
func probeOf(s Solid, b Box, corners *[8]float64) probe {
	p := probe{least: math.Inf(1), gap: b.HalfDiagonal() / 2}
	c := b.Centre()
	pick := func(lo, mid, hi float64, i int) float64 { return [3]float64{lo, mid, hi}[i] }
	for i := range p.values {
		x, y, z := i%3, i/3%3, i/9
		var v float64
		if x != 1 && y != 1 && z != 1 {
			v = corners[x/2|y&2|z&2<<1]
		} else {
			v = s.Evaluate(Vec{
				pick(b.Min.X, c.X, b.Max.X, x),
				pick(b.Min.Y, c.Y, b.Max.Y, y),
				pick(b.Min.Z, c.Z, b.Max.Z, z),
			})
		}
		p.values[i] = v
		p.least = min(p.least, math.Abs(v))
		p.mixed = p.mixed || (v < 0) != (p.values[0] < 0)
	}
	return p
}

// hides reports whether the probes show surface that the corners do not: a middle
// of an edge or of a face unlike all its corners.
func (p *probe) hides(l *leaf) bool {
	in := func(x, y, z int) bool { return p.values[x+3*y+9*z] < 0 }
	for axis := 0; axis < 3; axis++ {
		at := func(a, u, w int) bool {
			var k [3]int
			k[axis], k[(axis+1)%3], k[(axis+2)%3] = a, u, w
			return in(k[0], k[1], k[2])
		}
		for q := 0; q < 4; q++ {
			u, w := q&1*2, q>>1*2
			if at(0, u, w) == at(2, u, w) && at(1, u, w) != at(0, u, w) {
				return true
			}
		}
		for a := 0; a <= 2; a += 2 {
			c := at(a, 0, 0)
			if at(a, 2, 0) == c && at(a, 0, 2) == c && at(a, 2, 2) == c && at(a, 1, 1) != c {
				return true
			}
		}
	}
	return false
}
