package geom

import (
	"context"
	"math"
	"testing"
)

// facetTree is an octree of cells of up to 1 mm about a solid, sampled.
func facetTree(t *testing.T, s Solid, sampled bool) (*octree, *sampling, []*leaf) {
	t.Helper()
	tree := newOctree(s.BoundingBox(), 0.05, 1, 0.5, nil)
	if err := tree.grow(context.Background(), s, sampled, 1); err != nil {
		t.Fatal(err)
	}
	d, _, err := tree.sampleAll(context.Background(), 1)
	if err != nil {
		t.Fatal(err)
	}
	return tree, d, tree.root.leaves(nil)
}

// The corners of a faceted leaf are not asked about until somebody needs to know.
func TestFacetedLeavesAreAskedLate(t *testing.T) {
	s := mustSolid(t, icosphere(3, 0))
	tree := newOctree(s.BoundingBox(), 0.05, 1, 0.5, nil)
	if err := tree.grow(t.Context(), s, false, 1); err != nil {
		t.Fatal(err)
	}
	faceted := 0
	for _, l := range tree.root.leaves(nil) {
		if l.faceted == nil {
			continue
		}
		faceted++
		if l.values != [8]float64{} {
			t.Fatal("the corners of a faceted leaf are known before they are asked for")
		}
		tree.know(l)
		for i := range l.values {
			if l.inside(i) != Inside(s, tree.corner(l, i)) {
				t.Errorf("corner %d at %v is on the wrong side", i, tree.corner(l, i))
			}
		}
	}
	if faceted == 0 {
		t.Error("no leaf is faceted")
	}
}

// The facets of a sound mesh, cut at the faces of cells, fit together in every cell:
// whole ones and pieces are the surface itself, of its very area, and the pieces' edges
// are those that the whole ones lack.
func TestFacetsFitTogetherInEveryCell(t *testing.T) {
	for name, m := range map[string]*TriMesh{
		"large facets": icosphere(3, 0), "small facets": bumpy(icosphere(1.5, 3), 0.1), "cube": cubeMesh(1.3, Vec{0.1, 0.2, 0.3}),
	} {
		for _, place := range []Transform{Identity(), Rotate(Vec{1, 2, 3}, 0.7), MirrorX()} {
			s := place.Solid(mustSolid(t, m))
			tree, d, leaves := facetTree(t, s, false)
			whole := 0
			for _, l := range leaves {
				if l.faceted == nil || l.faceted.failed {
					t.Fatalf("%s: the facets do not fit in the cell %v", name, tree.leafBox(l))
				}
				whole += len(l.faceted.whole)
			}
			k := tree.assemble(leaves, d)
			area := k.sampled.Area()
			for _, f := range k.whole {
				for _, facet := range f.whole {
					tri := f.set.triangle(facet)
					area += 0.5 * tri.normal().Norm()
				}
			}
			if want := m.Area(); math.Abs(area-want) > 1e-9*want {
				t.Errorf("%s: %.12g mm² with %d whole facets, want %.12g", name, area, whole, want)
			}
			all, err := simplify(context.Background(), k.sampled, make([]bool, len(k.sampled.Triangles)), 0, false)
			if err != nil {
				t.Fatal(err)
			}
			out, _, err := k.complete(context.Background(), k.joined(all), 1)
			if err == nil {
				err = k.fits(all, all.openEdges())
			}
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if v, want := out.Volume(), m.Volume(); math.Abs(v-want) > 1e-7*want || len(Audit(out)) > 0 { // corners are rounded to 32 bits
				t.Errorf("%s: %.12g mm³, want %.12g; %v", name, v, want, Audit(out))
			}
		}
	}
}

// Where pieces of facets cross, a cell is sampled instead; the others keep theirs.
func TestFacetsThatCrossAreSampled(t *testing.T) {
	tree, _, leaves := facetTree(t, mustSolid(t, icosphere(3, 0)), false)
	at := tree.leafBox(leaves[0]).Centre()
	if !tree.uncross(context.Background(), []Vec{at}) {
		t.Fatal("nothing is split")
	}
	faceted := 0
	for _, l := range tree.root.leaves(nil) {
		switch here := tree.leafBox(l).gap(Box{at, at}) <= 0; {
		case l.faceted != nil && here:
			t.Errorf("facets are taken in the cell %v", tree.leafBox(l))
		case l.faceted != nil:
			faceted++
		}
	}
	if faceted != len(leaves)-1 {
		t.Errorf("%d cells take facets, want %d", faceted, len(leaves)-1)
	}
}

