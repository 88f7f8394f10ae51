package geom

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
)

// Two pieces that run through each other cannot be mended by thinning less.
func TestThinRefusesWhatCrossesAnyway(t *testing.T) {
	m := &TriMesh{}
	tetrahedronAt(m, Vec{}, 5)
	tetrahedronAt(m, Vec{X: 1, Y: 1, Z: -1}, 3)
	if _, err := thin(context.Background(), sampledSurface(m), 0.01, 0.1, 1); err == nil || !strings.Contains(err.Error(), "crosses or touches itself near (") {
		t.Errorf("got %v", err)
	}
}

// Two tetrahedra with an edge in common cross nowhere, but four triangles meet there.
func TestThinRefusesWhatTouchesAlongAnEdge(t *testing.T) {
	m := &TriMesh{Vertices: []Vec{{}, {X: 5}, {Y: 5}, {Z: 5}, {Y: -5}, {Z: -5}},
		Triangles: [][3]int32{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}, {0, 4, 1}, {0, 1, 5}, {0, 5, 4}, {1, 4, 5}}}
	if crossings, err := SelfCrossings(context.Background(), m, 0); err != nil || len(crossings) > 0 {
		t.Fatalf("%v, %v", crossings, err)
	}
	var touching crossingError
	if _, err := thin(context.Background(), sampledSurface(m), 0.01, 0.1, 1); !errors.As(err, &touching) || !slices.Equal(touching.at, []Vec{{X: 2.5}}) {
		t.Errorf("got %v", err)
	}
}

