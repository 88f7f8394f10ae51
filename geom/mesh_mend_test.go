package geom

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// dieMesh is a cube of 2 mm about the origin.
func dieMesh() *TriMesh {
	m := &TriMesh{}
	for i := range 8 {
		m.Vertices = append(m.Vertices, Vec{float64(i&1)*2 - 1, float64(i>>1&1)*2 - 1, float64(i>>2)*2 - 1})
	}
	for _, q := range [][4]int32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Triangles = append(m.Triangles, [3]int32{q[0], q[1], q[2]}, [3]int32{q[0], q[2], q[3]})
	}
	return m
}

func kinds(repairs []Repair) string {
	var list []string
	for _, r := range repairs {
		list = append(list, fmt.Sprintf("%d %s", r.Count, r.Kind))
	}
	return strings.Join(list, ", ")
}

func TestMend(t *testing.T) {
	for _, tt := range []struct {
		name   string
		spoil  func(m *TriMesh)
		want   string // kinds of repairs
		volume float64
		open   float64 // by hand
	}{
		{"sound", func(m *TriMesh) {}, "", 8, 0},
		{"a facet twice", func(m *TriMesh) { m.Triangles = append(m.Triangles, m.Triangles[3]) }, "1 left-out-twins", 8, 0},
		{"a facet three times", func(m *TriMesh) { m.Triangles = append(m.Triangles, m.Triangles[3], m.Triangles[3]) }, "2 left-out-twins", 8, 0},
		{"a facet twice, its corners in another order", func(m *TriMesh) {
			c := m.Triangles[3]
			m.Triangles = append(m.Triangles, [3]int32{c[1], c[2], c[0]})
		}, "1 left-out-twins", 8, 0},
		{"a facet and its back", func(m *TriMesh) {
			c := m.Triangles[3]
			m.Triangles = append(m.Triangles, [3]int32{c[1], c[0], c[2]})
		}, "1 left-out-twins", 8, 0},
		{"a facet twice and its back", func(m *TriMesh) {
			c := m.Triangles[3]
			m.Triangles = append(m.Triangles, c, [3]int32{c[1], c[0], c[2]})
		}, "2 left-out-twins", 8, 0},
		{"a facet and its back within", func(m *TriMesh) { m.Triangles = append(m.Triangles, [3]int32{0, 3, 7}, [3]int32{7, 3, 0}) }, "2 left-out-twins", 8, 0},
		{"a facet turned over", func(m *TriMesh) { c := &m.Triangles[3]; c[0], c[1] = c[1], c[0] }, "1 turned-facets", 8, 0},
		// A triangle of half a face of side 2: its corners are at most 2/3·√5 off
		// their mean, and its area is 2.
		{"a facet missing", func(m *TriMesh) { m.Triangles = m.Triangles[1:] }, "1 filled-holes", 8, 2 * 2. / 3 * math.Sqrt(5)},
		// A square of side 2 has its corners √2 off its middle.
		{"a face missing", func(m *TriMesh) { m.Triangles = m.Triangles[2:] }, "1 filled-holes", 8, 4 * math.Sqrt2},
		{"opposite faces missing", func(m *TriMesh) { m.Triangles = m.Triangles[4:] }, "2 filled-holes", 8, 8 * math.Sqrt2},
		{"a T-joint", func(m *TriMesh) { // the edge from 0 to 3 of one of its two facets
			m.Vertices = append(m.Vertices, Vec{0, 0, -1})
			m.Triangles[0] = [3]int32{0, 2, 8}
			m.Triangles = append(m.Triangles, [3]int32{2, 3, 8})
		}, "1 split-facets", 8, 0},
		{"three T-joints of one facet", func(m *TriMesh) { // facet 0, 2, 3 in four
			m.Vertices = append(m.Vertices, Vec{-1, 0, -1}, Vec{0, 1, -1}, Vec{0, 0, -1})
			m.Triangles[0] = [3]int32{0, 8, 10}
			m.Triangles = append(m.Triangles, [3]int32{8, 2, 9}, [3]int32{9, 3, 10}, [3]int32{8, 9, 10})
		}, "3 split-facets", 8, 0},
		{"a corner a rounding apart", func(m *TriMesh) {
			m.Vertices = append(m.Vertices, m.Vertices[3].Add(Vec{X: 1e-6}))
			m.Triangles[0] = [3]int32{0, 2, 8}
		}, "1 joined-corners", 8, 0},
		{"twins before and after corners are joined", func(m *TriMesh) {
			c := m.Triangles[5]
			m.Vertices = append(m.Vertices, m.Vertices[c[0]].Add(Vec{X: 1e-6}), m.Vertices[c[0]].Add(Vec{Y: 1e-6}))
			m.Triangles[5] = [3]int32{8, c[1], c[2]}
			m.Triangles = append(m.Triangles, m.Triangles[3], [3]int32{9, c[1], c[2]})
		}, "2 left-out-twins, 2 joined-corners", 8, 0},
		{"a stray facet", func(m *TriMesh) {
			m.Vertices = append(m.Vertices, Vec{5, 0, 0}, Vec{5, 0.3, 0}, Vec{5, 0, 0.3})
			m.Triangles = append(m.Triangles, [3]int32{8, 9, 10})
		}, "1 left-out-strays", 8, 0.045 * 0.1 * math.Sqrt(5)},
		{"a stray sheet of two facets", func(m *TriMesh) {
			m.Vertices = append(m.Vertices, Vec{5, 0, 0}, Vec{5, 1, 0}, Vec{5, 1, 1}, Vec{5, 0, 1})
			m.Triangles = append(m.Triangles, [3]int32{8, 9, 10}, [3]int32{8, 10, 11})
		}, "2 left-out-strays", 8, math.Sqrt2 / 2},
		{"a fin", func(m *TriMesh) {
			m.Vertices = append(m.Vertices, Vec{0, 0, -2})
			m.Triangles = append(m.Triangles, [3]int32{0, 3, 8})
		}, "1 left-out-strays", 8, -1},
		{"inside out as a whole", func(m *TriMesh) {
			for i, c := range m.Triangles {
				m.Triangles[i] = [3]int32{c[1], c[0], c[2]}
			}
		}, "", -8, 0},
		{"a hole that meets another in a corner", func(m *TriMesh) {
			m.Triangles = slices.Delete(m.Triangles, 5, 6) // 0, 5, 4
			m.Triangles = slices.Delete(m.Triangles, 8, 9) // a facet of the face at x = -1
		}, "2 filled-holes", 8, -1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := dieMesh()
			tt.spoil(m)
			before := fmt.Sprint(m)
			got, repairs := Mend(m)
			if fmt.Sprint(m) != before {
				t.Error("the mesh given was changed")
			}
			if k := kinds(repairs); k != tt.want {
				t.Errorf("repairs %q, want %q", k, tt.want)
			}
			if v := got.Volume(); math.Abs(v-tt.volume) > 1e-5 {
				t.Errorf("volume %v, want %v", v, tt.volume)
			}
			if o := Open(repairs); tt.open >= 0 && math.Abs(o-tt.open) > 1e-9 {
				t.Errorf("open %v, want %v", o, tt.open)
			}
			if faults := Audit(got); tt.volume > 0 && len(faults) > 0 {
				t.Error(faults)
			}
			for _, r := range repairs {
				if !strings.Contains(r.String(), "near (") {
					t.Errorf("%q has no place", r)
				}
			}
			if again, more := Mend(got); len(more) > 0 || len(again.Triangles) != len(got.Triangles) {
				t.Errorf("a second time it mends %v", more)
			}
		})
	}
}