// Where an edge of the mesh passes through a face of a cell the normal is the mean of
// both its facets'. What is not on the mesh was moved, which few places are.
func TestNormalsWhereEdgesPassThroughFaces(t *testing.T) {
	m := icosphere(3, 0)
	_, d, _ := facetTree(t, mustSolid(t, m), false)
	edges, moved := 0, 0
	for i, at := range d.at {
		var beside []Vec
		for k := range m.Triangles {
			var tri triangle
			tri.a, tri.b, tri.c = m.Corners(k)
			if way, _ := tri.closest(at); way.Norm() < 1e-9 {
				beside = append(beside, tri.unitNormal())
			}
		}
		if len(beside) == 0 {
			moved++
		}
		if len(beside) != 2 {
			continue // within a facet, or moved off the edge
		}
		edges++
		if want := beside[0].Add(beside[1]).Unit(); d.normal[i].Dist(want) > 1e-9 {
			t.Errorf("at %v: %v, want %v", at, d.normal[i], want)
		}
	}
	if edges < 100 || 10*moved > len(d.at) {
		t.Errorf("%d places on edges and %d moved of %d", edges, moved, len(d.at))
	}
}

// How a piece is filled does not depend on its size: a square needs no vertex in its
// middle, and one of more corners than are tried is a fan about its centre.
func TestPiecesAreFilledAlikeAtAnySize(t *testing.T) {
	for _, n := range []int{3, 4, 10, 11, 24} {
		for _, size := range []float64{1e-6, 1e-3, 1, 1e3} {
			centre := Vec{3, 4, 5}.Mul(size)
			var points []Vec
			var ids []int32
			for i := range n {
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
				points, ids = append(points, centre.Add(Vec{size * cos, size * sin, 0})), append(ids, int32(i))
			}
			var f facetLeaf
			f.triangulate(ids, func(id int32) Vec { return points[id] })
			middles := 0
			if n > mostTriangulated {
				middles = 1
			}
			if len(f.middles) != middles || len(f.pieces) != n-2+2*middles {
				t.Errorf("%d corners of %g mm: %d triangles, %d middles", n, size, len(f.pieces), len(f.middles))
			}
			if middles == 1 && f.middles[0].Dist(centre) > 1e-12*size {
				t.Errorf("%d corners of %g mm: middle %v, want %v", n, size, f.middles[0], centre)
			}
			area := 0.0
			for _, p := range f.pieces {
				corner := func(v int32) Vec {
					if v < 0 {
						return f.middles[-1-v]
					}
					return points[v]
				}
				area += corner(p[1]).Sub(corner(p[0])).Cross(corner(p[2]).Sub(corner(p[0]))).Z / 2
			}
			if want := float64(n) / 2 * size * size * math.Sin(2*math.Pi/float64(n)); math.Abs(area-want) > 1e-9*want {
				t.Errorf("%d corners of %g mm: %g mm², want %g", n, size, area, want)
			}
		}
	}
}

// Along an axis the shadows of two boxes are as far apart as the boxes are across it.
func TestGapAcrossAnAxis(t *testing.T) {
	b := Box{Max: Vec{1, 1, 1}}
	for axis := range 3 {
		for way := range 3 {
			for _, by := range [2]float64{3, -3} { // 2 mm between
				var move Vec
				move.setAlong(way, by)
				got := b.gapAcross(Box{b.Min.Add(move), b.Max.Add(move)}, axis)
				if apart := got == 2; apart != (way != axis) {
					t.Errorf("moved along %d, seen along %d: %g", way, axis, got)
				}
			}
		}
	}
}

// Facets without width are not taken as they are where they are; elsewhere the same
// mesh's are.
func TestFlatFacetsDoNotFit(t *testing.T) {
	s, err := newMeshBody(&TriMesh{
		Vertices:  []Vec{{}, {Z: 4}, {3, 1, 1}, {1, 3, 2}, {Z: 2}},
		Triangles: [][3]int32{{0, 2, 1}, {0, 4, 3}, {4, 1, 3}, {0, 3, 2}, {1, 2, 3}, {0, 1, 4}}, // the last is flat
	})
	if err != nil {
		t.Fatal(err)
	}
	key, _ := ownFacets(s)
	for _, c := range []struct {
		at   Vec
		want bool
	}{{Vec{Z: 2}, false}, {Vec{Z: 3}, false}, {Vec{3, 1, 1}, true}, {Vec{1, 3, 2}, true}} {
		if got := key.fit(Box{c.at, c.at}.Grow(0.1)); got != c.want {
			t.Errorf("about %v: %v", c.at, got)
		}
	}
}
