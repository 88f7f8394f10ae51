package geom

// facetFace is a smallest face of the tree that a faceted leaf has: the surface
// shows there as what its plane cuts the facets in.
type facetFace struct {
	set    *facets
	side   *flatSide // of a leaf beside it; nil for none
	cuts   []facetCut
	points []facetPoint
	failed bool // something does not fit together

	creases []facetHit // where facets meet the plane; vertices as ends of cuts
}

// facetCut is the part of a facet's cut within the face, directed as the
// lesser cell's surface ends there. Ends that are not negative are vertices of
// the sampled mesh, negative ones -1-i for point i of the face.
type facetCut struct {
	facet    int32
	from, to int32
	fromEdge int8 // the facet's edge at which it begins; -1 on an edge of the cell
	toEdge   int8
}

// facetPoint is where an edge of the mesh passes through the face.
type facetPoint struct {
	ends   [2]int32 // vertices of the mesh, the lesser first
	corner int32    // the one of them that stands for it, -1 for none
	at     Vec
	normal Vec
}

// find cuts the facets in the face, given with the hits on its edges.
func (c *facetCutter) find(hits [4][]facetHit) {
	copy(c.hits[:], hits[:])
	if c.side != nil && !c.narrow() {
		return
	}
	height := c.face.Min.along(c.axis)
	c.set.in(c.face, func(facet int32) {
		tri := c.set.triangle(facet)
		if s, ok := tri.slice(c.axis, height); ok {
			c.cut(facet, &tri, &s)
		}
	})
}

// facetCutter fills a facetFace.
type facetCutter struct {
	*facetFace
	face Box
	axis int
	snap float64       // mm: nearer than this, an end of an edge stands for a point
	hits [5][]facetHit // on its edges; the last are the creases
	seen map[[2]int32]int32
}

func (c *facetCutter) cut(facet int32, tri *triangle, s *slice) {
	up, down := s.ends()
	if b := BoxOf(up, down); b.gapAcross(c.face, c.axis) > 1e-9 {
		return
	}
	fromIn, toIn := c.within(s, s.upLow, s.upHigh), c.within(s, s.dnLow, s.dnHigh)
	var at [4]facetHit
	n := 0
	for _, side := range c.hits {
		for i := range side {
			if side[i].facet == facet && n < len(at) {
				at[n] = side[i]
				n++
			}
		}
	}
	cut := facetCut{facet: facet, fromEdge: -1, toEdge: -1}
	switch {
	case fromIn && toIn && n == 0:
		cut.from, cut.fromEdge = c.point(facet, s.up, s.upLow, s.upHigh, tri), int8(s.up)
		cut.to, cut.toEdge = c.point(facet, s.down, s.dnLow, s.dnHigh, tri), int8(s.down)
	case fromIn && !toIn && n == 1:
		cut.from, cut.fromEdge = c.point(facet, s.up, s.upLow, s.upHigh, tri), int8(s.up)
		cut.to = at[0].vertex
	case !fromIn && toIn && n == 1:
		cut.from = at[0].vertex
		cut.to, cut.toEdge = c.point(facet, s.down, s.dnLow, s.dnHigh, tri), int8(s.down)
	case !fromIn && !toIn && n == 2:
		cut.from, cut.to = at[0].vertex, at[1].vertex
		if at[1].at.Sub(at[0].at).Dot(down.Sub(up)) < 0 {
			cut.from, cut.to = cut.to, cut.from
		}
	case !fromIn && !toIn && n == 0:
		return
	default:
		c.failed = true
		return
	}
	c.cuts = append(c.cuts, cut)
}

// within reports whether an end of the cut is in the face. Its lesser sides
// belong to it and its greater ones to its neighbours, so that each end is in
// one face.
func (c *facetCutter) within(s *slice, low, high Vec) bool {
	u, w := (c.axis+1)%3, (c.axis+2)%3
	return !s.below(low, high, c.face.Min, u) && s.below(low, high, c.face.Max, u) &&
		!s.below(low, high, c.face.Min, w) && s.below(low, high, c.face.Max, w)
}

// point returns the number of the place where edge k of the facet passes
// through the face.
func (c *facetCutter) point(facet int32, k int, low, high Vec, tri *triangle) int32 {
	v := c.set.corners(facet)
	ends := [2]int32{min(v[k], v[(k+1)%3]), max(v[k], v[(k+1)%3])}
	if i, ok := c.seen[ends]; ok {
		p := &c.points[i]
		p.normal = p.normal.Add(tri.normal().Unit())
		return -1 - i
	}
	if c.seen == nil {
		c.seen = map[[2]int32]int32{}
	}
	i := int32(len(c.points))
	c.seen[ends] = i
	height := c.face.Min.along(c.axis)
	at := planeCut(low, high, c.axis, height, minGap)
	within := clampInside(at, c.face, c.axis)
	within.setAlong(c.axis, at.along(c.axis))
	c.points = append(c.points, facetPoint{ends, c.cornerAt(at, ends), within, tri.normal().Unit()})
	return -1 - i
}

// cornerAt returns the end of an edge that is to stand for where it passes through the face;
// -1 for none.
func (c *facetCutter) cornerAt(at Vec, ends [2]int32) int32 {
	for _, v := range ends {
		if p := c.set.at[v]; p.Dist(at) <= c.snap && c.face.gapAcross(Box{p, p}, c.axis) < -c.snap {
			return v
		}
	}
	return -1
}

// findCuts finds what the face shows of the facets.
func (o *faceSurface) findCuts(face Box) {
	var hits [4][]facetHit
	if o.leaf.hits != nil {
		for i, e := range edgesRound(o.axis, o.side) {
			hits[i] = o.leaf.hits.all[e]
		}
	}
	c := facetCutter{facetFace: o.facets, face: face, axis: o.axis}
	c.find(hits)
}

// linkUp numbers the points and hands the leaves on both sides the cuts.
func (f *facetFace) linkUp(o *faceSurface, d *sampling) {
	first := int32(len(d.at))
	for _, p := range f.points {
		d.at, d.normal = append(d.at, p.at), append(d.normal, p.normal.Unit())
	}
	number := func(id int32) int32 {
		if id < 0 {
			return first - 1 - id
		}
		return id
	}
	flat, cut := false, false // what the face shows
	for _, c := range f.cuts {
		flat, cut = flat || c.facet == flatFacet, cut || c.facet != flatFacet
		c.from, c.to = number(c.from), number(c.to)
		o.lower.addCut(c)
		c.from, c.to, c.fromEdge, c.toEdge = c.to, c.from, c.toEdge, c.fromEdge
		o.upper.addCut(c)
	}
	for _, l := range [2]*leaf{o.lower, o.upper} {
		if l.faceted == nil {
			continue
		}
		same := l.faceted.side.same(f.side)
		for _, h := range f.creases {
			if same {
				h.vertex = number(h.vertex)
				l.faceted.creases = append(l.faceted.creases, h)
			}
		}
		// Two meshes may meet in the face, or two planes.
		if f.failed || cut && l.faceted.set != f.set || flat && !same {
			l.faceted.failed = true
		}
	}
}

func (l *leaf) addCut(c facetCut) {
	if l.faceted != nil {
		l.faceted.cuts = append(l.faceted.cuts, c)
		return
	}
	l.links = append(l.links, link{c.from, c.to})
}

// gapAcross is gap for the shadows of the boxes along an axis.
func (b Box) gapAcross(c Box, axis int) float64 {
	d := b.Min.Sub(c.Max).Max(c.Min.Sub(b.Max))
	return max(d.along((axis+1)%3), d.along((axis+2)%3))
}
