package geom

import (
	"math"
	"slices"
)

// settledMargin keeps rounding (some 1e-13 mm) from calling a box settled that
// a neighbour sees crossed.
const settledMargin = 1e-9

// Sign returns 1 where all values are above 0 and -1 where all are below, by
// more than rounding; else 0.
func (i Interval) Sign() int {
	switch {
	case i.Lo > settledMargin:
		return 1
	case i.Hi < -settledMargin:
		return -1
	}
	return 0
}

// settled reports whether all values are of one sign, safely.
func (i Interval) settled() bool { return i.Sign() != 0 }

// gap returns a lower bound of the distance between two boxes: the greatest
// gap along an axis.
func (b Box) gap(c Box) float64 {
	d := b.Min.Sub(c.Max).Max(c.Min.Sub(b.Max))
	return max(d.X, max(d.Y, d.Z))
}

// PruneBySign drops the children that b is wholly outside of; one that b is wholly
// inside of settles all.
func (s *union) PruneBySign(b Box) (Solid, Interval) {
	var children []Solid
	all := Interval{math.Inf(1), math.Inf(1)}
	away := Interval{math.Inf(1), math.Inf(1)} // of what was dropped
	for _, k := range s.children {
		if g := k.BoundingBox().gap(b); g > settledMargin { // law 2
			away = away.Min(Interval{g, math.Inf(1)})
			continue
		}
		t, r := PruneBySign(k, b)
		switch {
		case r.Hi < -settledMargin:
			return t, r
		case r.Lo > settledMargin:
			away = away.Min(r)
		default:
			children = append(children, t)
			all = all.Min(r)
		}
	}
	children = dropRepeats(children)
	switch len(children) {
	case 0:
		return s, away
	case 1:
		return children[0], all
	}
	for i, k := range children {
		if k, ok := k.(*intersection); ok && !k.clip {
			children[i] = k.within(children)
		}
	}
	if coverAll(children) || slices.Contains(children, everything) {
		return everything, Range(everything, b)
	}
	return &union{children, s.box}, all
}

// within returns s without the parts that cut off only what others, united with it, hold
// anyway: what stands on a floor and goes a little way into it need not be cut off there.
func (s *intersection) within(others []Solid) Solid {
	hidden := func(part Solid) bool {
		return slices.ContainsFunc(others, func(k Solid) bool { return coverAll([]Solid{part, k}) })
	}
	if !slices.ContainsFunc(s.children, hidden) {
		return s
	}
	children, box := []Solid(nil), everywhere()
	for _, k := range s.children {
		if !hidden(k) {
			children, box = append(children, k), box.Intersect(k.BoundingBox())
		}
	}
	switch len(children) {
	case 0:
		return everything
	case 1:
		return children[0]
	}
	return &intersection{children: children, box: box}
}

// everything is all of space.
var everything Solid = &complement{nothing{}}

// coverAll reports whether two of the solids leave nothing between them: the
// sides of planes that meet or overlap, or a mesh and all that is outside it.
// Where two just touch there is no surface.
func coverAll(children []Solid) bool {
	return anyTwo(children, func(a, b *halfSpace) bool { return a.d+b.d >= 0 })
}

// leaveNone reports whether two of the solids have no volume in common: the
// sides of planes that meet or are apart, or a mesh and all that is outside it.
func leaveNone(children []Solid) bool {
	return anyTwo(children, func(a, b *halfSpace) bool { return a.d+b.d <= 0 })
}

// anyTwo looks for two half-spaces on different sides of parallel planes for
// which facing holds, and for a mesh beside its complement.
func anyTwo(children []Solid, facing func(a, b *halfSpace) bool) bool {
	for i, k := range children {
		for _, l := range children[i+1:] {
			a, flatA := k.(*halfSpace)
			b, flatB := l.(*halfSpace)
			if flatA && flatB && a.n == b.n.Neg() && facing(a, b) {
				return true
			}
			if flatA || flatB {
				continue
			}
			if m, ok := ownFacets(k); ok {
				if n, ok := ownFacets(l); ok && m.turned != n.turned && m.body == n.body && m.to == n.to {
					return true
				}
			}
		}
	}
	return false
}

// dropRepeats leaves out solids that are the same mesh in the same place as one
// before.
func dropRepeats(children []Solid) []Solid {
	if len(children) < 2 {
		return children
	}
	seen := make(map[facetKey]bool, len(children))
	return slices.DeleteFunc(children, func(s Solid) bool {
		k, ok := ownFacets(s)
		if !ok || !seen[k] {
			seen[k] = ok
			return false
		}
		return true
	})
}

