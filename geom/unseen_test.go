package geom

import (
	"math"
	"testing"
)

// quartered parts each triangle in four in its plane, so that most corners lie amid
// flats and edges.
func quartered(m *TriMesh) *TriMesh {
	var points []Vec
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		ab, bc, ca := a.Lerp(b, 0.5), b.Lerp(c, 0.5), c.Lerp(a, 0.5)
		points = append(points, a, ab, ca, b, bc, ab, c, ca, bc, ab, bc, ca)
	}
	return Weld(points)
}

// Where all of a mesh is sampled each of its corners is seen, whatever thinning may
// yet move; where nothing is left of what was sampled, surely none is.
func TestLandmarksAreSeen(t *testing.T) {
	m := quartered(quartered(cubeMesh(1.3, Vec{0.1, 0.2, 0.3})))
	tree, d, leaves := facetTree(t, mustSolid(t, m), true)
	k := tree.assemble(leaves, d)
	none := make([]bool, len(k.sampled.Triangles))
	for i := range none {
		none[i] = true
	}
	seen := map[Vec]bool{}
	for _, l := range leaves {
		marks := witnessOf(l.solid, tree.leafBox(l), l.sheets).marks
		for _, u := range tree.unseenOf(marks, k, nil, patchLimit*tree.tol) {
			t.Errorf("the landmark at %v is not seen", u.at)
		}
		for _, u := range tree.unseenOf(marks, k, none, patchLimit*tree.tol) {
			seen[u.at] = true
			if !u.sure {
				t.Errorf("the landmark at %v may be seen where nothing is", u.at)
			}
		}
	}
	if len(seen) != len(m.Vertices) {
		t.Errorf("%d landmarks, want %d", len(seen), len(m.Vertices))
	}
}

// A spike stands on the boundary of its triangle, so that their area vectors are the
// same: on all of it where that is small, and else within reach of the foot, about the
// triangle's middle where the foot is near that.
func TestSpikeStandsOnItsTriangle(t *testing.T) {
	for _, c := range []struct {
		name      string
		side      float64
		at        Vec
		triangles int
	}{
		{"small", 1, Vec{0.25, 0.375, 0}, 3},
		{"large", 60, Vec{12, 14, 0}, 9},
		{"large, near a corner", 60, Vec{1, 1, 0}, 9},
		{"large, near its middle", 60, Vec{19.75, 20.125, 0}, 9},
	} {
		m := &TriMesh{Vertices: []Vec{{}, {X: c.side}, {Y: c.side}}, Triangles: [][3]int32{{0, 1, 2}}}
		const reach = 1
		tip := c.at.Add(Vec{0, 0, 3})
		at, spike := m.spike(foot{at: c.at}, tip, reach)
		if len(spike) != c.triangles || at[len(at)-1] != tip {
			t.Errorf("%s: %d triangles, the last of the points %v", c.name, len(spike), at[len(at)-1])
		}
		all := TriMesh{Vertices: append(append([]Vec{}, m.Vertices...), at...), Triangles: spike}
		sum, middle := Vec{}, Vec{}
		for i := range spike {
			p, q, r := all.Corners(i)
			sum = sum.Add(q.Sub(p).Cross(r.Sub(p)))
		}
		if want := (Vec{Z: c.side * c.side}); sum.Dist(want) > 1e-9 {
			t.Errorf("%s: area vector %v, want %v", c.name, sum, want)
		}
		for _, p := range at[:len(at)-1] {
			middle = middle.Add(p.Mul(1. / 3))
			if p.Dist(c.at) > 2*reach || p.X <= 0 || p.Y <= 0 {
				t.Errorf("%s: stands at %v, far from its foot %v", c.name, p, c.at)
			}
		}
		if centre := (Vec{c.side / 3, c.side / 3, 0}); c.at.Dist(centre) < reach && len(at) > 1 && middle.Dist(centre) > 1e-12 {
			t.Errorf("%s: stands about %v, want %v", c.name, middle, centre)
		}
	}
}

// counted counts what a solid is asked. It knows its slabs, so that in some cells
// there is no trial.
type counted struct {
	Solid
	asked *int
}

func (s counted) Evaluate(p Vec) float64  { *s.asked++; return s.Solid.Evaluate(p) }
func (s counted) Slab(b Box) (Slab, bool) { return SlabOf(s.Solid, b) }

// A crossing that was found, in a trial or when all was sampled, is not searched for
// again, and stays where it was to the last bit.
func TestCrossingsAreFoundOnce(t *testing.T) {
	asked := 0
	s := counted{Ball(Vec{0.1, 0.2, 0.3}, 9), &asked}
	tree, _, leaves := facetTree(t, s, false)
	list, _, err := tree.findCrossings(t.Context(), 1)
	if err != nil {
		t.Fatal(err)
	}
	for i := range list {
		list[i].at, list[i].normal = tree.locate(list[i].leaf, list[i].edge)
	}
	keepCrossings(list)
	asked = 0
	for _, c := range list {
		if at, normal := tree.locate(c.leaf, c.edge); at != c.at || normal != c.normal {
			t.Errorf("a crossing moved from %v to %v", c.at, at)
		}
	}
	if asked > 0 || len(list) < 100 {
		t.Errorf("asked %d times for %d crossings known", asked, len(list))
	}
	for _, l := range leaves {
		fresh := &leaf{solid: s, x: l.x, y: l.y, z: l.z, size: l.size, values: l.values}
		tree.findOwn(fresh)
		crossed := 0
		for e := range fresh.edges {
			if fresh.crossed(e) {
				crossed++
			}
		}
		before := asked
		tree.findOwn(fresh)
		if len(fresh.own) != crossed || asked != before {
			t.Fatalf("%d of %d crossings kept, asked %d times for them", len(fresh.own), crossed, asked-before)
		}
	}
}

// Cells start and end at powers of two of steps, as large as they may be and no larger,
// but one step at least; the root holds the box with room.
func TestCellsStartAsLargeAsTheyMay(t *testing.T) {
	box := Box{Vec{1, 2, 3}, Vec{4, 9, 5}}
	for _, tol := range []float64{0.1, 0.013} {
		for _, mm := range []float64{0.1 * tol, 0.126 * tol, 0.2 * tol, 0.7 * tol, 5 * tol, 8} {
			tree := newOctree(box, tol, mm, mm/2, nil)
			for _, c := range []struct {
				steps int32
				mm    float64
			}{{tree.coarse, mm}, {tree.feature, mm / 2}} {
				size := float64(c.steps) * tree.step.X
				if c.steps&(c.steps-1) != 0 || c.steps > 1 && size > c.mm*1.001 || c.steps < tree.top && 2*size <= c.mm {
					t.Errorf("tolerance %g: %d steps of %g mm, %g in all, for %g", tol, c.steps, tree.step.X, size, c.mm)
				}
			}
			if root := tree.box(0, 0, 0, tree.top); !root.encloses(box) {
				t.Errorf("tolerance %g: the root %v does not hold %v", tol, root, box)
			}
			if diagonal := math.Sqrt(3) * tree.step.X * float64(tree.least); diagonal > tol {
				t.Errorf("tolerance %g: the least cells are %g mm across", tol, diagonal)
			}
		}
	}
}
