package geom

import (
	"context"
	"math"
)

// crossing is a place where the surface crosses a smallest edge of the tree.
type crossing struct {
	leaf *leaf // the first smallest leaf at the edge, whose solid is asked
	edge int   // of that leaf

	at     Vec
	normal Vec
	found  bool // on a facet: nothing is to be searched
}

// faceSurface is what a smallest face of the tree shows of the surface: one or two
// chords between crossings, the first perhaps bent at a corner.
type faceSurface struct {
	leaf  *leaf // the smaller of the two, whose solid is asked
	lower *leaf // the leaves on the two sides along axis; nil when uniform
	upper *leaf
	axis  int
	side  int // of leaf's faces: 0 the lesser along axis, 1 the greater

	sides [4]int32 // crossing ids + 1, counter-clockwise seen from the greater side
	enter int      // the first side at which that walk goes from outside to inside
	four  bool     // all four sides are crossed

	joined bool // four crossings: the inside joins across the middle
	bent   bool // two crossings: the chord has a corner
	corner Vec

	pairs  [][2]int32 // further chords along the sides, entering and leaving
	facets *facetFace // what cuts of facets show instead, where a leaf is faceted
}

// findCrossings lists the edges that the surface crosses and enters them in the
// leaves. It returns the leaves of which an edge is crossed more than once.
func (t *octree) findCrossings(ctx context.Context, workers int) (list []crossing, tangled []*leaf, err error) {
	t.standFacets()
	t.lend()
	parts := t.root.parts(t.top, walkLevels, nil)
	found := make([][]crossedEdge, len(parts))
	err = t.walkParts(ctx, workers, parts, func(i int) walker {
		return walker{ctx: ctx, edge: func(cells [4]*cell, axis int, size int32) {
			if e, ok := crossedAt(cells, axis, size); ok {
				found[i] = append(found[i], e)
			}
		}}
	})
	if err != nil {
		return nil, nil, err
	}
	var facetEdges []facetEdge
	list = make([]crossing, 0, t.counted+t.counted/16)
	for _, part := range found {
		for i := range part {
			e := &part[i]
			if e.set != nil {
				facetEdges = append(facetEdges, facetEdge{crossedEdge: *e})
				continue
			}
			list = append(list, crossing{leaf: e.leaf, edge: e.edge})
			tangled = append(tangled, e.enter(int32(len(list)-1))...)
		}
	}
	err = inBatches(ctx, len(facetEdges), workers, func(i int) { facetEdges[i].findHits(t) })
	for i := range facetEdges {
		e := &facetEdges[i]
		for k := range e.hits {
			e.hits[k].vertex = int32(len(list))
			list = append(list, crossing{leaf: e.leaf, edge: e.edge, at: e.hits[k].at, normal: e.hits[k].normal, found: true})
		}
		tangled = append(tangled, e.deal()...)
	}
	t.counted = len(list)
	return list, tangled, err
}

// crossedEdge is a smallest edge of the tree that the surface crosses, or that a faceted leaf
// touches.
type crossedEdge struct {
	cells [4]*cell  // as an edgeVisitor gets them
	leaf  *leaf     // one that has it as an edge of its own
	edge  int       // of that leaf
	set   *facets   // of the faceted leaf; nil where there is none
	side  *flatSide // of one that has a plane beside its mesh
}

func crossedAt(cells [4]*cell, axis int, size int32) (e crossedEdge, ok bool) {
	first, edge := smallestAt(cells, axis, size)
	if first == nil || allLent(cells[:]) {
		return e, false
	}
	e = crossedEdge{cells: cells, leaf: first, edge: edge}
	e.set, e.side = facetsAt(cells[:])
	return e, e.set != nil || first.crossed(edge)
}

// enter notes a crossing in the leaves that have the edge as one of their own, and returns
// those that it shows to be tangled.
func (e *crossedEdge) enter(id int32) (tangled []*leaf) {
	for q, c := range e.cells {
		l := c.leaf
		if l == nil || e.cells[q^1] == c || e.cells[q^2] == c {
			continue // uniform, or the edge lies inside a face of this cell
		}
		if l.enter(e.edge&^3+(3-q), id) && l.lentTo == nil {
			tangled = append(tangled, l)
		}
	}
	return tangled
}

