package geom

import (
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

func TestTreeHoldsEveryTriangleOnce(t *testing.T) {
	for name, m := range awkwardMeshes() {
		tree := newBVH(m)
		seen := make([]int, len(m.Triangles))
		var walk func(r bvhRef, within Box, depth int)
		walk = func(r bvhRef, within Box, depth int) {
			if depth > maxDepth {
				t.Fatalf("%s: deeper than %d", name, maxDepth)
			}
			if r >= 0 {
				for k, child := range tree.nodes[r].child {
					if b := tree.nodes[r].box(k); !b.IsEmpty() && b.Union(within) != within {
						t.Fatalf("%s: box of child %d of node %d sticks out", name, k, r)
					}
					walk(child, tree.nodes[r].box(k), depth+1)
				}
				return
			}
			first, end := r.slots()
			for i := first; i < end; i++ {
				seen[tree.ids[i]]++
				if b := tree.triangles[i].bounds(); b.Union(within) != within {
					t.Fatalf("%s: triangle %d sticks out of its leaf", name, tree.ids[i])
				}
			}
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
			if r.IntN(3) == 0 { // on the skin
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