// What Mend cannot mend it leaves open, for NewMeshSolid to refuse.
func TestMendLeavesBe(t *testing.T) {
	strip := &TriMesh{} // of one side: five squares, the last joined to the first upside down
	for i := range 5 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 5)
		tip, out := math.Sincos(math.Pi * float64(i) / 5)
		for _, s := range [2]float64{-1, 1} {
			strip.Vertices = append(strip.Vertices, Vec{cos * (5 + s*out), sin * (5 + s*out), s * tip})
		}
	}
	for i := range int32(5) {
		a, b, c, d := 2*i, 2*i+1, 2*i+2, 2*i+3
		if i == 4 {
			c, d = 1, 0
		}
		strip.Triangles = append(strip.Triangles, [3]int32{a, b, c}, [3]int32{b, d, c})
	}
	dust := &TriMesh{}
	for i := range int32(mostLoose) {
		x := float64(i)
		dust.Vertices = append(dust.Vertices, Vec{x, 0, 0}, Vec{x, 1, 0}, Vec{x, 0, 1})
		dust.Triangles = append(dust.Triangles, [3]int32{3 * i, 3*i + 1, 3*i + 2})
	}
	for name, m := range map[string]*TriMesh{"nothing": {}, "a strip of one side": strip, "more loose facets than it compares": dust} {
		got, repairs := Mend(m)
		if _, err := NewMeshSolid(got); err == nil {
			t.Errorf("%s: came to enclose something", name)
		}
		if m == dust && (got != m || repairs != nil) {
			t.Errorf("%s: mended %v", name, repairs)
		}
	}
}

