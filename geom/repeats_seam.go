package geom

import (
	"math"
	"slices"
)

// A copy has no cells of its own, but those round it need to see what they meet. So leaves
// at the border of a home are lent to its copies: no more is taken from them than the
// surface's outline where they touch cells that are not copied. By that outline, the seam,
// what is sampled at home is joined to what is sampled round a copy.

// lend gives all copies the leaves at their borders, as they are at home now.
func (t *octree) lend() {
	if t.repeats == nil {
		return
	}
	for _, g := range t.repeats.groups {
		for _, c := range g.copies {
			for _, b := range g.border {
				l := lender{t, c, b, t.repeats.unit}
				*t.at(moved(b.at, c.steps), l.unit) = l.lend(t.at(b.at, l.unit), b.at, l.unit)
			}
		}
	}
}

// allLent reports whether no leaf of the cells is the tree's own.
func allLent(cells []*cell) bool {
	for _, c := range cells {
		if c.leaf != nil && c.leaf.lentTo == nil {
			return false
		}
	}
	return true
}

// lender lends leaves of one unit cell to a copy.
type lender struct {
	*octree
	to   *repeatCopy
	cell borderCell
	unit int32
}

// lend returns the cell as it is in the copy, without leaves that touch no cell that is
// not copied.
func (l *lender) lend(c *cell, at [3]int32, size int32) cell {
	switch {
	case !l.touches(at, size):
		return cell{}
	case c.leaf != nil:
		return cell{leaf: l.leaf(c.leaf)}
	case c.children == nil:
		return cell{}
	}
	children := new([8]cell)
	half := size / 2
	for i := range children {
		way := [3]int32{int32(i&1) * half, int32(i>>1&1) * half, int32(i>>2) * half}
		children[i] = l.lend(&c.children[i], moved(at, way), half)
	}
	return cell{children: children}
}

// touches reports whether a part of the unit cell touches a neighbour that is not copied.
func (l *lender) touches(at [3]int32, size int32) bool {
	for _, way := range l.cell.ways {
		touches := true
		for k, w := range way {
			low := at[k] == l.cell.at[k]
			high := at[k]+size == l.cell.at[k]+l.unit
			touches = touches && (w == 0 || w < 0 && low || w > 0 && high)
		}
		if touches {
			return true
		}
	}
	return false
}

func (l *lender) leaf(from *leaf) *leaf {
	at := moved([3]int32{from.x, from.y, from.z}, l.to.steps)
	lent := &leaf{
		solid: newPlaced(from.solid, Move(l.to.by)), x: at[0], y: at[1], z: at[2], size: from.size,
		values: from.values, flat: from.flat, thin: from.thin, sampled: from.sampled, lentTo: l.to,
	}
	if f := from.faceted; f != nil {
		key := l.repeats.keyIn(f.key, l.to)
		lent.faceted = &facetLeaf{key: key, side: f.side.moved(l.to.by), set: l.setOf(key), known: f.known}
	}
	return lent
}

// keyIn returns the mesh that stands in a copy as one does at home.
func (r *repeats) keyIn(k facetKey, c *repeatCopy) facetKey {
	for i := range r.stands {
		if to := r.stands[i].to; k.to.movedTo(to, c.by) {
			k.to = to
			return k
		}
	}
	k.to = k.to.Then(Move(c.by)) // it stands as it is in a part that is moved as a whole
	return k
}

// seamOf returns the leaf on whose side a face is copied where the other is not: of a home,
// or lent to a copy; nil for other faces.
func (o *faceSurface) seamOf() *leaf {
	for _, s := range [2][2]*leaf{{o.lower, o.upper}, {o.upper, o.lower}} {
		l, other := s[0], s[1]
		switch {
		case l == nil:
		case l.lentTo != nil && other != nil && other.lentTo == nil:
			return l
		case l.group != 0 && (other == nil || other.group == 0):
			return l
		}
	}
	return nil
}

// outline returns how many pieces of outline a leaf has, and those from the nth on.
func (l *leaf) outline(n int) []link {
	if l.faceted == nil {
		return l.links[n:]
	}
	var list []link
	for _, c := range l.faceted.cuts[n:] {
		list = append(list, link{c.from, c.to})
	}
	return list
}

func (l *leaf) outlines() int {
	if l == nil {
		return 0
	}
	if l.faceted != nil {
		return len(l.faceted.cuts)
	}
	return len(l.links)
}

// joinSeam notes what an outline adds to a seam: what the leaf on its copied side has got of
// it since it had so many pieces.
func (r *repeats) joinSeam(l *leaf, had int) {
	list := l.outline(had)
	if c := l.lentTo; c != nil {
		c.seam = append(c.seam, list...)
		return
	}
	g := r.groups[l.group-1]
	g.seam = append(g.seam, list...)
}

// clearSeams forgets the seams.
func (r *repeats) clearSeams() {
	for _, g := range r.groups {
		g.seam = g.seam[:0]
		for _, c := range g.copies {
			c.seam = c.seam[:0]
		}
	}
}

// match returns the vertices of a copy's seam by those of its home's; false where the two
// do not run the same way.
func (c *repeatCopy) match(at []Vec) (map[int32]int32, bool) {
	home := c.group.seam
	if len(home) != len(c.seam) {
		return nil, false
	}
	places := newSeamPlaces(c.seam, at)
	there := make(map[int32]int32, len(home))
	runs := make(map[link]int, len(home))
	for _, l := range c.seam {
		runs[l]++
	}
	for _, l := range home {
		for _, v := range [2]int32{l.from, l.to} {
			if _, known := there[v]; known {
				continue
			}
			w, found := places.nearest(at[v].Add(c.by))
			if !found {
				return nil, false
			}
			there[v] = w
		}
		to := link{there[l.from], there[l.to]}
		if runs[to]--; runs[to] < 0 {
			return nil, false
		}
	}
	return there, true
}

// seamPlaces finds vertices of a seam by where they are.
type seamPlaces struct {
	at    []Vec
	cells map[[3]int64][]int32
}

const (
	seamNear = 2e-5 // mm: how exactly roots are found; vertices keep farther apart (see minGap)
	seamCell = 1e-4 // mm
)

func newSeamPlaces(seam []link, at []Vec) *seamPlaces {
	s := &seamPlaces{at, make(map[[3]int64][]int32, len(seam))}
	for _, l := range seam {
		p := at[l.from]
		k := [3]int64{s.cell(p.X), s.cell(p.Y), s.cell(p.Z)}
		if !slices.Contains(s.cells[k], l.from) {
			s.cells[k] = append(s.cells[k], l.from)
		}
	}
	return s
}

func (s *seamPlaces) cell(x float64) int64 { return int64(math.Floor(x / seamCell)) }

// nearest returns the vertex nearest to p, if it is near enough to be the same.
func (s *seamPlaces) nearest(p Vec) (best int32, found bool) {
	least := seamNear
	for x := s.cell(p.X - seamNear); x <= s.cell(p.X+seamNear); x++ {
		for y := s.cell(p.Y - seamNear); y <= s.cell(p.Y+seamNear); y++ {
			for z := s.cell(p.Z - seamNear); z <= s.cell(p.Z+seamNear); z++ {
				for _, v := range s.cells[[3]int64{x, y, z}] {
					if d := s.at[v].Dist(p); d <= least {
						least, best, found = d, v, true
					}
				}
			}
		}
	}
	return best, found
}
