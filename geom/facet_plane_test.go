package geom

import (
	"fmt"
	"math"
	"os"
	"testing"
)

// lain is a mesh in a room of which what is below a height along an axis is full.
type lain struct {
	mesh Solid
	room Box
	flat Box
}

func layAt(mesh Solid, axis int, height float64) lain {
	l := lain{mesh: mesh, room: mesh.BoundingBox().Grow(9)}
	l.flat = l.room
	l.flat.Max.setAlong(axis, height)
	return l
}

// lyings are the ways in which the mesh and the full part make one solid, each with its volume
// by those of the mesh, what of it is below the height, the full part and the room.
var lyings = []struct {
	name   string
	join   func(l lain) Solid
	volume func(mesh, below, flat, room float64) float64
}{
	{"cut", func(l lain) Solid { return Intersect(l.mesh, Block(l.flat)) }, func(_, below, _, _ float64) float64 { return below }},
	{"on the floor", func(l lain) Solid { return Union(l.mesh, Block(l.flat)) }, func(mesh, below, flat, _ float64) float64 { return mesh + flat - below }},
	{"above", func(l lain) Solid { return Subtract(l.mesh, Block(l.flat)) }, func(mesh, below, _, _ float64) float64 { return mesh - below }},
	{"a hollow in the floor", func(l lain) Solid { return Subtract(Block(l.flat), l.mesh) }, func(_, below, flat, _ float64) float64 { return flat - below }},
	{"air about both", func(l lain) Solid { return Subtract(Block(l.room), Union(l.mesh, Block(l.flat))) }, func(mesh, below, flat, room float64) float64 { return room - mesh - flat + below }},
	{"all but what is below", func(l lain) Solid { return Subtract(Block(l.room), Intersect(l.mesh, Block(l.flat))) }, func(_, below, _, room float64) float64 { return room - below }},
}

// drawFlat meshes a solid and checks the mesh. It returns it with how many leaves took facets
// with a plane and in how many of these they did not fit together.
func drawFlat(t *testing.T, s Solid, tol float64) (m *TriMesh, cut, failed int) {
	t.Helper()
	ctx := t.Context()
	run := meshing{box: s.BoundingBox(), tol: tol, report: func(string, float64) {}}
	m, err := run.mesh(ctx, s, false)
	if err != nil {
		t.Fatal(err)
	}
	checkDrawn(t, m, s, tol)
	tree := newOctree(s.BoundingBox(), patchShare*tol, coarsest, widestFeature, nil)
	if err := tree.grow(ctx, s, false, 1); err != nil {
		t.Fatal(err)
	}
	if _, _, err := tree.sampleAll(ctx, 1); err != nil {
		t.Fatal(err)
	}
	for _, l := range tree.root.leaves(nil) {
		if l.faceted != nil && l.faceted.side != nil {
			cut++
			if l.faceted.failed {
				failed++
			}
		}
	}
	return m, cut, failed
}

// Where a plane across an axis cuts a mesh, is cut by it or is united with it, facets and
// plane are taken as they are, placed, turned and mirrored.
func TestFacetsAreTakenWhereAPlaneCutsThem(t *testing.T) {
	const tol = 0.1
	n := 0
	for _, c := range []struct {
		name string
		mesh *TriMesh
	}{{"large facets", icosphere(3, 0)}, {"small facets", bumpy(icosphere(2.5, 3), 0.1)}, {"cube", cubeMesh(1.3, Vec{0.1, 0.2, 0.3})}} {
		body := mustSolid(t, c.mesh)
		for _, p := range []struct {
			name  string
			place Transform
		}{
			{"as it is", Move(Vec{0.123, 0.271, 0.314})},
			{"turned", Rotate(Vec{1, 2, 3}, 0.7)},
			{"mirrored", MirrorX().Then(Rotate(Vec{3, 1, 2}, 2))},
			{"far", Rotate(Vec{1, 1, 2}, 2).Then(Move(Vec{300, -200, 300}))},
		} {
			s := p.place.Solid(body)
			for axis := range 3 {
				for _, share := range []float64{0.31, 0.64} {
					if n++; n%7 != 0 && os.Getenv("HALFPOUR_LONG") == "" {
						continue
					}
					t.Run(fmt.Sprint(c.name, " ", p.name, " across ", axis, " at ", share), func(t *testing.T) {
						box := s.BoundingBox()
						l := layAt(s, axis, box.Min.along(axis)+share*box.Size().along(axis))
						below, err := Integrate(t.Context(), lyings[0].join(l), IntegrateOptions{RelTol: 1e-4})
						if err != nil {
							t.Fatal(err)
						}
						for _, w := range lyings {
							m, cut, failed := drawFlat(t, w.join(l), tol)
							if cut < 3 || failed > 0 {
								t.Errorf("%s: %d cells with a plane, %d failed", w.name, cut, failed)
							}
							want := w.volume(c.mesh.Volume(), below.Best, l.flat.Volume(), l.room.Volume())
							if v := m.Volume(); math.Abs(v-want) > below.Error+2e-3*tol*m.Area() {
								t.Errorf("%s: %.5f mm³, want %.5f ± %.5f", w.name, v, want, below.Error)
							}
						}
					})
				}
			}
		}
	}
}

