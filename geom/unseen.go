package geom

import (
	"context"
	"math"
)

// Where no corner of a leaf shows the surface, nothing is sampled in it. In a slab
// thinner than the tolerance that is near enough by itself, but what the
// neighbours sample may be off the other way; and the point of a sharp wedge may
// fall between the corners, or come out as a small component. So landmarks in such leaves
// are held against what is sampled about them, and where one is missed the leaves
// are split until corners show the surface.

// unseen returns the landmarks that are farther than limit from all that is
// sampled and no small component, in the order of leaves.
func (t *octree) unseen(ctx context.Context, leaves []*leaf, k *surface, small []bool, limit float64, workers int) ([]unseenMark, error) {
	found := make([][]unseenMark, len(leaves))
	err := inBatches(ctx, len(leaves), workers, func(i int) {
		l := leaves[i]
		if l.faceted == nil && (l.size <= t.least && l.patch.err > limit || !k.seenIn(i, small)) {
			found[i] = t.unseenIn(l, k, small, limit)
		}
	})
	var list []unseenMark
	for _, f := range found {
		list = append(list, f...)
	}
	return list, err
}

// unseenMark is a landmark that thinning may leave farther than the tolerance from
// all that is sampled, or surely does.
type unseenMark struct {
	at   Vec
	sure bool
}

// seenIn reports whether something is sampled in leaf i that is no small component.
func (k *surface) seenIn(i int, small []bool) bool {
	for f := k.start[i]; f < k.start[i+1]; f++ {
		if small == nil || !small[f] {
			return true
		}
	}
	return false
}

func (t *octree) unseenIn(l *leaf, k *surface, small []bool, limit float64) []unseenMark {
	var list []unseenMark
	for _, p := range witnessOf(l.solid, t.leafBox(l), l.sheets).marks {
		const thinned = thinShare / patchShare
		least, most := math.Inf(1), math.Inf(1)
		t.touching(Box{p, p}.Grow(t.tol/patchShare), func(n *leaf) {
			l, m := k.distanceTo(p, n, small, thinned*t.tol)
			least, most = min(least, l), min(most, m)
		})
		if most > limit {
			list = append(list, unseenMark{p, least > t.tol/patchShare})
		}
	}
	return list
}

// distanceTo returns how far p comes to be at least and at most from what is sampled
// in a leaf and no small component, when thinning moves what is gentle by thinned.
func (k *surface) distanceTo(p Vec, l *leaf, small []bool, thinned float64) (least, most float64) {
	least, most = math.Inf(1), math.Inf(1)
	hold := func(f triangle, spare float64) {
		way, _ := f.closest(p)
		d := way.Norm()
		least, most = min(least, d-spare), min(most, d+spare)
	}
	for i := k.start[l.number]; i < k.start[l.number+1]; i++ {
		if small != nil && small[i] {
			continue
		}
		spare := 0.0
		if k.gentle[i] {
			spare = thinned
		}
		a, b, c := k.sampled.Corners(i)
		hold(triangle{a, b, c}, spare)
	}
	if l.faceted != nil {
		for _, facet := range l.faceted.whole {
			hold(l.faceted.set.triangle(facet), 0)
		}
	}
	return least, most
}

// touching calls visit with the leaves that touch b.
func (t *octree) touching(b Box, visit func(*leaf)) {
	var walk func(c *cell, x, y, z, size int32)
	walk = func(c *cell, x, y, z, size int32) {
		if t.box(x, y, z, size).gap(b) > 0 {
			return
		}
		if c.children == nil {
			if c.leaf != nil {
				visit(c.leaf)
			}
			return
		}
		half := size / 2
		for i := range c.children {
			walk(&c.children[i], x+int32(i&1)*half, y+int32(i>>1&1)*half, z+int32(i>>2)*half, half)
		}
	}
	walk(&t.root, 0, 0, 0, t.top)
}

// seek splits the leaves about p that show no surface until they do or are as small
// as finest, and once larger ones that do.
func (t *octree) seek(ctx context.Context, p Vec, limit float64, finest int32) {
	near := Box{p, p}.Grow(limit)
	var list []*leaf
	t.touching(near, func(l *leaf) {
		if l.faceted == nil && (l.size > t.least || l.size > finest && !l.hasSurface()) {
			list = append(list, l)
		}
	})
	for _, l := range list {
		t.splitLeaf(ctx, l, &sought{near, finest})
	}
}

// sought is where corners of cells are to show the surface, however thin its slab,
// and the size of the cells at which that ends.
type sought struct {
	near   Box
	finest int32
}