// Whatever hangs together how: no panic, and indices in range.
func FuzzMend(f *testing.F) {
	f.Add([]byte{0, 2, 3, 0, 3, 1, 4, 5, 7, 4, 7, 6, 0, 1, 5, 0, 5, 4, 2, 6, 7, 2, 7, 3, 0, 4, 6, 0, 6, 2, 1, 3, 7, 1, 7, 5})
	f.Add([]byte{0, 1, 2, 0, 2, 1, 0, 1, 3, 1, 0, 4, 9, 8, 1})
	f.Fuzz(func(t *testing.T, data []byte) {
		m := &TriMesh{}
		for i := range 16 { // in threes on lines, and some a rounding apart
			m.Vertices = append(m.Vertices, Vec{float64(i % 3), float64(i / 3 % 3), float64(i/9) + 1e-6*float64(i%2)})
		}
		for i := 0; i+3 <= len(data) && i < 300; i += 3 {
			m.Triangles = append(m.Triangles, [3]int32{int32(data[i] % 16), int32(data[i+1] % 16), int32(data[i+2] % 16)})
		}
		got, repairs := Mend(m)
		for _, c := range got.Triangles {
			for _, v := range c {
				if v < 0 || int(v) >= len(got.Vertices) || !got.Vertices[v].IsFinite() {
					t.Fatalf("corner %d of %d vertices", v, len(got.Vertices))
				}
			}
		}
		if !(Open(repairs) >= 0) {
			t.Fatalf("open %v", repairs)
		}
		if s, err := NewMeshSolid(got); err == nil {
			if _, _, err := FillHollows(context.Background(), s.Mesh()); err != nil {
				t.Fatal(err)
			}
		}
	})
}

// The place named is that of the first defect of the kind.
func TestMendSaysWhere(t *testing.T) {
	for _, tt := range []struct {
		kind  RepairKind
		spoil func(m *TriMesh)
		want  Vec
	}{
		{LeftOutTwins, func(m *TriMesh) { m.Triangles = append(m.Triangles, m.Triangles[3], m.Triangles[8]) }, Vec{-1, -1, 1}},
		{TurnedFacets, func(m *TriMesh) {
			for _, t := range []int{3, 8} {
				c := &m.Triangles[t]
				c[1], c[2] = c[2], c[1]
			}
		}, Vec{-1, -1, 1}},
		{JoinedCorners, func(m *TriMesh) {
			m.Vertices = append(m.Vertices, Vec{1, 1, -1})
			m.Triangles[0] = [3]int32{0, 2, 8}
		}, Vec{1, 1, -1}},
		{SplitFacets, func(m *TriMesh) {
			m.Vertices = append(m.Vertices, Vec{0, 0, -1})
			m.Triangles[0] = [3]int32{0, 2, 8}
			m.Triangles = append(m.Triangles, [3]int32{2, 3, 8})
		}, Vec{0, 0, -1}},
		{FilledHoles, func(m *TriMesh) { m.Triangles = m.Triangles[1:] }, Vec{-1. / 3, 1. / 3, -1}},
		{LeftOutStrays, func(m *TriMesh) {
			m.Vertices = append(m.Vertices, Vec{5, 0, 0}, Vec{5, 0.3, 0}, Vec{5, 0, 0.3}, Vec{9, 0, 0}, Vec{9, 0.3, 0}, Vec{9, 0, 0.3})
			m.Triangles = append(m.Triangles, [3]int32{8, 9, 10}, [3]int32{11, 12, 13})
		}, Vec{5, 0, 0}},
	} {
		m := dieMesh()
		tt.spoil(m)
		_, repairs := Mend(m)
		if len(repairs) != 1 || repairs[0].Kind != tt.kind || repairs[0].At.Dist(tt.want) > 1e-12 {
			t.Errorf("%s: %+v, want it at %v", tt.kind, repairs, tt.want)
		}
	}
}

