package geom

import (
	"maps"
	"math"
	"math/rand/v2"
	"reflect"
	"runtime"
	"testing"
)

func TestTreeIsTheSameForAnyNumberOfProcessors(t *testing.T) {
	m := bumpy(icosphere(10, 6), 0.2)
	many := newBVH(m)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	if one := newBVH(m); !reflect.DeepEqual(one, many) {
		t.Error("trees differ")
	}
}

// awkwardMeshes are hard to split: all triangles in one place, places that
// double in distance, collapsed ones, a single one.
func awkwardMeshes() map[string]*TriMesh {
	same, doubling := &TriMesh{}, &TriMesh{}
	addTo := func(m *TriMesh, t triangle) {
		n := int32(len(m.Vertices))
		m.Vertices = append(m.Vertices, t.a, t.b, t.c)
		m.Triangles = append(m.Triangles, [3]int32{n, n + 1, n + 2}, [3]int32{n, n, n + 1})
	}
	for i := range 200 {
		addTo(same, triangle{Vec{X: 1}, Vec{Y: 1}, Vec{Z: 1}})
		x := math.Ldexp(1, i-100)
		addTo(doubling, triangle{Vec{X: x}, Vec{X: 1.1 * x, Y: 0.1 * x}, Vec{X: 1.1 * x, Z: 0.1 * x}})
	}
	single := &TriMesh{}
	addTo(single, triangle{Vec{X: 1}, Vec{Y: 1}, Vec{Z: 1}})
	return map[string]*TriMesh{"same": same, "doubling": doubling, "single": single, "ball": bumpy(icosphere(1, 3), 0.3)}
}

// manyMeshes need more than one block of cells, in the second case because one triangle
// is so far away that all others are in one cell.
func manyMeshes() map[string]*TriMesh {
	many, far := bumpy(icosphere(1, 5), 0.3), bumpy(icosphere(1, 5), 0.3)
	n := int32(len(far.Vertices))
	far.Vertices = append(far.Vertices, Vec{X: 1e5}, Vec{X: 1e5, Y: 1}, Vec{X: 1e5, Z: 1})
	far.Triangles = append(far.Triangles, [3]int32{n, n + 1, n + 2})
	return map[string]*TriMesh{"many": many, "one far away": far}
}

func TestTreeHoldsEveryTriangleOnce(t *testing.T) {
	meshes := awkwardMeshes()
	maps.Copy(meshes, manyMeshes())
	for name, m := range meshes {
		tree := newBVH(m)
		seen := make([]int, len(m.Triangles))
		var walk func(r bvhRef, within Box, depth int) (count int)
		walk = func(r bvhRef, within Box, depth int) (count int) {
			if depth > maxDepth {
				t.Fatalf("%s: deeper than %d", name, maxDepth)
			}
			if r >= 0 {
				var halves [2]int
				for k, child := range tree.nodes[r].child {
					if b := tree.nodes[r].box(k); !b.IsEmpty() && b.Union(within) != within {
						t.Fatalf("%s: box of child %d of node %d sticks out", name, k, r)
					}
					halves[k] = walk(child, tree.nodes[r].box(k), depth+1)
				}
				if depth >= splitDepth && (halves[1]-halves[0])>>1 != 0 {
					t.Errorf("%s: at depth %d halves of %d and %d", name, depth, halves[0], halves[1])
				}
				return halves[0] + halves[1]
			}
			first, end := r.slots()
			for i := first; i < end; i++ {
				seen[tree.ids[i]]++
				if b := tree.triangles[i].bounds(); b.Union(within) != within {
					t.Fatalf("%s: triangle %d sticks out of its leaf", name, tree.ids[i])
				}
			}
			return int(end - first)
		}
		inf := math.Inf(1)
		walk(0, Box{Vec{-inf, -inf, -inf}, Vec{inf, inf, inf}}, 0)
		for i, n := range seen {
			want := 1
			if isCollapsed(m.Triangles[i]) {
				want = 0
			}
			if n != want {
				t.Errorf("%s: triangle %d is in %d leaves, want %d", name, i, n, want)
			}
		}
	}
}

