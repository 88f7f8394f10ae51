package geom

import (
	"cmp"
	"slices"
)

// facetHit is where a facet crosses an edge of a cell.
type facetHit struct {
	facet  int32
	vertex int32   // of the sampled mesh
	height float64 // along the edge
	at     Vec
	normal Vec
}

// facetEdge is a smallest edge of the tree that a faceted leaf touches.
type facetEdge struct {
	crossedEdge
	hits []facetHit // in the order of height
}

// findHits finds every facet that crosses the edge.
func (e *facetEdge) findHits(t *octree) {
	lo, hi := edgeCorners(e.edge)
	p, q := t.corner(e.leaf, lo), t.corner(e.leaf, hi)
	k := e.edge >> 2
	e.hits = e.set.hitsOn(p, q.along(k), k)
	if e.side != nil {
		e.hits = e.side.onEdge(e.hits, k, p, q, e.set)
	}
}

// hitsOn returns where facets cross a line from p along axis k to a height, in the order of
// height.
func (f *facets) hitsOn(p Vec, to float64, k int) (hits []facetHit) {
	q := p
	q.setAlong(k, to)
	f.in(Box{p, q}, func(facet int32) {
		tri := f.triangle(facet)
		h, ok := tri.pierce(k, p)
		if !ok || h < p.along(k) || h >= to {
			return
		}
		gap := min(minGap, 0.1*(to-p.along(k)))
		at, kept := p, min(to-gap, max(p.along(k)+gap, h))
		at.setAlong(k, kept)
		hits = append(hits, facetHit{facet: facet, height: h, at: at, normal: tri.normal().Unit()})
	})
	sortHits(hits)
	return hits
}

func sortHits(hits []facetHit) {
	slices.SortFunc(hits, func(a, b facetHit) int {
		return cmp.Or(cmp.Compare(a.height, b.height), cmp.Compare(a.facet, b.facet))
	})
}

// leafHits is what faceted neighbours show on the edges of a leaf.
type leafHits struct {
	all   [12][]facetHit
	pairs [12][]hitPair
}

// hitPair is two crossings next to each other on an edge, the lesser first,
// between which the solid is or is not. Drawn cells take but one crossing an
// edge: pairs are joined along it.
type hitPair struct {
	low, high int32
	within    bool
}

// deal hands the hits to the leaves that have the edge as one of their own,
// and returns those that another crossing of theirs shows to be tangled. The
// hits' vertices are numbered.
func (e *facetEdge) deal() (tangled []*leaf) {
	k := e.edge >> 2
	for q, c := range e.cells {
		l := c.leaf
		if l == nil || e.cells[q^1] == c || e.cells[q^2] == c {
			continue
		}
		own := 4*k + (3 - q)
		if l.hits == nil {
			l.hits = new(leafHits)
		}
		l.hits.all[own] = append(l.hits.all[own], e.hits...)
		if l.faceted != nil {
			continue
		}
		n := len(e.hits)
		for i := 0; i+1 < n; i += 2 {
			l.hits.pairs[own] = append(l.hits.pairs[own],
				hitPair{e.hits[i].vertex, e.hits[i+1].vertex, e.hits[i].normal.along(k) < 0})
		}
		if n%2 == 0 {
			continue
		}
		if l.enter(own, e.hits[n-1].vertex) && l.lentTo == nil {
			tangled = append(tangled, l)
		}
	}
	return tangled
}

// findPairs adds the chords along the sides.
func (o *faceSurface) findPairs(edges *[4]int) {
	if o.leaf.hits == nil {
		return
	}
	for i, e := range edges {
		forth := i < 2 // the walk round the face goes the axis's way
		for _, p := range o.leaf.hits.pairs[e] {
			if p.within == forth {
				o.pairs = append(o.pairs, [2]int32{p.low, p.high})
			} else {
				o.pairs = append(o.pairs, [2]int32{p.high, p.low})
			}
		}
	}
}