// enter notes the crossing of an edge, and reports whether it is the first to
// show the leaf to be tangled.
func (l *leaf) enter(edge int, id int32) bool {
	first := l.edges[edge] != 0 && !l.tangled
	l.tangled = l.tangled || first
	l.edges[edge] = id + 1
	return first
}

// smallestAt returns the first of the leaves round a smallest edge that has it
// as an edge of its own, and which; nil where only uniform cells do.
func smallestAt(cells [4]*cell, axis int, size int32) (*leaf, int) {
	for q, c := range cells {
		if c.leaf != nil && c.leaf.size == size {
			return c.leaf, 4*axis + (3 - q)
		}
	}
	return nil, 0
}

// crossed reports whether the ends of edge e are on different sides.
func (l *leaf) crossed(e int) bool {
	lo, hi := edgeCorners(e)
	return l.inside(lo) != l.inside(hi)
}

// clearSampling undoes findCrossings and all that is sampled from it.
func clearSampling(leaves []*leaf) {
	for _, l := range leaves {
		l.edges, l.tangled, l.links, l.patch.loops, l.hits = [12]int32{}, false, l.links[:0], nil, nil
		if l.faceted != nil {
			l.faceted.cuts, l.faceted.creases, l.faceted.failed = nil, nil, false
		}
	}
}

// leaves returns the leaves in the tree's own order, without those that are lent.
func (c *cell) leaves(list []*leaf) []*leaf {
	if c.children == nil {
		if c.leaf != nil && c.leaf.lentTo == nil {
			list = append(list, c.leaf)
		}
		return list
	}
	for i := range c.children {
		list = c.children[i].leaves(list)
	}
	return list
}

// minGap keeps vertices of the mesh apart from the corners of cells and so
// from each other, in mm: well above what an STL's single precision can blur
// (8e-6 mm at 100 mm), well below any tolerance.
const minGap = 1e-4

// crossingOn finds where the surface crosses the segment pq, at whose ends s has
// the values fp and fq of different signs.
func crossingOn(s Solid, p, q Vec, fp, fq float64) Vec {
	length := p.Dist(q)
	t := Root(func(t float64) float64 { return s.Evaluate(p.Lerp(q, t)) }, 0, 1, fp, fq, 1e-8/length, 1e-9)
	gap := min(minGap/length, 0.1)
	return p.Lerp(q, min(1-gap, max(gap, t)))
}

// ownCrossing is where the surface crosses an edge of a leaf, kept from a trial.
type ownCrossing struct {
	edge       int
	at, normal Vec
}

// findOwn locates the crossings on the leaf's own edges, to be kept.
func (t *octree) findOwn(l *leaf) {
	if l.own != nil {
		return
	}
	own := make([]ownCrossing, 0, 8)
	for e := range l.edges {
		if l.crossed(e) {
			at, normal := t.locate(l, e)
			own = append(own, ownCrossing{e, at, normal})
		}
	}
	l.own = own
}

// keepCrossings hands crossings to their leaves, to be found there when all is
// sampled again.
func keepCrossings(list []crossing) {
	for i := range list {
		c := &list[i]
		if !c.leaf.owns(c.edge) {
			c.leaf.own = append(c.leaf.own, ownCrossing{c.edge, c.at, c.normal})
		}
	}
}

func (l *leaf) owns(e int) bool {
	for i := range l.own {
		if l.own[i].edge == e {
			return true
		}
	}
	return false
}

// locate finds the crossing of edge e of the leaf, from its corner values.
func (t *octree) locate(l *leaf, e int) (Vec, Vec) {
	for i := range l.own {
		if l.own[i].edge == e {
			return l.own[i].at, l.own[i].normal
		}
	}
	lo, hi := edgeCorners(e)
	p, q := t.corner(l, lo), t.corner(l, hi)
	x := crossingOn(l.solid, p, q, l.values[lo], l.values[hi])
	_, n := Gradient(l.solid, x)
	return x, n
}

func (t *octree) corner(l *leaf, i int) Vec {
	return t.point(l.x+int32(i&1)*l.size, l.y+int32(i>>1&1)*l.size, l.z+int32(i>>2)*l.size)
}

