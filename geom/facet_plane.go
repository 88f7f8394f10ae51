package geom

import (
	"math"
	"slices"
)

// flatSide is the plane of a half-space that a leaf has beside its mesh. Of the facets the
// part on one side of it shows, and of the plane what the mesh leaves open.
type flatSide struct {
	axis   int     // the plane is across it
	height float64 // of the plane
	over   bool    // facets show on the greater side
	up     bool    // the plane looks to the greater side
}

// A facet's corners that lie in the plane are hidden, as are those a hair beside it: a
// mesh that ends in the plane would show as slivers.
const planeHair = 1e-6 // mm

// planeSnap is how near, in mm, a corner of the mesh is to where an edge meets the plane, to
// stand for it: many edges meet at a corner that lies in the plane.
const planeSnap = 5 * minGap

// flatFacet stands for the plane where facets are numbered.
const flatFacet = -1

// drawnFacets returns the mesh of which a pruned solid is made and nothing else, or nothing
// but the side of a plane across an axis, which comes with it.
func drawnFacets(s Solid) (facetKey, *flatSide, bool) {
	if k, ok := ownFacets(s); ok {
		return k, nil, true
	}
	var children []Solid
	united := false
	switch s := s.(type) {
	case *union:
		children, united = s.children, true
	case *intersection:
		children = s.children
	case *complement:
		k, side, ok := drawnFacets(s.s)
		if side != nil {
			side.up, k.turned = !side.up, !k.turned
		}
		return k, side, ok
	}
	if len(children) != 2 {
		return facetKey{}, nil, false
	}
	for i, c := range children {
		plane, ok := c.(*halfSpace)
		if !ok {
			continue
		}
		side, ok := sideOf(plane, united)
		if !ok {
			return facetKey{}, nil, false
		}
		k, ok := ownFacets(children[1-i])
		return k, side, ok
	}
	return facetKey{}, nil, false
}

// sideOf returns the plane of a half-space that is united with a mesh, or cuts it; false
// where it is aslant.
func sideOf(s *halfSpace, united bool) (*flatSide, bool) {
	for k := range 3 {
		if n := s.n.along(k); n == 1 || n == -1 {
			up := n > 0
			return &flatSide{axis: k, height: n * s.d, over: up == united, up: up}, true
		}
	}
	return nil, false
}

// cut is the height at which facets are cut.
func (f *flatSide) cut() float64 {
	if f.over {
		return f.height + planeHair
	}
	return f.height - planeHair
}

// shows reports whether facets at a height show.
func (f *flatSide) shows(height float64) bool { return height >= f.cut() == f.over }

// within reports whether the plane shows where it is inside the mesh, and not outside it.
func (f *flatSide) within() bool { return f.over != f.up }

// parts reports whether the plane goes through a box, clear of its sides, and facets that
// lie in the plane are nowhere about.
func (f *flatSide) parts(b Box, k *facetKey) bool {
	if f.height < b.Min.along(f.axis)+slenderFacet || f.height > b.Max.along(f.axis)-slenderFacet {
		return false
	}
	at := b
	at.Min.setAlong(f.axis, f.height-slenderFacet)
	at.Max.setAlong(f.axis, f.height+slenderFacet)
	o := originalOf(k.to.Inverse(), at)
	lies := false
	k.body.tree.near(&o, 0, func(slot int32) float64 {
		t := &k.body.tree.triangles[slot]
		for _, p := range [3]Vec{t.a, t.b, t.c} {
			if math.Abs(k.to.Point(p).along(f.axis)-f.height) > slenderFacet {
				return 0
			}
		}
		lies = true
		return -1
	})
	return !lies
}

// shown returns the part of a box in which facets show.
func (f *flatSide) shown(b Box) Box {
	if f == nil {
		return b
	}
	if f.over {
		b.Min.setAlong(f.axis, max(b.Min.along(f.axis), f.cut()))
	} else {
		b.Max.setAlong(f.axis, min(b.Max.along(f.axis), f.cut()))
	}
	return b
}

func (f *flatSide) moved(by Vec) *flatSide {
	if f == nil {
		return nil
	}
	g := *f
	g.height += by.along(f.axis)
	return &g
}

// same reports whether two are the same plane, to rounding.
func (f *flatSide) same(g *flatSide) bool {
	if f == nil || g == nil {
		return f == g
	}
	return f.axis == g.axis && f.over == g.over && f.up == g.up && math.Abs(f.height-g.height) < 1e-9
}

func (f *flatSide) normal() (n Vec) {
	n.setAlong(f.axis, -1)
	if f.up {
		n.setAlong(f.axis, 1)
	}
	return n
}

// onEdge leaves out the hits of an edge of a cell that are hidden, and adds the one on
// the plane where it shows. The edge goes from p to q along axis k.
func (f *flatSide) onEdge(hits []facetHit, k int, p, q Vec, set *facets) []facetHit {
	if k != f.axis {
		if !f.shows(p.along(f.axis)) {
			return nil
		}
		return hits
	}
	hits = slices.DeleteFunc(hits, func(h facetHit) bool { return !f.shows(h.height) })
	if f.height < p.along(k) || f.height >= q.along(k) {
		return hits
	}
	next := 0 // hit from the plane on
	if !f.over {
		next = len(hits) - 1
	}
	at := p
	at.setAlong(k, f.cut())
	var inside bool
	if len(hits) > 0 {
		inside = hits[next].normal.along(k) > 0 == f.over
	} else {
		inside = set.body.Evaluate(set.from.Point(at)) < 0 != (set.turned != set.to.Mirrors())
	}
	if inside != f.within() {
		return hits
	}
	at.setAlong(k, f.height)
	flat := facetHit{facet: flatFacet, height: f.height, at: at, normal: f.normal()}
	if f.over {
		return slices.Insert(hits, 0, flat)
	}
	return append(hits, flat)
}