// octahedron has its corners on the axes, r from the origin.
func octahedron(r float64) *TriMesh {
	m := &TriMesh{Vertices: []Vec{{X: r}, {X: -r}, {Y: r}, {Y: -r}, {Z: r}, {Z: -r}}}
	for _, x := range [2]int32{0, 1} {
		for _, y := range [2]int32{2, 3} {
			for _, z := range [2]int32{4, 5} {
				if (x+y+z)%2 == 0 {
					m.Triangles = append(m.Triangles, [3]int32{x, y, z})
				} else {
					m.Triangles = append(m.Triangles, [3]int32{x, z, y})
				}
			}
		}
	}
	return m
}

// Corners, edges and facets of the mesh may lie in the plane or a hair beside it.
func TestPlaneThroughCorners(t *testing.T) {
	const tol = 0.1
	n := 0
	quarter := Rotate(Vec{X: 1}, math.Pi/4)
	for _, c := range []struct {
		name   string
		mesh   *TriMesh
		place  Transform
		height float64
	}{
		{"corners and edges all round", octahedron(2), Identity(), 0},
		{"corners of small facets", icosphere(2, 3), Identity(), icosphere(2, 3).Vertices[100].Z},
		{"the corner on top", octahedron(2), Identity(), 2},
		{"the corner below", octahedron(2), Identity(), -2},
		{"the edge on top", octahedron(2), quarter, math.Sqrt2},
		{"the edge below", octahedron(2), quarter, -math.Sqrt2},
		{"a facet nearly in the plane", cubeMesh(2, Vec{}), Rotate(Vec{1, 2, 0}, 8e-4), 2},
		{"the facet on top", cubeMesh(2, Vec{}), Identity(), 2},
		{"the facet below", cubeMesh(2, Vec{}), Identity(), -2},
	} {
		body := mustSolid(t, c.mesh)
		for k := range 3 {
			// Cyclic turns take Z to the other axes.
			turn := []Transform{Identity(), Rotate(Vec{1, 1, 1}, 2*math.Pi/3), Rotate(Vec{1, 1, 1}, 4*math.Pi/3)}[k]
			for _, off := range []float64{0, 1e-7, -1e-7, 3e-6, -3e-6, 1e-4, -1e-4, 4.9e-4, -4.9e-4, 7e-4, -7e-4, 3e-3, -3e-3} {
				for _, w := range lyings {
					if n++; n%61 != 0 && os.Getenv("HALFPOUR_LONG") == "" {
						continue
					}
					t.Run(fmt.Sprint(c.name, " ", off, " turned ", k, " ", w.name), func(t *testing.T) {
						to := c.place.Then(turn)
						l := layAt(to.Solid(body), (2+k)%3, c.height+off)
						deep, high := 0.0, 0.0 // how far the mesh goes to both sides
						for _, v := range c.mesh.Vertices {
							over := to.Point(v).along((2+k)%3) - c.height - off
							deep, high = max(deep, -over), max(high, over)
						}
						if deep < 0.1 && (w.name == "cut" || w.name == "all but what is below") || high < 0.1 && w.name == "above" {
							return // next to nothing is cut off
						}
						drawFlat(t, w.join(l), tol)
					})
				}
			}
		}
	}
}

