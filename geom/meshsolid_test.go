package geom

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// cubeMesh returns the cube [-h, h]³ moved by at.
func cubeMesh(h float64, at Vec) *TriMesh {
	m := &TriMesh{}
	b := Box{Vec{-h, -h, -h}, Vec{h, h, h}}
	for i := range 8 {
		m.Vertices = append(m.Vertices, b.Corner(i).Add(at))
	}
	for _, q := range [][4]int32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Triangles = append(m.Triangles, [3]int32{q[0], q[1], q[2]}, [3]int32{q[0], q[2], q[3]})
	}
	return m
}

// icosphere returns a ball of radius r from an icosahedron with every edge
// split in two n times: 20·4ⁿ triangles.
func icosphere(r float64, n int) *TriMesh {
	g := (1 + math.Sqrt(5)) / 2
	m := &TriMesh{Vertices: []Vec{
		{-1, g, 0}, {1, g, 0}, {-1, -g, 0}, {1, -g, 0}, {0, -1, g}, {0, 1, g},
		{0, -1, -g}, {0, 1, -g}, {g, 0, -1}, {g, 0, 1}, {-g, 0, -1}, {-g, 0, 1},
	}, Triangles: [][3]int32{
		{0, 11, 5}, {0, 5, 1}, {0, 1, 7}, {0, 7, 10}, {0, 10, 11}, {1, 5, 9}, {5, 11, 4},
		{11, 10, 2}, {10, 7, 6}, {7, 1, 8}, {3, 9, 4}, {3, 4, 2}, {3, 2, 6}, {3, 6, 8},
		{3, 8, 9}, {4, 9, 5}, {2, 4, 11}, {6, 2, 10}, {8, 6, 7}, {9, 8, 1},
	}}
	for range n {
		fine := &TriMesh{Vertices: m.Vertices}
		middles := map[[2]int32]int32{}
		middle := func(a, b int32) int32 {
			key := [2]int32{min(a, b), max(a, b)}
			i, ok := middles[key]
			if !ok {
				i = int32(len(fine.Vertices))
				middles[key] = i
				fine.Vertices = append(fine.Vertices, fine.Vertices[a].Lerp(fine.Vertices[b], 0.5))
			}
			return i
		}
		for _, t := range m.Triangles {
			ab, bc, ca := middle(t[0], t[1]), middle(t[1], t[2]), middle(t[2], t[0])
			fine.Triangles = append(fine.Triangles,
				[3]int32{t[0], ab, ca}, [3]int32{ab, t[1], bc}, [3]int32{ca, bc, t[2]}, [3]int32{ab, bc, ca})
		}
		m = fine
	}
	for i, v := range m.Vertices {
		m.Vertices[i] = v.Unit().Mul(r)
	}
	return m
}

// bumpy dents a mesh about the origin so that it is no longer convex.
func bumpy(m *TriMesh, deep float64) *TriMesh {
	return m.Transform(func(v Vec) Vec {
		u := v.Unit()
		return v.Mul(1 + deep*math.Sin(5*u.X)*math.Sin(7*u.Y+1)*math.Cos(6*u.Z))
	}, false)
}

