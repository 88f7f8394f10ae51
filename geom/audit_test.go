package geom

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
)

// auditBlock returns the 12 outward triangles of a block with corners numbered
// as Box.Corner numbers them.
func auditBlock(b Box) *TriMesh {
	m := &TriMesh{Triangles: [][3]int32{
		{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, // -z, +z
		{0, 1, 4}, {1, 5, 4}, {2, 6, 3}, {3, 6, 7}, // -y, +y
		{0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}, // -x, +x
	}}
	for i := range 8 {
		m.Vertices = append(m.Vertices, b.Corner(i))
	}
	return m
}

// auditBall returns a closed mesh of 2·lon·(lat-1) triangles.
func auditBall(r float64, lon, lat int) *TriMesh {
	m := &TriMesh{Vertices: []Vec{{Z: r}}}
	for i := 1; i < lat; i++ {
		s, c := math.Sincos(math.Pi * float64(i) / float64(lat))
		for j := range lon {
			sj, cj := math.Sincos(2 * math.Pi * float64(j) / float64(lon))
			m.Vertices = append(m.Vertices, Vec{r * s * cj, r * s * sj, r * c})
		}
	}
	m.Vertices = append(m.Vertices, Vec{Z: -r})
	at := func(i, j int) int32 { return int32(1 + (i-1)*lon + j%lon) }
	last := int32(len(m.Vertices) - 1)
	for j := range lon {
		m.Triangles = append(m.Triangles, [3]int32{0, at(1, j), at(1, j+1)})
		for i := 1; i < lat-1; i++ {
			m.Triangles = append(m.Triangles,
				[3]int32{at(i, j), at(i+1, j), at(i+1, j+1)},
				[3]int32{at(i, j), at(i+1, j+1), at(i, j+1)})
		}
		m.Triangles = append(m.Triangles, [3]int32{at(lat-1, j), last, at(lat-1, j+1)})
	}
	return m
}

// auditJoin puts meshes into one without welding.
func auditJoin(meshes ...*TriMesh) *TriMesh {
	out := &TriMesh{}
	for _, m := range meshes {
		base := int32(len(out.Vertices))
		out.Vertices = append(out.Vertices, m.Vertices...)
		for _, t := range m.Triangles {
			out.Triangles = append(out.Triangles, [3]int32{t[0] + base, t[1] + base, t[2] + base})
		}
	}
	return out
}

func auditReversed(m *TriMesh) *TriMesh {
	return m.Transform(func(p Vec) Vec { return p }, true)
}

// auditWelded makes vertices in one place one vertex.
func auditWelded(m *TriMesh) *TriMesh {
	var points []Vec
	for t := range m.Triangles {
		a, b, c := m.Corners(t)
		points = append(points, a, b, c)
	}
	return Weld(points)
}

func auditCube(x, y, z, side float64) *TriMesh {
	return auditBlock(BoxOf(Vec{x, y, z}, Vec{x + side, y + side, z + side}))
}

func TestAuditFindsEachDefect(t *testing.T) {
	// with returns a cube of side 2 after a change.
	with := func(change func(m *TriMesh)) *TriMesh {
		m := auditCube(0, 0, 0, 2)
		change(m)
		return m
	}
	for _, tt := range []struct {
		name string
		mesh *TriMesh
		want []Fault
	}{
		{"sound cube", auditCube(0, 0, 0, 2), nil},
		{"sound ball", auditBall(5, 12, 7), nil},
		{"nothing", &TriMesh{}, []Fault{{Rule: NoTriangles}}},
		{"a triangle missing", with(func(m *TriMesh) { m.Triangles = m.Triangles[:11] }),
			[]Fault{{OpenEdge, 3, 3, Vec{2, 1, 2}}}},
		{"a triangle the wrong way", with(func(m *TriMesh) { m.Triangles[11] = [3]int32{3, 5, 7} }),
			[]Fault{{FlippedEdge, 3, 3, Vec{2, 1, 2}}}},
		{"a triangle twice", with(func(m *TriMesh) { m.Triangles = append(m.Triangles, [3]int32{7, 5, 3}) }),
			[]Fault{{DuplicateFacet, 1, 12, Vec{2, 2, 0}}, {CrowdedEdge, 3, 3, Vec{2, 1, 2}}}},
		{"two cubes that share an edge", auditWelded(auditJoin(auditCube(0, 0, 0, 2), auditCube(2, 2, 0, 2))),
			[]Fault{{CrowdedEdge, 1, 7, Vec{2, 2, 1}}}},
		{"two cubes that share a corner", auditWelded(auditJoin(auditCube(0, 0, 0, 2), auditCube(2, 2, 2, 2))),
			[]Fault{{SplitVertex, 1, 12, Vec{2, 2, 2}}, {Shells, 2, 12, Vec{2, 2, 2}}}},
		{"three cubes that share a corner",
			auditWelded(auditJoin(auditCube(0, 0, 0, 2), auditCube(2, 2, 2, 2), auditCube(2, 2, 2, 3))),
			[]Fault{{SplitVertex, 1, 12, Vec{2, 2, 2}}, {Shells, 3, 12, Vec{2, 2, 2}}}},
		{"two cubes apart", auditJoin(auditCube(0, 0, 0, 2), auditCube(5, 0, 0, 2)),
			[]Fault{{Shells, 2, 12, Vec{5, 0, 0}}}},
		{"a hollow", auditJoin(auditCube(0, 0, 0, 4), auditReversed(auditCube(1, 1, 1, 1))),
			[]Fault{{Shells, 2, 12, Vec{1, 1, 1}}}},
		{"inside out", auditReversed(auditCube(0, 0, 0, 2)), []Fault{{InsideOut, 1, 0, Vec{}}}},
		{"a shell inside out beside a greater one", auditJoin(auditCube(0, 0, 0, 4), auditReversed(auditCube(5, 1, 1, 1))),
			[]Fault{{InsideOut, 1, 12, Vec{5, 1, 1}}, {Shells, 2, 12, Vec{5, 1, 1}}}},
		{"equal indices", with(func(m *TriMesh) { m.Triangles = append(m.Triangles, [3]int32{1, 1, 6}) }),
			[]Fault{{EqualCorners, 1, 12, Vec{2, 0, 0}}}},
		{"an edge of no length", with(func(m *TriMesh) { m.Vertices[1] = m.Vertices[0] }),
			[]Fault{{EqualCorners, 2, 0, Vec{}}}},
		{"a corner on the opposite side", with(func(m *TriMesh) {
			m.Vertices = append(m.Vertices, Vec{1, 1, 0}) // the middle of edge 1-2
			m.Triangles[0] = [3]int32{0, 2, 8}
			m.Triangles = append(m.Triangles, [3]int32{0, 8, 1}, [3]int32{8, 2, 1})
		}), []Fault{{ZeroArea, 1, 13, Vec{1, 1, 0}}}},
		{"an index too high", with(func(m *TriMesh) { m.Triangles[4][2] = 8; m.Triangles[5][0] = -1 }),
			[]Fault{{BadIndex, 2, 4, Vec{math.NaN(), math.NaN(), math.NaN()}}}},
		{"an infinite corner", with(func(m *TriMesh) { m.Vertices[7].Y = math.Inf(1) }),
			[]Fault{{NotFinite, 3, 3, Vec{2, math.Inf(1), 2}}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := Audit(tt.mesh); fmt.Sprint(got) != fmt.Sprint(tt.want) || len(got) != len(tt.want) {
				t.Errorf("\n got %#v\nwant %#v", got, tt.want)
			}
		})
	}
}

func TestFaultText(t *testing.T) {
	for _, tt := range []struct {
		fault Fault
		want  string
	}{
		{Fault{OpenEdge, 14, 1043, Vec{12.41, -3.08, 8}}, "14 open edges; first at triangle 1043 near (12.4, -3.1, 8.0) mm"},
		{Fault{FlippedEdge, 1, 7, Vec{}}, "1 edge whose triangles face opposite ways at triangle 7 near (0.0, 0.0, 0.0) mm"},
		{Fault{BadIndex, 2, 4, Vec{X: math.NaN()}}, "2 corner indices out of range; first at triangle 4"},
		{Fault{Shells, 3, 12, Vec{X: 1}}, "3 separate shells; the second begins at triangle 12 near (1.0, 0.0, 0.0) mm"},
		{Fault{Rule: NoTriangles}, "no triangles"},
	} {
		if got := tt.fault.Error(); got != tt.want {
			t.Errorf("\n got %s\nwant %s", got, tt.want)
		}
	}
}

// Faults must not depend on how the mesh is numbered, and counts of edges
// must agree with a count by map.
func TestAuditAgreesWithMap(t *testing.T) {
	const seed = 31
	rng := rand.New(rand.NewPCG(seed, 0))
	for round := range 300 {
		m := auditBall(3, 3+rng.IntN(6), 3+rng.IntN(5))
		for range rng.IntN(6) {
			i := rng.IntN(len(m.Triangles))
			switch rng.IntN(4) {
			case 0:
				m.Triangles = slices.Delete(m.Triangles, i, i+1)
			case 1:
				m.Triangles[i][0], m.Triangles[i][1] = m.Triangles[i][1], m.Triangles[i][0]
			case 2:
				m.Triangles = append(m.Triangles, m.Triangles[i])
			case 3:
				m.Triangles[i][rng.IntN(3)] = int32(rng.IntN(len(m.Vertices)))
			}
		}
		want := map[FaultRule]int{}
		type edge [2]int32
		uses, ups := map[edge]int{}, map[edge]int{}
		for _, c := range m.Triangles {
			if c[0] == c[1] || c[1] == c[2] || c[2] == c[0] {
				want[EqualCorners]++
				continue
			}
			for k := range 3 {
				e := edge{c[k], c[(k+1)%3]}
				if e[0] < e[1] {
					ups[e]++
				} else {
					e[0], e[1] = e[1], e[0]
				}
				uses[e]++
			}
		}
		for e, n := range uses {
			switch {
			case n == 1:
				want[OpenEdge]++
			case n > 2:
				want[CrowdedEdge]++
			case ups[e] != 1:
				want[FlippedEdge]++
			}
		}
		got := map[FaultRule]int{}
		for _, f := range Audit(m) {
			switch f.Rule {
			case EqualCorners, OpenEdge, CrowdedEdge, FlippedEdge:
				got[f.Rule] = f.Count
			}
		}
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("seed %d, round %d: got %v, want %v", seed, round, got, want)
		}
	}
}

func BenchmarkAudit(b *testing.B) {
	m := auditBall(20, 710, 353) // 500 k triangles
	b.ReportAllocs()
	for b.Loop() {
		if f := Audit(m); f != nil {
			b.Fatal(f)
		}
	}
}

// Only a count of shells is no fault.
func TestNotesAreNoFaults(t *testing.T) {
	for rule := range faultWords {
		if got := (Fault{Rule: rule}).IsNote(); got != (rule == Shells) {
			t.Errorf("%s: %v", rule, got)
		}
	}
}