func (t *octree) leafBox(l *leaf) Box { return t.box(l.x, l.y, l.z, l.size) }

// findOutlines lists the smallest faces that the surface crosses, in the order of the
// walk by parts of it, and how it does. It fails as its context.
func (t *octree) findOutlines(ctx context.Context, workers int, crossings []crossing) ([][]faceSurface, error) {
	parts := t.root.parts(t.top, walkLevels, nil)
	lists := make([][]faceSurface, len(parts))
	err := t.walkParts(ctx, workers, parts, func(i int) walker {
		return walker{ctx: ctx, face: func(cells [2]*cell, axis int, size int32) {
			if o, ok := outlineBetween(cells, axis, size); ok {
				lists[i] = append(lists[i], o)
				t.refine(&lists[i][len(lists[i])-1], crossings)
			}
		}}
	})
	return lists, err
}

// outlineBetween is what two cells show of the surface on the face between them.
func outlineBetween(cells [2]*cell, axis int, size int32) (o faceSurface, ok bool) {
	if allLent(cells[:]) {
		return o, false
	}
	for side, c := range [2]*cell{cells[1], cells[0]} { // side of c's own faces
		if c.leaf == nil || c.leaf.size != size {
			continue
		}
		if set, flat := facetsAt(cells[:]); set != nil {
			o = faceSurface{leaf: c.leaf, axis: axis, side: side, facets: &facetFace{set: set, side: flat}}
			ok = cells[0].leaf != nil && cells[1].leaf != nil
		} else {
			o, ok = c.leaf.outlineOn(axis, side)
		}
		o.lower, o.upper = cells[0].leaf, cells[1].leaf
		return o, ok
	}
	return o, false
}

// outlineOn reads the crossings round one face of the leaf.
func (l *leaf) outlineOn(axis, side int) (faceSurface, bool) {
	u, w := (axis+1)%3, (axis+2)%3
	o := faceSurface{leaf: l, axis: axis, side: side}
	edges := edgesRound(axis, side)
	for i, e := range edges {
		o.sides[i] = l.edges[e]
	}
	o.findPairs(&edges)
	corner := func(i int) bool { // counter-clockwise from the least corner
		return l.inside(side<<axis | [4]int{0, 1 << u, 1<<u | 1<<w, 1 << w}[i&3])
	}
	count := 0
	o.enter = -1
	for i, c := range o.sides {
		if c == 0 {
			continue
		}
		count++
		if o.enter < 0 && !corner(i) && corner(i+1) {
			o.enter = i
		}
	}
	o.four = count == 4
	return o, count == 2 || count == 4 || len(o.pairs) > 0
}

// edgesRound returns the edges round a face of a cell, counter-clockwise seen
// from the greater side, from the least corner on.
func edgesRound(axis, side int) [4]int {
	u, w := (axis+1)%3, (axis+2)%3
	// An edge along u is numbered by its sides along w (bit 0) and axis (bit
	// 1); an edge along w by its sides along axis (bit 0) and u (bit 1).
	return [4]int{4*u + side<<1, 4*w + side + 2, 4*u + 1 + side<<1, 4*w + side}
}

// chords calls visit with each pair of sides (entering, leaving) that a chord
// of the outline joins. A chord cuts a run of inside corners off the face, or
// of outside corners when the inside is joined across the middle.
func (o *faceSurface) chords(visit func(enter, leave int32)) {
	at := func(i int) int32 { return o.sides[i&3] - 1 }
	if o.enter < 0 {
		return
	}
	if !o.four {
		for i := 1; i < 4; i++ {
			if o.sides[(o.enter+i)&3] != 0 {
				visit(at(o.enter), at(o.enter+i))
			}
		}
		return
	}
	if o.joined {
		visit(at(o.enter), at(o.enter+3))
		visit(at(o.enter+2), at(o.enter+1))
		return
	}
	visit(at(o.enter), at(o.enter+1))
	visit(at(o.enter+2), at(o.enter+3))
}