func mustSolid(t testing.TB, m *TriMesh) *MeshSolid {
	t.Helper()
	s, err := NewMeshSolid(m)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func randomIn(r *rand.Rand, b Box) Vec {
	s := b.Size()
	return b.Min.Add(Vec{s.X * r.Float64(), s.Y * r.Float64(), s.Z * r.Float64()})
}

// bruteDistance returns the signed distance by looking at every triangle, its
// sign by the exact winding number.
func bruteDistance(m *TriMesh, p Vec) float64 {
	least, angle := math.Inf(1), 0.0
	for i := range m.Triangles {
		var t triangle
		t.a, t.b, t.c = m.Corners(i)
		way, _ := t.closest(p)
		least = min(least, way.Dot(way))
		angle += t.solidAngle(p)
	}
	if angle > 2*math.Pi {
		return -math.Sqrt(least)
	}
	return math.Sqrt(least)
}

func TestMeshSolidAgainstBruteForce(t *testing.T) {
	meshes := map[string]*TriMesh{
		"cube":       cubeMesh(3, Vec{1, 2, 3}),
		"icosphere":  icosphere(5, 2),
		"bumpy ball": bumpy(icosphere(5, 3), 0.3),
	}
	for name, m := range meshes {
		t.Run(name, func(t *testing.T) {
			const seed = 11
			r := rand.New(rand.NewPCG(seed, 0))
			s := mustSolid(t, m)
			b := s.BoundingBox()
			check := func(p Vec) {
				t.Helper()
				got, want := s.Evaluate(p), bruteDistance(m, p)
				if math.Abs(want) < 1e-9 {
					got, want = math.Abs(got), math.Abs(want)
				}
				if math.Abs(got-want) > 1e-12*(1+math.Abs(want)) {
					t.Errorf("seed %d: at %v: got %.17g, want %.17g", seed, p, got, want)
				}
			}
			for range 1000 {
				check(randomIn(r, b.Grow(2)))
			}
			for range 100 {
				check(randomIn(r, b.Grow(1000)))
			}
		})
	}
}

// Distances in closed form. For an icosahedron of edge a the radius of the
// inscribed ball is a·√3(3+√5)/12 and that of the vertices a·√(10+2√5)/4; for
// a regular tetrahedron a/√24 and a·√(3/8) (textbook figures).
func TestRegularBodies(t *testing.T) {
	ico := icosphere(1, 0)
	edge := 4 / math.Sqrt(10+2*math.Sqrt(5))
	tetra := &TriMesh{
		Vertices:  []Vec{{1, 1, 1}, {1, -1, -1}, {-1, 1, -1}, {-1, -1, 1}},
		Triangles: [][3]int32{{0, 1, 2}, {0, 3, 1}, {0, 2, 3}, {1, 3, 2}},
	}
	for _, c := range []struct {
		name             string
		mesh             *TriMesh
		inside, vertices float64
	}{
		{"icosahedron", ico, edge * math.Sqrt(3) * (3 + math.Sqrt(5)) / 12, 1},
		{"tetrahedron", tetra, math.Sqrt(8) / math.Sqrt(24), math.Sqrt(8) * math.Sqrt(3.0/8)},
	} {
		s := mustSolid(t, c.mesh)
		check := func(where string, p Vec, want float64) {
			t.Helper()
			if got := s.Evaluate(p); math.Abs(got-want) > 1e-14 {
				t.Errorf("%s: %s: got %.17g, want %.17g", c.name, where, got, want)
			}
		}
		check("middle", Vec{}, -c.inside)
		for i, v := range c.mesh.Vertices {
			check("vertex", v, 0)
			check("beyond a vertex", v.Unit().Mul(c.vertices+2), 2)
			a, b, d := c.mesh.Corners(i)
			n := (&triangle{a, b, d}).unitNormal()
			mid := a.Add(b).Add(d).Mul(1.0 / 3)
			check("above a face", mid.Add(n.Mul(0.5)), 0.5)
			check("below a face", mid.Sub(n.Mul(0.01)), -0.01)
			v, dir := s.Gradient(mid)
			if math.Abs(v) > 1e-15 || dir.Dist(n) > 1e-12 {
				t.Errorf("%s: on face %d: grade %g %v, want 0 %v", c.name, i, v, dir, n)
			}
		}
	}
}

// The chords of a fine ball lie at most 1 - cos(half the angle of an edge)
// below it.
func TestFineBall(t *testing.T) {
	const seed, r0 = 18, 10.0
	m := icosphere(r0, 5) // 20,480 triangles
	s := mustSolid(t, m)
	deep := 0.0
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		deep = max(deep, r0-a.Add(b).Add(c).Norm()/3, r0-a.Lerp(b, 0.5).Norm())
	}
	r := rand.New(rand.NewPCG(seed, 0))
	for range 5000 {
		p := randomIn(r, s.BoundingBox().Grow(3))
		got, want := s.Evaluate(p), p.Norm()-r0
		if got < want-1e-12 || got > want+1.01*deep {
			t.Fatalf("seed %d: at %v: got %g, want %g to %g", seed, p, got, want, want+deep)
		}
	}
}

