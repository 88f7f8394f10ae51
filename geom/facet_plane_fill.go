package geom

import "slices"

// findCreases finds where facets meet the plane in a face of a cell, which is across
// another axis, and where between those the plane shows.
func (c *facetCutter) findCreases() {
	f := c.side
	along := 3 - c.axis - f.axis
	p := c.face.Min
	p.setAlong(f.axis, f.cut())
	creases := c.set.hitsOn(p, c.face.Max.along(along), along)
	for i := range creases {
		h := &creases[i]
		h.at.setAlong(f.axis, f.height)
		c.points = append(c.points, facetPoint{corner: -1, at: h.at, normal: h.normal})
		h.vertex = -int32(len(c.points))
	}
	c.creases, c.hits[4] = creases, creases
	ends := slices.Clone(creases)
	for _, hits := range c.hits[:4] {
		for _, h := range hits {
			if h.facet == flatFacet {
				h.height = h.at.along(along)
				ends = append(ends, h)
			}
		}
	}
	sortHits(ends)
	if len(ends)%2 != 0 {
		c.failed = true
		return
	}
	forth := along == (c.axis+1)%3 == f.up
	for i := 0; i < len(ends); i += 2 {
		from, to := ends[i].vertex, ends[i+1].vertex
		if !forth {
			from, to = to, from
		}
		c.cuts = append(c.cuts, facetCut{facet: flatFacet, from: from, to: to, fromEdge: -1, toEdge: -1})
	}
}

// narrow leaves the part of the face in which facets show; false when there is none.
func (c *facetCutter) narrow() bool {
	f := c.side
	low, high := c.face.Min.along(f.axis), c.face.Max.along(f.axis)
	switch {
	case f.height <= low || f.height >= high || c.axis == f.axis:
		return f.shows(low)
	}
	c.findCreases()
	c.face = f.shown(c.face)
	return true
}

// fillFlat cuts the facets of a leaf, of which b shows, at the plane, and fills what the
// plane shows.
func (f *facetLeaf) fillFlat(b Box, d *sampling, first int) {
	k := f.side.axis
	face := b
	face.Min.setAlong(k, f.side.cut())
	face.Max.setAlong(k, f.side.cut())
	found := facetFace{set: f.set}
	c := facetCutter{facetFace: &found, face: face, axis: k, snap: planeSnap}
	c.find([4][]facetHit{f.creases})
	if found.failed {
		f.failed = true
		return
	}
	number := make([]int32, len(found.points))
	for i, p := range found.points {
		if p.corner >= 0 {
			number[i] = int32(first+f.set.first) + p.corner
			continue
		}
		p.at.setAlong(k, f.side.height)
		f.middles = append(f.middles, p.at)
		number[i] = -int32(len(f.middles))
	}
	var edges [][2]int32
	rest := f.cuts[:0]
	for _, c := range f.cuts {
		if c.facet == flatFacet {
			edges = append(edges, [2]int32{c.from, c.to})
		} else {
			rest = append(rest, c)
		}
	}
	f.cuts = rest
	for _, c := range found.cuts {
		for _, end := range [2]*int32{&c.from, &c.to} {
			if *end < 0 {
				*end = number[-1-*end]
			}
		}
		if f.side.over {
			c.from, c.to, c.fromEdge, c.toEdge = c.to, c.from, c.toEdge, c.fromEdge
		}
		f.cuts = append(f.cuts, c)
		if c.from != c.to {
			edges = append(edges, [2]int32{c.to, c.from})
		}
	}
	f.creases = nil
	at := func(id int32) Vec2 {
		p := f.vertex(id, d, first)
		q := Vec2{p.along((k + 1) % 3), p.along((k + 2) % 3)}
		if !f.side.up {
			q.X, q.Y = q.Y, q.X
		}
		return q
	}
	triangles, ok := fillLoops(edges, at)
	if !ok {
		f.failed = true
		return
	}
	f.pieces = append(f.pieces, triangles...)
	for range triangles {
		f.pieceOf = append(f.pieceOf, -1)
	}
}