func TestNearestIsTheFirstOfTheNearest(t *testing.T) {
	for name, m := range awkwardMeshes() {
		const seed = 24
		r := rand.New(rand.NewPCG(seed, 0))
		tree := newBVH(m)
		for range 500 {
			p := randomVec(r).Mul(math.Pow(10, 4*r.Float64()-2))
			if r.IntN(3) == 0 { // on the surface
				p = m.Vertices[r.IntN(len(m.Vertices))]
			}
			want := noHit
			for i := range tree.triangles {
				want.try(&tree.triangles[i], int32(i), p)
			}
			if got := tree.nearest(p); got != want {
				t.Fatalf("%s, seed %d: at %v: got %+v, want %+v", name, seed, p, got, want)
			}
		}
	}
}

// scattered is a row of n small triangles 1 mm apart along an axis, out of order.
func scattered(axis, n int) *TriMesh {
	m := &TriMesh{}
	for i := range n {
		var at Vec
		at.setAlong(axis, float64(i*7%n)) // 7 and n have no factor in common
		k := int32(len(m.Vertices))
		m.Vertices = append(m.Vertices, at, at.Add(Vec{0.2, 0.1, 0}), at.Add(Vec{0, 0.1, 0.2}))
		m.Triangles = append(m.Triangles, [3]int32{k, k + 1, k + 2})
	}
	return m
}

// The two halves of a row do not overlap, whichever way it runs, at any level.
func TestTreeSplitsAlongTheLongestSpread(t *testing.T) {
	for axis := range 3 {
		for i, n := range newBVH(scattered(axis, 100)).nodes {
			a, b := n.box(0), n.box(1)
			if a.Max.along(axis) > b.Min.along(axis) && b.Max.along(axis) > a.Min.along(axis) {
				t.Errorf("axis %d: the halves %v and %v of node %d overlap", axis, a, b, i)
			}
		}
	}
}

// A search looks at little more than what is within the distance last given.
func TestNearEndsWithItsDistance(t *testing.T) {
	tree := newBVH(scattered(0, 100))
	for _, c := range []struct {
		name        string
		x           float64
		first, then float64
		least, most int // triangles seen
	}{
		{"all", 50, 1000, 1000, 100, 100},
		{"shortened", 50, 1000, 0.5, 1, 2 * maxLeaf},
		{"shortened from an end", 0, 1000, 0.5, 1, maxLeaf},
		{"short", 50, 0.5, 0.5, 1, 2 * maxLeaf},
		{"too far", -2, 1.5, 1.5, 0, 0},
		{"ended", 50, 1000, -1, 1, 1},
	} {
		seen := 0
		at := Vec{X: c.x}
		tree.near(&Box{at, at}, c.first, func(int32) float64 { seen++; return c.then })
		if seen < c.least || seen > c.most {
			t.Errorf("%s: %d triangles seen, want %d to %d", c.name, seen, c.least, c.most)
		}
	}
}

// Rounded to 32 bits a bound never moves inwards, next to 0 no more than elsewhere.
func TestBoundsRoundOutwards(t *testing.T) {
	for _, size := range []float64{0, 1, 0.1, 123456.789, 3e38, 1e-38, 1e-45, 1e-46, 1e-60, 5e-324} {
		for _, x := range [2]float64{size, -size} {
			if low, high := float64(down32(x)), float64(up32(x)); low > x || high < x {
				t.Errorf("%g lies outside of [%g, %g]", x, low, high)
			}
		}
	}
}

// Half the surface of a box of 2 by 3 by 4 is 26, wherever it is, and none that of
// nothing.
func TestHalfArea(t *testing.T) {
	for _, at := range []float64{0, 5, -7} {
		box := Box{Vec{at, at + 1, at + 2}, Vec{at + 2, at + 4, at + 6}}
		b := box.sorted32()
		if got := b.halfArea(); got != 26 {
			t.Errorf("at %g: %g", at, got)
		}
	}
	none := emptySorted32
	if got := none.halfArea(); got != 0 {
		t.Errorf("of nothing: %g", got)
	}
}
