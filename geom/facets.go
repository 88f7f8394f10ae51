package geom

// facetKey names a mesh as it stands in space. Where nothing but its facets is
// the surface of a cell, or a plane beside them, they are taken as they are.
type facetKey struct {
	body   *meshBody
	to     Transform
	turned bool // the facets look into the solid and are to be turned over
}

// ownFacets returns the mesh of which a pruned solid is made and nothing
// else.
func ownFacets(s Solid) (facetKey, bool) {
	switch s := s.(type) {
	case *meshBody:
		return facetKey{body: s, to: Identity()}, !s.crossed
	case *prunedMesh:
		return ownFacets(s.whole)
	case *placed:
		k, ok := ownFacets(s.s)
		k.to = k.to.Then(s.to)
		k.turned = k.turned != s.to.Mirrors()
		return k, ok
	case *complement:
		k, ok := ownFacets(s.s)
		k.turned = !k.turned
		return k, ok
	}
	return facetKey{}, false
}

// fit reports whether the facets about b can be cut at its faces and come out
// sound: none is so slender that rounding would turn it over, and each has one
// neighbour at each edge.
func (k *facetKey) fit(b Box) bool {
	if k.to.k < leastPlacedScale {
		return false
	}
	unfit := k.body.unfit()
	if unfit == nil {
		return true
	}
	o := originalOf(k.to.Inverse(), b)
	touches := false
	unfit.near(&o, 0, func(int32) float64 {
		touches = true
		return -1
	})
	return !touches
}

const (
	slenderFacet     = 1e-3 // mm: the least height of a facet that is taken as it is
	leastPlacedScale = 0.1  // of a mesh of which facets are taken as they are
)

// unfit returns a tree of the facets that are too slender to be cut or have no
// single neighbour at an edge; nil when there are none.
func (s *meshBody) unfit() *bvh {
	s.unfitOnce.Do(func() {
		m := s.mesh
		found := make([][][3]int32, chunksOf(len(m.Triangles)))
		inChunks(len(m.Triangles), func(chunk, from, to int) {
			for i := from; i < to; i++ {
				id := int32(i)
				across := s.edges.across[id]
				single := across[0] != id && across[1] != id && across[2] != id &&
					across[0] != across[1] && across[1] != across[2] && across[2] != across[0]
				if !single || leastHeight(m.Corners(i)) < slenderFacet {
					found[chunk] = append(found[chunk], m.Triangles[i])
				}
			}
		})
		bad := &TriMesh{Vertices: m.Vertices}
		for _, f := range found {
			bad.Triangles = append(bad.Triangles, f...)
		}
		if len(bad.Triangles) > 0 {
			s.unfitTree = newBVH(bad)
		}
	})
	return s.unfitTree
}

func leastHeight(a, b, c Vec) float64 {
	_, low, _ := shape(a, b, c)
	return low
}

// facets is a mesh standing in space.
type facets struct {
	facetKey
	from  Transform
	at    []Vec // its vertices in space
	first int   // place of the first of them among those of all facets
}

func newFacets(k facetKey) *facets {
	f := &facets{facetKey: k, from: k.to.Inverse()}
	if k.to == Identity() {
		f.at = k.body.mesh.Vertices
		return f
	}
	f.at = make([]Vec, len(k.body.mesh.Vertices))
	inChunks(len(f.at), func(_, from, to int) {
		for i := from; i < to; i++ {
			f.at[i] = k.to.Point(k.body.mesh.Vertices[i])
		}
	})
	return f
}

// corners returns the vertices of a facet, counter-clockwise seen from outside
// of the sampled solid.
func (f *facets) corners(facet int32) [3]int32 {
	t := f.body.mesh.Triangles[facet]
	if f.turned {
		t[1], t[2] = t[2], t[1]
	}
	return t
}

// triangle returns a facet in space, its corners in the order of corners.
func (f *facets) triangle(facet int32) triangle {
	t := f.corners(facet)
	return triangle{f.at[t[0]], f.at[t[1]], f.at[t[2]]}
}

// in calls visit with every facet that may touch b, and some others.
func (f *facets) in(b Box, visit func(facet int32)) {
	o := originalOf(f.from, b)
	f.body.tree.near(&o, 0, func(slot int32) float64 {
		visit(f.body.tree.ids[slot])
		return 0
	})
}

// standFacets sets up the meshes that leaves take facets of, in the order of
// the leaves.
func (t *octree) standFacets() {
	known := map[facetKey]*facets{}
	for _, l := range t.root.leaves(nil) {
		if l.faceted == nil || l.faceted.set != nil {
			continue
		}
		f := known[l.faceted.key]
		if f == nil {
			f = t.setOf(l.faceted.key)
			known[l.faceted.key] = f
		}
		l.faceted.set = f
	}
}

// setOf returns the facets of a mesh as it stands.
func (t *octree) setOf(k facetKey) *facets {
	for _, f := range t.sets {
		if f.facetKey == k {
			return f
		}
	}
	f := newFacets(k)
	if n := len(t.sets); n > 0 {
		f.first = t.sets[n-1].first + len(t.sets[n-1].at)
	}
	t.sets = append(t.sets, f)
	return f
}

// facetsAt returns the facets of the first faceted leaf among cells, and the first plane
// that one of them has.
func facetsAt(cells []*cell) (set *facets, side *flatSide) {
	for _, c := range cells {
		if c.leaf == nil || c.leaf.faceted == nil {
			continue
		}
		if set == nil {
			set = c.leaf.faceted.set
		}
		if side == nil {
			side = c.leaf.faceted.side
		}
	}
	return set, side
}