// An edge of a cell meets the plane where that shows: outside of a mesh that is united with
// what is beyond, inside of one that is cut, whichever way round the mesh is told. A facet
// within a hair of the plane is hidden.
func TestPlaneOnAnEdgeOfACell(t *testing.T) {
	const height = 0.25
	p, q := Vec{0.3, 0.2, height - 1}, Vec{0.3, 0.2, height + 1}
	for _, c := range []struct {
		half, top   float64 // of the mesh: half its height, and its top
		over, under bool    // the plane is inside the mesh, for facets that show over it or under it
		hits        [2]int  // of those facets
	}{
		{2, height + 2.5, true, true, [2]int{0, 0}},
		{2, height + 0.5, true, true, [2]int{1, 0}},
		{2, height - 0.5, false, false, [2]int{0, 1}},
		{2, height + 4e-7, false, true, [2]int{0, 0}},
		{2, height - 4e-7, false, true, [2]int{0, 0}},
		{0.35, height - 0.2, false, false, [2]int{0, 2}},
		{0.35, height + 0.9, false, false, [2]int{2, 0}},
	} {
		body := mustSolid(t, cubeMesh(c.half, Vec{Z: c.top - c.half})).bodies[0]
		for _, key := range []facetKey{
			{body: body, to: Identity()}, {body: body, to: MirrorX(), turned: true},
			{body: body, to: Identity(), turned: true}, {body: body, to: MirrorY()}, // the last two are the space about it
		} {
			set := newFacets(key)
			within := key.turned == key.to.Mirrors()
			for i, side := range []flatSide{{2, height, true, true}, {2, height, true, false}, {2, height, false, true}, {2, height, false, false}} {
				inside, hits := c.over, c.hits[i/2]
				if !side.over {
					inside = c.under
				}
				united := side.over == side.up
				got := side.onEdge(set.hitsOn(p, q.Z, 2), 2, p, q, set)
				flat := 0
				for k, h := range got {
					if h.facet != flatFacet {
						continue
					}
					flat++
					if first := k == 0; first != side.over && len(got) > 1 || h.at != (Vec{0.3, 0.2, height}) || h.normal.Z > 0 != side.up || h.normal.Norm() != 1 {
						t.Errorf("top %g, %+v: hit %d of %d is %+v", c.top, side, k, len(got), h)
					}
				}
				if want := (inside == within) != united; flat > 1 || flat == 1 != want || len(got)-flat != hits {
					t.Errorf("top %g, turned %v, %+v: %d hits of the plane (want %v) and %d others (want %d)", c.top, key.turned, side, flat, want, len(got)-flat, hits)
				}
			}
		}
	}
}

// A plane parts a cell that it goes through clear of the sides, unless a facet lies in it
// there.
func TestPlaneThatPartsACell(t *testing.T) {
	key := facetKey{body: mustSolid(t, cubeMesh(2, Vec{})).bodies[0], to: Move(Vec{Z: 1}).Then(MirrorZ())} // from -3 to 1
	about := Box{Vec{-0.5, -0.5, -4}, Vec{0.5, 0.5, 4}}
	beside := Box{Vec{4, -0.5, -4}, Vec{5, 0.5, 4}}
	for _, c := range []struct {
		box    Box
		height float64
		want   bool
	}{
		{about, 0, true}, {about, 1, false}, {about, 1 + 9e-4, false}, {about, 1 - 9e-4, false}, {about, 1 + 1.1e-3, true}, {about, 1 - 1.1e-3, true},
		{about, -3, false}, {about, 3, true}, {beside, 1, true},
		{about, 4 - 9e-4, false}, {about, 4 - 1.1e-3, true}, {about, 4.5, false}, {about, 9e-4 - 4, false}, {about, 1.1e-3 - 4, true}, {about, -4.5, false},
	} {
		if got := (&flatSide{axis: 2, height: c.height}).parts(c.box, &key); got != c.want {
			t.Errorf("at %g in %v: %v, want %v", c.height, c.box, got, c.want)
		}
	}
}