// Rounding to 32 bits, 1.5e-5 mm at 200 mm, takes the area of a sliver and makes one
// of two corners: neither comes out unseen.
func TestThinSeesWhatRoundingFlattens(t *testing.T) {
	const off = 5e-6
	corners := []Vec{{200, 200, 200}, {202, 200, 200}, {200, 202, 200}, {200, 200, 202}}
	for _, c := range []struct {
		name  string
		fifth Vec // in the floor of a tetrahedron
		tip   Vec // of a second one
		sound bool
	}{
		{"sound", Vec{201, 200.001, 200}, Vec{202.001, 200, 200}, true},
		{"sliver", Vec{201, 200 + off, 200}, Vec{202.001, 200, 200}, false},
		{"beside a corner", Vec{200 + off, 200 + off, 200}, Vec{202.001, 200, 200}, false},
		{"tips meet", Vec{201, 200.001, 200}, Vec{202 + off, 200, 200}, false},
	} {
		m := &TriMesh{Vertices: append(slices.Clone(corners), c.fifth), Triangles: [][3]int32{{0, 4, 1}, {4, 2, 1}, {0, 2, 4}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}}}
		tetrahedronAt(m, c.tip, 1)
		if _, err := thin(context.Background(), sampledSurface(m), 0, 0.1, 1); (err == nil) != c.sound {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// Marks go where a triangle touches an unmarked one.
func TestClearOfOthers(t *testing.T) {
	m := &TriMesh{}
	tetrahedronAt(m, Vec{}, 1)
	tetrahedronAt(m, Vec{X: 5}, 1)
	marks := []bool{true, true, false, true, true, true, true, true}
	for i, kept := range clearOfOthers(m, marks) {
		if kept != (i >= 4) {
			t.Errorf("triangle %d: kept %v", i, kept)
		}
	}
}

// drum is a closed fan of n facets about the middle of a disc of radius 1 at the
// height z, and the same about a point far below.
func drum(n int, z float64) *simplifier {
	m := &TriMesh{Vertices: []Vec{{Z: z}, {Z: -2}}}
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		m.Vertices = append(m.Vertices, Vec{c, s, 0})
		a, b := int32(2+i), int32(2+(i+1)%n)
		m.Triangles = append(m.Triangles, [3]int32{0, a, b}, [3]int32{1, b, a})
	}
	gentle := make([]bool, len(m.Triangles))
	for i := range gentle {
		gentle[i] = true
	}
	return newSimplifier(m, gentle, 0.1)
}

// The worst triangle between corners of a regular n-gon is tan(π/n)/2 as high as
// long: 0.0526 of 30 corners, 0.0477 of 33. A middle a little off the plane goes
// only where that is 0.05 or more; one in the plane down to 0.003.
func TestThinningKeepsShape(t *testing.T) {
	for _, c := range []struct {
		n    int
		z    float64
		goes bool
	}{
		{8, 0.01, true}, {30, 0.01, true}, {33, 0.01, false}, {33, 0, true}, {8, 0.2, false},
	} {
		s := drum(c.n, c.z)
		s.visit(0)
		out := s.result()
		if gone := s.corner[0] < 0; gone != c.goes {
			t.Errorf("%d corners, %g mm: gone %v", c.n, c.z, gone)
			continue
		}
		want := 2 * c.n
		if c.goes {
			want -= 2
		}
		if faults := Audit(out.TriMesh); len(out.Triangles) != want || len(out.from) != want || len(faults) > 0 {
			t.Errorf("%d corners, %g mm: %d triangles, want %d; %v", c.n, c.z, len(out.Triangles), want, faults)
		}
		next := int32(0)
		for v, got := range out.number {
			if v == 0 && c.goes {
				if got != -1 {
					t.Errorf("%d corners: the one that is gone has number %d", c.n, got)
				}
				continue
			}
			if got != next {
				t.Errorf("%d corners: vertex %d has number %d, want %d", c.n, v, got, next)
			}
			next++
		}
		for i, from := range out.from {
			if i > 0 && from <= out.from[i-1] || int(from) >= 2*c.n {
				t.Errorf("%d corners: triangle %d is from %d", c.n, i, from)
			}
		}
	}
}

// A tetrahedron keeps its corners; a body of six facets may lose one.
func TestTetrahedronStays(t *testing.T) {
	m := &TriMesh{}
	tetrahedronAt(m, Vec{}, 1)
	s := newSimplifier(m, make([]bool, 4), 1)
	if !s.gather(0) || len(s.ring) != 3 {
		t.Fatalf("ring %v", s.ring)
	}
	if s.linked(0, s.ring[0].a) {
		t.Error("a corner of a tetrahedron may go")
	}
	s = drum(3, 0.5)
	if !s.gather(0) || len(s.ring) != 3 || !s.linked(0, s.ring[0].a) {
		t.Error("a tip of two tetrahedra back to back may not go")
	}
}

// Only gentle facets may leave their planes: others stay to the last, where none is
// level with its neighbours.
func TestThinningLeavesOthersInTheirPlanes(t *testing.T) {
	m := icosphere(5, 3)
	for _, gentle := range []bool{false, true} {
		marks := slices.Repeat([]bool{gentle}, len(m.Triangles))
		out, err := simplify(context.Background(), m, marks, 0.3, false)
		if err != nil {
			t.Fatal(err)
		}
		if thinner := len(out.Triangles) < len(m.Triangles); thinner != gentle {
			t.Errorf("gentle %v: %d of %d triangles left", gentle, len(out.Triangles), len(m.Triangles))
		}
	}
}

// A vertex in the middle of a triangle goes though all its corners are at the boundary:
// so cut facets between whole ones are put together again. Where the boundary comes by a
// corner twice, its other neighbours are not seen, and nothing goes there.
func TestThinningGoesToTheBoundary(t *testing.T) {
	m := &TriMesh{Vertices: []Vec{{}, {X: 3}, {Y: 3}, {1, 1, 0}, {X: -3}, {Y: -3}}, Triangles: [][3]int32{{0, 1, 3}, {1, 2, 3}, {2, 0, 3}}}
	out, err := simplify(context.Background(), m, make([]bool, 3), 0.1, false)
	if err != nil || !slices.Equal(out.Triangles, [][3]int32{{0, 1, 2}}) && !slices.Equal(out.Triangles, [][3]int32{{1, 2, 0}}) && !slices.Equal(out.Triangles, [][3]int32{{2, 0, 1}}) {
		t.Errorf("%v, %v", out.Triangles, err)
	}
	for _, twice := range []bool{false, true} {
		if twice {
			m.Triangles = append(m.Triangles, [3]int32{0, 4, 5})
		}
		s := newSimplifier(m, make([]bool, len(m.Triangles)), 0.1)
		if !s.gather(3) {
			t.Fatal("no ring")
		}
		for u := range int32(3) {
			if got, want := s.linked(3, u), u > 0 || !twice; got != want {
				t.Errorf("boundary twice: %v, onto %d: %v", twice, u, got)
			}
		}
	}
}

// A needle as crossings with the faces of cells leave it, 0.1 mm long and 5e-7 mm high: no
// corner of it lies in the plane of all facets about it. It goes, and nothing else does.
func TestNeedlesGo(t *testing.T) {
	m := icosphere(0.1, 1)
	want := len(m.Triangles)
	tri := m.Triangles[0]
	a, b, c := m.Corners(0)
	along, q := c.Sub(a).Unit(), int32(len(m.Vertices))
	side := b.Sub(a).Sub(along.Mul(b.Sub(a).Dot(along))).Unit()
	m.Vertices = append(m.Vertices, a.Add(along.Mul(2e-4)).Add(side.Mul(5e-7)))
	m.Triangles[0] = [3]int32{tri[0], tri[1], q}
	m.Triangles = append(m.Triangles, [3]int32{tri[1], tri[2], q}, [3]int32{tri[2], tri[0], q})
	for _, blunt := range []bool{false, true} {
		out, err := simplify(context.Background(), m, make([]bool, len(m.Triangles)), 0.004, blunt)
		if err != nil || len(Audit(out.TriMesh)) > 0 {
			t.Fatal(err, Audit(out.TriMesh))
		}
		if least := lowest(out.TriMesh); least > needle != blunt || blunt && len(out.Triangles) != want {
			t.Errorf("blunt %v: %d triangles, the lowest %g mm high", blunt, len(out.Triangles), least)
		}
	}
}

// lowest is the least height of any triangle.
func lowest(m *TriMesh) float64 {
	least := math.Inf(1)
	for i := range m.Triangles {
		least = min(least, leastHeight(m.Corners(i)))
	}
	return least
}

// Where the mesh would come to cross itself a needle stays: here two corners of a hollow are
// so near to the surface that neither end can go to the other.
func TestNeedlesStayWhereTheMeshWouldCross(t *testing.T) {
	for _, inWay := range []bool{false, true} {
		tip, side := Vec{2e-4, 5e-4, 1e-3}, Vec{0.02, 0.01, 0.01}
		if inWay {
			tip.Z, side = -1e-6, Vec{5e-4, 1e-7, 1e-3}
		}
		m := &TriMesh{}
		tetrahedronAt(m, Vec{}, 0.1)
		m.Vertices = append(m.Vertices, Vec{2e-4, 3e-7, -2e-6})
		floor := slices.IndexFunc(m.Triangles, func(t [3]int32) bool { return !slices.Contains(t[:], 3) })
		m.Triangles[floor] = [3]int32{0, 2, 4}
		m.Triangles = append(m.Triangles, [3]int32{2, 1, 4}, [3]int32{1, 0, 4})
		m.Vertices = append(m.Vertices, tip, side, Vec{0.01, 0.02, 0.01}, Vec{0.01, 0.01, 0.02})
		m.Triangles = append(m.Triangles, [3]int32{5, 6, 7}, [3]int32{5, 8, 6}, [3]int32{5, 7, 8}, [3]int32{6, 8, 7})
		if c := crossings(t, m, 0); len(c) > 0 {
			t.Fatal(c)
		}
		out, err := thin(context.Background(), sampledSurface(m), 0.004, 0.1, 1)
		if err != nil {
			t.Errorf("in the way %v: %v", inWay, err)
			continue
		}
		if stays := lowest(out) < needle; stays != inWay {
			t.Errorf("in the way %v: the needle stays %v", inWay, stays)
		}
	}
}