// refine decides how the chords run: joined or apart, straight or bent.
func (t *octree) refine(o *faceSurface, list []crossing) {
	face := t.faceBox(o.leaf, o.axis, o.side)
	if o.facets != nil {
		o.findCuts(face)
		return
	}
	if o.leaf.flat {
		return
	}
	if o.four {
		o.joined = o.leaf.solid.Evaluate(face.Centre()) < 0
		return
	}
	o.chords(func(a, b int32) {
		o.corner, o.bent = t.bend(o.leaf.solid, face, o.axis, list[a], list[b])
	})
}

func (t *octree) faceBox(l *leaf, axis, side int) Box {
	b := t.leafBox(l)
	flatten := func(lo, hi *float64) {
		if side == 0 {
			*hi = *lo
		} else {
			*lo = *hi
		}
	}
	switch axis {
	case 0:
		flatten(&b.Min.X, &b.Max.X)
	case 1:
		flatten(&b.Min.Y, &b.Max.Y)
	default:
		flatten(&b.Min.Z, &b.Max.Z)
	}
	return b
}

// bend finds the corner of a chord that leaves the surface: where the tangents at
// its ends meet in the face, or the surface next to its middle.
func (t *octree) bend(s Solid, face Box, axis int, a, b crossing) (Vec, bool) {
	mid := a.at.Lerp(b.at, 0.5)
	miss := math.Abs(s.Evaluate(mid))
	if miss <= 0.1*t.tol {
		return Vec{}, false
	}
	na, nb := inPlane(a.normal, axis), inPlane(b.normal, axis)
	best, found := Vec{}, false
	try := func(p Vec) {
		p = clampInside(p, face, axis)
		if v := math.Abs(s.Evaluate(p)); v < 0.5*miss {
			miss, best, found = v, p, true
		}
	}
	if p, ok := meet(a.at, na, b.at, nb, axis); ok {
		try(p)
	}
	if miss > 0.1*t.tol {
		try(slide(s, mid, axis))
	}
	return best, found
}

// inPlane drops the component along axis.
func inPlane(n Vec, axis int) Vec {
	switch axis {
	case 0:
		n.X = 0
	case 1:
		n.Y = 0
	default:
		n.Z = 0
	}
	return n
}

// meet returns the point of the plane across axis through p and q at which the
// lines na·(x-p) = 0 and nb·(x-q) = 0 cross, if they do at more than 3°.
func meet(p, na, q, nb Vec, axis int) (Vec, bool) {
	na, nb = na.Unit(), nb.Unit()
	c := na.Cross(nb)
	det := [3]float64{c.X, c.Y, c.Z}[axis]
	if math.Abs(det) < 0.05 {
		return Vec{}, false
	}
	// x = p + s·(nb rotated) solves both: along the line at p, the distance to
	// the line at q falls by det per unit.
	var dir Vec
	switch axis {
	case 0:
		dir = Vec{0, -na.Z, na.Y}
	case 1:
		dir = Vec{na.Z, 0, -na.X}
	default:
		dir = Vec{-na.Y, na.X, 0}
	}
	return p.Add(dir.Mul(nb.Dot(q.Sub(p)) / nb.Dot(dir))), true
}

// slide moves p onto the surface within the plane across axis, by two steps of
// Newton's method.
func slide(s Solid, p Vec, axis int) Vec {
	for i := 0; i < 2; i++ {
		v, g := Gradient(s, p)
		g = inPlane(g, axis)
		d := g.Dot(g)
		if d < 0.05 {
			break
		}
		p = p.Sub(g.Mul(v / d))
	}
	return p
}

// clampInside moves p into b shrunk by a small margin along every axis but
// except (-1 for none), along which it is set onto the flat box.
func clampInside(p Vec, b Box, except int) Vec {
	margin := func(lo, hi float64) float64 { return min(2*minGap, 0.3*(hi-lo)) }
	clamp := func(v, lo, hi float64) float64 {
		m := margin(lo, hi)
		return min(hi-m, max(lo+m, v))
	}
	q := Vec{clamp(p.X, b.Min.X, b.Max.X), clamp(p.Y, b.Min.Y, b.Max.Y), clamp(p.Z, b.Min.Z, b.Max.Z)}
	switch except {
	case 0:
		q.X = b.Min.X
	case 1:
		q.Y = b.Min.Y
	case 2:
		q.Z = b.Min.Z
	}
	return q
}