// Points that are no points must not stop the program.
func TestEvaluateFarAndNowhere(t *testing.T) {
	s := mustSolid(t, cubeMesh(1, Vec{}))
	if v := s.Evaluate(Vec{X: 1e200}); !math.IsInf(v, 1) {
		t.Errorf("at 1e200: got %g, want +Inf, the square being beyond float64", v)
	}
	if v := s.Evaluate(Vec{Y: math.Inf(-1)}); !math.IsInf(v, 1) && !math.IsNaN(v) {
		t.Errorf("at infinity: got %g", v)
	}
	s.Gradient(Vec{X: 1e200})
	s.Range(Box{Vec{}, Vec{X: 1e200}})
	s.Evaluate(Vec{Z: math.NaN()})
	s.PruneByValue(Box{Vec{X: math.NaN()}, Vec{}})
	s.Slab(EmptyBox())
	if got := s.PruneByValue(EmptyBox()); got == nil {
		t.Error("trimmed to nothing: got nil")
	}
}

func TestLandmarks(t *testing.T) {
	m := bumpy(icosphere(5, 0), 0.3)
	s := mustSolid(t, m)
	b := Box{m.Vertices[4], m.Vertices[4]}.Grow(6)
	want := map[Vec]bool{}
	for _, v := range m.Vertices {
		if b.Contains(v) {
			want[v] = true
		}
	}
	for _, k := range []interface{ Landmarks(Box, func(Vec)) }{s, s.PruneByValue(b).(*prunedMesh)} {
		got := map[Vec]bool{}
		k.Landmarks(b, func(v Vec) { got[v] = true })
		if len(want) < 3 || !maps.Equal(got, want) {
			t.Errorf("%T: got %d landmarks, want %d", k, len(got), len(want))
		}
	}
}