func TestFillHollows(t *testing.T) {
	within := func(m *TriMesh, k float64, by Vec, turned bool) *TriMesh {
		return m.Transform(func(p Vec) Vec { return p.Mul(k).Add(by) }, turned)
	}
	join := func(list ...*TriMesh) *TriMesh {
		var points []Vec
		for _, m := range list {
			for t := range m.Triangles {
				a, b, c := m.Corners(t)
				points = append(points, a, b, c)
			}
		}
		return Weld(points)
	}
	cube := dieMesh()
	onEdge := cube.Transform(Rotate(Vec{Z: 1}, math.Pi/4).Point, false)
	for _, tt := range []struct {
		name    string
		mesh    *TriMesh
		hollows int
		volume  float64 // of them
		crosses bool
	}{
		{"none", cube, 0, 0, false},
		{"two bodies", join(cube, within(cube, 1, Vec{X: 5}, false)), 0, 0, false},
		{"a body within", join(cube, within(cube, 0.5, Vec{}, false)), 0, 0, false},
		{"a hollow", join(cube, within(cube, 0.5, Vec{}, true)), 1, 1, false},
		{"two hollows", join(cube, within(cube, 0.25, Vec{X: 0.5}, true), within(cube, 0.25, Vec{X: -0.5}, true)), 2, 0.25, false},
		{"a body in a hollow", join(cube, within(cube, 0.5, Vec{}, true), within(cube, 0.25, Vec{}, false)), 1, 1, false},
		// Two cubes on edge: where their faces cross, those pass by the hollow.
		{"beside bodies that cross", join(onEdge, within(onEdge, 1, Vec{X: 1.81, Z: 0.1}, false), within(cube, 0.05, Vec{0.45, 0.75, 0}, true)), 1, 0.001, false},
		{"one that pokes out", join(cube, within(cube, 0.5, Vec{X: 1.0, Y: 0.1, Z: 0.2}, true)), 1, 1, true},
	} {
		solid, hollows, err := FillHollows(context.Background(), tt.mesh)
		if err != nil {
			t.Fatal(err)
		}
		sum, crosses := 0.0, false
		for _, h := range hollows {
			sum, crosses = sum+h.Volume, crosses || h.Crosses
		}
		if len(hollows) != tt.hollows || math.Abs(sum-tt.volume) > 1e-12 || crosses != tt.crosses {
			t.Errorf("%s: got %+v", tt.name, hollows)
		}
		if want := len(tt.mesh.Triangles) - 12*tt.hollows; len(solid.Triangles) != want {
			t.Errorf("%s: %d triangles left, want %d", tt.name, len(solid.Triangles), want)
		}
	}
}

// Whichever facet has its back beside it, and whichever faces the other way, it is
// that one that is put right: the first, by which the others go, as well.
func TestMendFindsTheFacetAtFault(t *testing.T) {
	for facet := range dieMesh().Triangles {
		for name, c := range map[string]struct {
			spoil func(m *TriMesh, c *[3]int32)
			want  string
		}{
			"back":   {func(m *TriMesh, c *[3]int32) { m.Triangles = append(m.Triangles, [3]int32{c[1], c[0], c[2]}) }, "1 left-out-twins"},
			"turned": {func(m *TriMesh, c *[3]int32) { c[0], c[1] = c[1], c[0] }, "1 turned-facets"},
		} {
			m := dieMesh()
			c.spoil(m, &m.Triangles[facet])
			got, repairs := Mend(m)
			if k := kinds(repairs); k != c.want || got.Volume() != 8 || len(Audit(got)) > 0 {
				t.Errorf("facet %d, %s: %q, %g mm³, %v", facet, name, k, got.Volume(), Audit(got))
			}
		}
	}
}
