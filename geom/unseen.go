package geom

import (
	"context"
	"math"
	"slices"
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
		if l.faceted != nil {
			return
		}
		b := t.leafBox(l)
		seen := k.seenIn(i, small)
		if !seen || l.size <= t.least && l.patch.err > limit {
			found[i] = t.unseenOf(l.knownMarks(b), k, small, limit)
		}
		if (!seen || !l.flat) && !t.edgesAsSampled {
			missed := t.unseenOf(t.edgePoints(l.solid, b), k, small, limit)
			if seen && l.size > t.least && len(missed) > 0 {
				i := max(0, slices.IndexFunc(missed, func(u unseenMark) bool { return u.sure }))
				missed = []unseenMark{{missed[i].at, missed[i].sure, l}}
			}
			found[i] = append(found[i], missed...)
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
	keen *leaf // whose patch misses it: to be split until patches reach edges
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

// edgePoints returns points on the sharp edges of s in b, a quarter of the tolerance
// apart.
func (t *octree) edgePoints(s Solid, b Box) (points []Vec) {
	step := t.tol / patchShare / 4
	sharpEdges(s, b, func(p, q Vec) {
		n := math.Ceil(p.Dist(q) / step)
		for i := range int(n) {
			if at := p.Lerp(q, (float64(i)+0.5)/n); math.Abs(s.Evaluate(at)) <= onSurface {
				points = append(points, at)
			}
		}
	})
	return points
}

// unseenOf returns those of points that may be too far from what is sampled.
func (t *octree) unseenOf(points []Vec, k *surface, small []bool, limit float64) []unseenMark {
	var list []unseenMark
	for _, p := range points {
		const thinned = thinShare / patchShare
		least, most := math.Inf(1), math.Inf(1)
		t.touching(Box{p, p}.Grow(t.tol/patchShare), func(n *leaf, by Vec) {
			l, m := k.distanceTo(p.Sub(by), n, small, thinned*t.tol)
			least, most = min(least, l), min(most, m)
		})
		if most > limit {
			list = append(list, unseenMark{at: p, sure: least > t.tol/patchShare})
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

// touching calls visit with the leaves that touch b, and how far from their place they
// do: where b touches a copy, leaves of its home.
func (t *octree) touching(b Box, visit func(l *leaf, by Vec)) {
	var walk func(c *cell, at [3]int32, size int32, by Vec)
	walk = func(c *cell, at [3]int32, size int32, by Vec) {
		if t.box(at[0], at[1], at[2], size).gap(b) > 0 {
			return
		}
		if t.repeats != nil && size == t.repeats.unit {
			if copied := t.repeats.copies[at]; copied != nil {
				home := [3]int32{at[0] - copied.steps[0], at[1] - copied.steps[1], at[2] - copied.steps[2]}
				c, by = t.at(home, size), copied.by
			}
		}
		if c.children == nil {
			if c.leaf != nil {
				visit(c.leaf, by)
			}
			return
		}
		half := size / 2
		for i := range c.children {
			way := [3]int32{int32(i&1) * half, int32(i>>1&1) * half, int32(i>>2) * half}
			walk(&c.children[i], moved(at, way), half, by)
		}
	}
	walk(&t.root, [3]int32{}, t.top, Vec{})
}

// about lists the leaves to be split for a landmark: those near it that show no
// surface until they do or are as small as finest, and larger ones that do.
func (t *octree) about(u unseenMark, finest int32) (list []*leaf) {
	if l := u.keen; l != nil {
		if t.at([3]int32{l.x, l.y, l.z}, l.size).leaf == l {
			list = append(list, l)
		}
		return list
	}
	t.touching(u.near(t), func(l *leaf, by Vec) {
		if by == (Vec{}) && l.faceted == nil && (l.size > t.least || l.size > finest && !l.hasSurface()) {
			list = append(list, l)
		}
	})
	return list
}

// near is where corners of cells are to show the surface by the landmark.
func (u unseenMark) near(t *octree) Box { return Box{u.at, u.at}.Grow(patchLimit * t.tol) }

// seek splits the leaves about the landmarks.
func (t *octree) seek(ctx context.Context, unseen []unseenMark, finest int32) {
	for _, u := range unseen {
		for _, l := range t.about(u, finest) {
			if u.keen != nil {
				t.splitLeaf(ctx, l, nil, true)
			} else {
				t.splitLeaf(ctx, l, &sought{u.near(t), finest}, l.keen)
			}
		}
	}
}

// sought is where corners of cells are to show the surface, however thin its slab,
// and the size of the cells at which that ends.
type sought struct {
	near   Box
	finest int32
}