func BenchmarkMeshSolidBuild(b *testing.B) {
	for _, c := range benchMeshes {
		b.Run(c.name, func(b *testing.B) {
			m := bumpy(icosphere(10, c.splits), 0.2)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := NewMeshSolid(m); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// benchMeshes are geodesic balls of 20·4ⁿ triangles.
var benchMeshes = []struct {
	name   string
	splits int
}{{"20k", 5}, {"82k", 6}, {"1.3M", 8}}

func BenchmarkMeshSolidEvaluate(b *testing.B) {
	for _, c := range benchMeshes {
		s := mustSolid(b, bumpy(icosphere(10, c.splits), 0.2))
		for _, where := range []struct {
			name string
			grow float64
		}{{"near", 0.05}, {"within", 0}} {
			b.Run(fmt.Sprint(c.name, "/", where.name), func(b *testing.B) {
				r := rand.New(rand.NewPCG(1, 0))
				points := make([]Vec, 4096)
				for i := range points {
					if where.grow == 0 {
						points[i] = randomIn(r, s.box)
						continue
					}
					v := s.mesh.Vertices[r.IntN(len(s.mesh.Vertices))]
					points[i] = v.Add(randomIn(r, Box{}.Grow(where.grow)))
				}
				i := 0
				for b.Loop() {
					s.Evaluate(points[i&4095])
					i++
				}
			})
		}
	}
}

// A shell is a sheet when it holds less than 1e-12 of its diagonal's cube.
func TestIsSheet(t *testing.T) {
	for _, diagonal := range []float64{1e-3, 1, 200} {
		box := BoxOf(Vec{}, Vec{1, 2, 2}.Mul(diagonal/3))
		cube := diagonal * diagonal * diagonal
		for _, c := range []struct {
			volume float64
			want   bool
		}{{0, true}, {0.9e-12, true}, {-0.9e-12, true}, {1.1e-12, false}, {-1.1e-12, false}, {0.1, false}} {
			if got := (meshShell{box: box, volume: c.volume * cube}).isSheet(); got != c.want {
				t.Errorf("diagonal %g, volume %g of its cube: %v", diagonal, c.volume, got)
			}
		}
	}
}

// The normal at a vertex weighs facets by their angle there, so that it is the
// same however the faces of a block are cut into triangles.
func TestVertexNormalsOfABlock(t *testing.T) {
	m := auditBlock(BoxOf(Vec{}, Vec{1, 3, 9}))
	s, err := newMeshBody(m)
	if err != nil {
		t.Fatal(err)
	}
	third := 1 / math.Sqrt(3)
	for v := range m.Vertices {
		n := s.vertexNormal(int32(v))
		if again := s.vertexNormal(int32(v)); again != n {
			t.Errorf("corner %d: %v, and asked again %v", v, n, again)
		}
		want := Vec{-third, -third, -third}
		for k := range 3 {
			if v>>k&1 == 1 {
				want.setAlong(k, third)
			}
		}
		if n.Unit().Dist(want) > 1e-12 {
			t.Errorf("corner %d: %v, want %v", v, n.Unit(), want)
		}
	}
}

// Where two bodies share an edge, a point on it has no normal of its own: it gets
// that of the facet found there, whichever edge of the facet it is.
func TestNormalOnACrowdedEdge(t *testing.T) {
	for first := range int32(3) {
		m := &TriMesh{Vertices: []Vec{{}, {Z: 4}, {3, 1, 1}, {1, 3, 2}, {-3, -1, 1}, {-1, -3, 2}}}
		for _, c := range [][3]int32{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}, {0, 4, 1}, {0, 1, 5}, {0, 5, 4}, {1, 4, 5}} {
			m.Triangles = append(m.Triangles, [3]int32{c[first], c[(first+1)%3], c[(first+2)%3]})
		}
		s, err := newMeshBody(m)
		if err != nil {
			t.Fatal(err)
		}
		h := s.tree.nearest(Vec{Z: 2})
		if h.square != 0 || s.pseudonormal(&h) != (Vec{}) {
			t.Fatalf("hit %+v", h)
		}
		if got, want := s.anyNormal(&h), s.tree.triangles[h.slot].unitNormal(); got != want {
			t.Errorf("first corner %d: normal %v, want %v of the facet", first, got, want)
		}
	}
}

// A facet without width has no normal: a point on it gets that of a facet beside it.
func TestNormalOnAFlatFacet(t *testing.T) {
	m := &TriMesh{
		Vertices:  []Vec{{}, {Z: 4}, {3, 1, 1}, {1, 3, 2}, {Z: 2}},
		Triangles: [][3]int32{{0, 2, 1}, {0, 4, 3}, {4, 1, 3}, {0, 3, 2}, {1, 2, 3}, {0, 1, 4}}, // the last is flat
	}
	s, err := newMeshBody(m)
	if err != nil {
		t.Fatal(err)
	}
	slot := slices.Index(s.tree.ids, 5)
	got := s.anyNormal(&hit{slot: int32(slot)})
	for beside := range 3 {
		var u triangle
		u.a, u.b, u.c = m.Corners(beside)
		if got == u.unitNormal() {
			return
		}
	}
	t.Errorf("normal %v, of no facet beside it", got)
}

// Shells of more triangles than are joined side by side, whose triangles take turns, come
// apart whole.
func TestShellsOfManyTriangles(t *testing.T) {
	one, m := icosphere(1, 5), &TriMesh{}
	n := int32(len(one.Vertices))
	m.Vertices = slices.Clone(one.Vertices)
	for _, v := range one.Vertices {
		m.Vertices = append(m.Vertices, v.Add(Vec{X: 3}))
	}
	for _, c := range one.Triangles {
		m.Triangles = append(m.Triangles, c, [3]int32{c[0] + n, c[1] + n, c[2] + n})
	}
	for _, c := range []struct {
		mesh *TriMesh
		want int
	}{{one, 1}, {m, 2}} {
		e, err := findEdges(c.mesh)
		if err != nil {
			t.Fatal(err)
		}
		shells := findShells(c.mesh, e)
		if len(shells) != c.want || isOneShell(c.mesh, e.joinAcross()) != (c.want == 1) {
			t.Fatalf("%d shells, want %d", len(shells), c.want)
		}
		for _, s := range shells {
			if len(s.triangles) != len(one.Triangles) {
				t.Errorf("a shell of %d triangles, want %d", len(s.triangles), len(one.Triangles))
			}
		}
	}
}