// PruneBySign drops the children that b is wholly inside of; one that b is wholly
// outside of settles all.
func (s *intersection) PruneBySign(b Box) (Solid, Interval) {
	if g := s.box.gap(b); g > settledMargin {
		return s, Interval{g, math.Inf(1)}
	}
	var children []Solid
	all := Interval{math.Inf(-1), math.Inf(-1)}
	within := all // of what was dropped
	for _, k := range s.children {
		t, r := PruneBySign(k, b)
		switch {
		case r.Lo > settledMargin:
			return t, r
		case r.Hi < -settledMargin:
			within = within.Max(r)
		default:
			children = append(children, t)
			all = all.Max(r)
		}
	}
	children = dropRepeats(children)
	switch len(children) {
	case 0:
		return s, within
	case 1:
		return children[0], all
	}
	if leaveNone(children) {
		return nothing{}, Range(nothing{}, b)
	}
	// Where the box raises the value all children do not say inside anyway.
	return &intersection{children: children, box: s.box}, all
}

// PruneBySign of a half-space taken from all turns it round.
func (s *complement) PruneBySign(b Box) (Solid, Interval) {
	part, r := PruneBySign(s.s, b)
	switch p := part.(type) {
	case *complement:
		return p.s, r.Neg()
	case *halfSpace:
		return &halfSpace{p.n.Neg(), -p.d}, r.Neg()
	}
	return &complement{part}, r.Neg()
}

func (s *placed) PruneBySign(b Box) (Solid, Interval) {
	part, r := PruneBySign(s.s, s.original(b))
	r = Interval{s.to.k * r.Lo, s.to.k * r.Hi}
	if same(part, s.s) {
		return s, r
	}
	return &placed{part, s.to, s.from, s.box}, r
}

// PruneBySign prunes the bodies.
func (s *MeshSolid) PruneBySign(b Box) (Solid, Interval) { return PruneBySign(s.shape, b) }

// PruneBySign shares one search for the nearest triangle between the interval and
// the list.
func (s *meshBody) PruneBySign(b Box) (Solid, Interval) {
	c := meshPruning{boxFrame: frameOf(b), tree: s.tree}
	h := s.tree.nearest(c.centre)
	if !h.found() || b.IsEmpty() {
		return s, Interval{math.Inf(-1), math.Inf(1)}
	}
	v := s.value(c.centre, &h)
	if spread := c.radius + s.tree.slack + 1e-12*math.Abs(v); math.Abs(v) > spread {
		return s, Interval{v - spread, v + spread}
	}
	c.begin(&h)
	l := surfaceLook{boxFrame: c.boxFrame, tree: s.tree, least: c.limit}
	l.touch = b.Contains(c.centre.Sub(h.way))
	if c.hopeless(math.Abs(v)) {
		if !l.touch {
			l.least = 2 * settledMargin
			s.tree.near(&c.box, l.least, l.see)
		}
		return s, l.interval(&h, v)
	}
	full := false
	s.tree.near(&c.box, c.limit, func(slot int32) float64 {
		if !l.touch {
			l.see(slot)
		}
		full = full || !c.offer(slot)
		if full && l.touch {
			return -1
		}
		return c.limit
	})
	r := l.interval(&h, v)
	if full || r.settled() {
		return s, r
	}
	return c.solid(s), r
}

// PruneBySign shortens the list.
func (s *prunedMesh) PruneBySign(b Box) (Solid, Interval) {
	c := meshPruning{boxFrame: frameOf(b), tree: s.whole.tree}
	h := s.nearest(c.centre)
	if !h.found() || b.IsEmpty() {
		return s, Interval{math.Inf(-1), math.Inf(1)}
	}
	v := s.whole.value(c.centre, &h)
	if spread := c.radius + s.whole.tree.slack + 1e-12*math.Abs(v); math.Abs(v) > spread {
		return s, Interval{v - spread, v + spread}
	}
	c.begin(&h)
	l := surfaceLook{boxFrame: c.boxFrame, tree: s.whole.tree, least: c.limit}
	l.touch = b.Contains(c.centre.Sub(h.way))
	off := c.centre.Dist(s.centre) + c.radius
	for _, x := range s.list {
		if float64(x.from)-off > c.limit {
			break
		}
		if !l.touch {
			l.see(x.slot)
		}
		c.offer(x.slot) // is never full: the list was not longer
	}
	r := l.interval(&h, v)
	if r.settled() || c.n == len(s.list) {
		return s, r
	}
	return c.solid(s.whole), r
}
