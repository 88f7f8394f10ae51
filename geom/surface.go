package geom

import (
	"context"
	"errors"
	"slices"

	"halfpour/geom/parallel"
)

// surface is what contour samples: patches and pieces of facets in one mesh, and
// beside it the facets that are taken whole.
type surface struct {
	sampled *TriMesh // open where whole facets join it
	gentle  []bool   // by triangle: from a flat leaf, in which no other part of the surface is near
	start   []int    // by leaf: its first triangle, and one more
	facet   []int32  // by triangle: of which facet it is a piece, -1 for none
	corner  []int32  // by vertex: 1 + its place among the corners of all facets, 0 for none

	sets  []*facets
	whole []*facetLeaf

	repeats *repeats          // nil where nothing is copied; so are all that follow
	group   []int16           // by triangle: of which group it is copied, plus 1, 0 for none
	mended  map[int32]int32   // by vertex of a home at its seam: the one outside
	there   []map[int32]int32 // by copy: the vertices of its seam, by those of its home's, outside
	ways    []Vec             // to all copies
}

// assemble puts the patches together in the order of the leaves.
func (t *octree) assemble(leaves []*leaf, d *sampling) *surface {
	k := &surface{sampled: &TriMesh{Vertices: d.at}, sets: t.sets, repeats: t.repeats}
	k.corner = make([]int32, len(d.at))
	numbers := newCornerNumbers(t.sets)
	for n, l := range leaves {
		l.number = int32(n)
		k.start = append(k.start, len(k.sampled.Triangles))
		for i := range l.patch.loops {
			k.sampled.addLoop(&l.patch.loops[i])
		}
		if l.faceted != nil {
			k.facet = append(k.facet, l.faceted.pieceOf...)
			k.addPieces(l.faceted, d, numbers)
			if len(l.faceted.whole) > 0 {
				k.whole = append(k.whole, l.faceted)
			}
		}
		for len(k.gentle) < len(k.sampled.Triangles) {
			k.gentle = append(k.gentle, l.flat)
		}
		for k.repeats != nil && len(k.group) < len(k.sampled.Triangles) {
			k.group = append(k.group, l.group)
		}
		for len(k.facet) < len(k.sampled.Triangles) {
			k.facet = append(k.facet, -1)
		}
		for len(k.corner) < len(k.sampled.Vertices) {
			k.corner = append(k.corner, 0)
		}
	}
	k.start = append(k.start, len(k.sampled.Triangles))
	return k
}

// newCornerNumbers has room for the number in a mesh, plus 1, of each corner
// of all facets.
func newCornerNumbers(sets []*facets) []int32 {
	if len(sets) == 0 {
		return nil
	}
	last := sets[len(sets)-1]
	return make([]int32, last.first+len(last.at))
}

// addPieces adds the pieces of facets in a leaf, of which vertices beyond the
// sampling's are corners of facets and negative ones further vertices.
func (k *surface) addPieces(f *facetLeaf, d *sampling, numbers []int32) {
	m, first := k.sampled, len(d.at)
	middle := int32(len(m.Vertices))
	for _, v := range f.middles {
		m.Vertices, k.corner = append(m.Vertices, v), append(k.corner, 0)
	}
	for _, p := range f.pieces {
		for i, v := range p {
			switch place := int(v) - first; {
			case v < 0:
				p[i] = middle - 1 - v
			case place >= 0:
				if numbers[place] == 0 {
					m.Vertices = append(m.Vertices, f.set.at[place-f.set.first])
					k.corner = append(k.corner, int32(place)+1)
					numbers[place] = int32(len(m.Vertices))
				}
				p[i] = numbers[place] - 1
			}
		}
		m.Triangles = append(m.Triangles, p)
	}
}

// complete adds the whole facets to what has become of the sampled mesh. Those of leaf i
// of whole begin at triangle start[i].
func (k *surface) complete(ctx context.Context, sampled *thinned, workers int) (m *TriMesh, start []int, err error) {
	m = &TriMesh{Vertices: sampled.Vertices}
	numbers := newCornerNumbers(k.sets)
	for v, place := range sampled.corner {
		if place != 0 {
			numbers[place-1] = int32(v) + 1
		}
	}
	start = make([]int, len(k.whole)+1)
	start[0] = len(sampled.Triangles)
	for i, f := range k.whole {
		start[i+1] = start[i] + len(f.whole)
	}
	// A closed mesh has half as many vertices as triangles. Those that only whole
	// facets have come last, in the facets' order.
	m.Vertices = slices.Grow(m.Vertices, max(0, start[len(k.whole)]/2+16-len(m.Vertices)))
	for _, f := range k.whole {
		for _, facet := range f.whole {
			for _, v := range f.set.body.mesh.Triangles[facet] {
				if number := &numbers[f.set.first+int(v)]; *number == 0 {
					m.Vertices = append(m.Vertices, k.rounded(f.set.at[v]))
					*number = int32(len(m.Vertices))
				}
			}
		}
	}
	triangles := make([][3]int32, start[len(k.whole)])
	copy(triangles, sampled.Triangles)
	m.Triangles = triangles
	err = parallel.For(ctx, len(k.whole), workers, func(i int) {
		f, to := k.whole[i], triangles[start[i]:]
		for j, facet := range f.whole {
			t := f.set.corners(facet)
			for c, v := range t {
				t[c] = numbers[f.set.first+int(v)] - 1
			}
			to[j] = t
		}
	})
	return m, start, err
}

var errUnfit = errors.New("geom: facets do not fit together with what is drawn")

// fits returns an error where the boundary of what is sampled is not that of the whole facets,
// run round the other way, or not that of copies. open are its edges, as openEdges lists them.
func (k *surface) fits(sampled *simplified, open []int32) error {
	was := sampled.olds()
	boundary := map[[2]int32]int{}
	var seams [][2]int32
	for _, e := range open {
		t := sampled.Triangles[e/3]
		u, v := was[t[e%3]], was[t[(e+1)%3]]
		a, b := k.corner[u], k.corner[v]
		switch {
		case a != 0 && b != 0:
			boundary[[2]int32{a, b}]++
		case a == 0 && b == 0 && k.repeats != nil:
			seams = append(seams, [2]int32{u, v})
		default:
			return errUnfit
		}
	}
	for _, f := range k.whole {
		first := int32(f.set.first) + 1
		for _, e := range f.boundary {
			back := [2]int32{first + e[1], first + e[0]}
			if boundary[back]--; boundary[back] < 0 {
				return errUnfit
			}
		}
	}
	for _, n := range boundary {
		if n != 0 {
			return errUnfit
		}
	}
	if !k.seamsFit(seams) {
		return errUnlike
	}
	return nil
}
