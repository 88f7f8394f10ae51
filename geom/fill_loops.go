package geom

import (
	"cmp"
	"slices"
	"sort"
)

// fillLoops fills what edges enclose, which lies on their left, with triangles of no further
// corners. It returns false where the edges are no loops that keep clear of each other.
//
// A line sweeps over the corners, and each is joined to all that it sees behind it (Hertel &
// Mehlhorn, "Fast triangulation of simple polygons", FCT 1983).
func fillLoops(edges [][2]int32, at func(int32) Vec2) ([][3]int32, bool) {
	s := sweep{corners: make(map[int32]*sweepCorner, len(edges))}
	order := make([]*sweepCorner, 0, len(edges))
	for _, e := range edges {
		from, to := s.corner(e[0], at), s.corner(e[1], at)
		if from.next != nil || to.last != nil {
			return nil, false
		}
		from.next, to.last = to, from
		order = append(order, from)
	}
	slices.SortFunc(order, (*sweepCorner).compare)
	for i, c := range order {
		if c.last == nil || i > 0 && order[i-1].compare(c) == 0 || !s.pass(c) {
			return nil, false
		}
	}
	turnEdges(s.filled)
	list := make([][3]int32, len(s.filled))
	for i, v := range s.filled {
		list[i] = [3]int32{v[0].id, v[1].id, v[2].id}
	}
	return list, true
}

// sweep is a line along Y on its way to greater X.
type sweep struct {
	corners map[int32]*sweepCorner
	strips  []*strip // that the line goes through, from below
	filled  [][3]*sweepCorner
}

// sweepCorner is a corner of a loop, with the one before it and the one after it.
type sweepCorner struct {
	id         int32
	at         Vec2
	last, next *sweepCorner
}

func (s *sweep) corner(id int32, at func(int32) Vec2) *sweepCorner {
	c := s.corners[id]
	if c == nil {
		c = &sweepCorner{id: id, at: at(id)}
		s.corners[id] = c
	}
	return c
}

// compare orders corners as the line meets them.
func (c *sweepCorner) compare(d *sweepCorner) int {
	return cmp.Or(cmp.Compare(c.at.X, d.at.X), cmp.Compare(c.at.Y, d.at.Y))
}

func turning(a, b, c *sweepCorner) int {
	return Turning(Vec{X: a.at.X, Y: a.at.Y}, Vec{X: b.at.X, Y: b.at.Y}, Vec{X: c.at.X, Y: c.at.Y})
}

// sweepEdge is an edge of a loop that the line goes through, its start met.
type sweepEdge struct{ from, to *sweepCorner }

// over reports whether the edge is above a corner, under whether it is below it.
func (e sweepEdge) over(c *sweepCorner) bool  { return turning(e.from, e.to, c) < 0 }
func (e sweepEdge) under(c *sweepCorner) bool { return turning(e.from, e.to, c) > 0 }

// strip is what is enclosed between two edges. Its chain of corners, from the start of the
// lower edge to that of the upper, bounds what is filled; each sees only its neighbours.
type strip struct {
	lower, upper sweepEdge
	chain        []*sweepCorner
	newest       int // of the chain
}

// pass moves the line past a corner. It returns false where the corner is on another edge,
// or where edges went through each other on the way: then the one that ends first does so
// on the wrong side of the other.
func (s *sweep) pass(c *sweepCorner) bool {
	i := sort.Search(len(s.strips), func(i int) bool { return !s.strips[i].upper.under(c) })
	beside := func(i int) *strip {
		if i < len(s.strips) {
			return s.strips[i]
		}
		return nil
	}
	here, above := beside(i), beside(i+1)
	begins, ends := c.compare(c.next) < 0, c.compare(c.last) > 0
	forth, back := sweepEdge{c, c.next}, sweepEdge{c, c.last}
	turn := turning(c.last, c, c.next)
	switch {
	case begins && !ends && turn > 0: // a strip
		if here != nil && !here.lower.over(c) {
			return false
		}
		s.strips = slices.Insert(s.strips, i, &strip{lower: forth, upper: back, chain: []*sweepCorner{c}})
		return true
	case here == nil:
		return false
	case begins && ends: // an edge after the lower one
		if here.lower.to != c || !here.upper.over(c) {
			return false
		}
		here.lower = forth
		s.joinLow(here, c)
		return true
	case begins: // two strips instead of one
		if turn == 0 || !here.lower.under(c) || !here.upper.over(c) {
			return false
		}
		low := &strip{lower: here.lower, upper: back, chain: slices.Clone(here.chain[:here.newest+1])}
		here.chain = here.chain[here.newest:]
		here.lower = forth
		s.joinHigh(low, c)
		s.joinLow(here, c)
		s.strips = slices.Insert(s.strips, i, low)
		return true
	case here.upper.to != c || above != nil && above.lower.to != c && !above.lower.over(c):
		return false
	case !ends: // an edge after the upper one
		if !here.lower.under(c) {
			return false
		}
		here.upper = back
		s.joinHigh(here, c)
		return true
	case turn > 0: // the end of a strip
		s.joinLow(here, c)
		s.strips = slices.Delete(s.strips, i, i+1)
		return here.lower.to == c && len(here.chain) == 2
	}
	// One strip instead of two.
	if above == nil || above.lower.to != c || !here.lower.under(c) || !above.upper.over(c) {
		return false
	}
	s.joinHigh(here, c)
	s.joinLow(above, c)
	here.chain = append(here.chain, above.chain[1:]...)
	here.upper = above.upper
	s.strips = slices.Delete(s.strips, i+1, i+2)
	return true
}

// joinLow joins a corner at which the lower edge of a strip ends to all it sees.
func (s *sweep) joinLow(p *strip, c *sweepCorner) {
	k := 0
	for k+1 < len(p.chain) && s.fill(c, p.chain[k+1], p.chain[k]) {
		k++
	}
	p.chain, p.newest = slices.Replace(p.chain, 0, k, c), 0
}

// joinHigh joins a corner at which the upper edge of a strip ends to all it sees.
func (s *sweep) joinHigh(p *strip, c *sweepCorner) {
	k := len(p.chain) - 1
	for k > 0 && s.fill(c, p.chain[k], p.chain[k-1]) {
		k--
	}
	p.chain = append(p.chain[:k+1], c)
	p.newest = k + 1
}

// fill adds a triangle, unless it is the wrong way up.
func (s *sweep) fill(a, b, c *sweepCorner) bool {
	if turning(a, b, c) <= 0 {
		return false
	}
	s.filled = append(s.filled, [3]*sweepCorner{a, b, c})
	return true
}
