package page

import (
	"context"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"errors"
	"math"
	"testing"

	"halfpour/geom"
)

// openEdges counts what the facets of some classes leave open, some of them
// turned over: a closed surface runs along each edge as often one way as the other.
func openEdges(s surface, turned map[uint8]bool) int {
	sum := map[[2]int32]int{}
	for t, v := range s.mesh.Triangles {
		over, counted := turned[s.class[t]]
		if !counted {
			continue
		}
		for k := range v {
			a, b := v[k], v[(k+1)%3]
			if over {
				a, b = b, a
			}
			sum[[2]int32{a, b}]++
			sum[[2]int32{b, a}]--
		}
	}
	open := 0
	for _, n := range sum {
		if n > 0 {
			open += n
		}
	}
	return open
}

func volume(s surface, turned map[uint8]bool) float64 {
	m := &geom.TriMesh{Vertices: s.mesh.Vertices}
	for t, v := range s.mesh.Triangles {
		over, counted := turned[s.class[t]]
		if over {
			v[1], v[2] = v[2], v[1]
		}
		if counted {
			m.Triangles = append(m.Triangles, v)
		}
	}
	return m.Volume()
}

// The page's frames and rubber are closed, and hold what was measured: coarse
// frames to a percent.
func TestTraysHoldTheRubber(t *testing.T) {
	b := built(t)
	m, err := NewModel(context.Background(), bodiesOf(b.mold), b.frames)
	if err != nil {
		t.Fatal(err)
	}
	frame, rubber := map[uint8]bool{outer: false, inner: false}, map[uint8]bool{inner: true, level: false}
	for i, tray := range m.trays {
		if n := openEdges(tray.surface, frame); n > 0 {
			t.Errorf("the %s frame has %d open edges", tray.half.Name, n)
		}
		if n := openEdges(tray.surface, rubber); n > 0 {
			t.Errorf("the %s rubber has %d open edges", tray.half.Name, n)
		}
		if got, want := volume(tray.surface, rubber), b.rubber[i].Best; math.Abs(got/want-1) > 0.01 {
			t.Errorf("the %s rubber holds %.0f mm³, measured %.0f mm³", tray.half.Name, got, want)
		}
		if got, want := volume(tray.surface, frame), b.frames[i].Volume(); math.Abs(got/want-1) > 0.01 {
			t.Errorf("the %s frame holds %.0f mm³, printed %.0f mm³", tray.half.Name, got, want)
		}
	}
}

// A finely drawn ball, cut down: a few of its triangles lose little of
// its volume, and nothing opens.
func TestThinned(t *testing.T) {
	ball, err := geom.Mesh(context.Background(), geom.Ball(geom.Vec{}, 10), geom.MeshOptions{Tolerance: 0.005})
	if err != nil {
		t.Fatal(err)
	}
	s := surface{mesh: ball, class: make([]uint8, len(ball.Triangles))}
	for i := range s.class {
		if a, b, c := ball.Corners(i); a.Z+b.Z+c.Z > 0 {
			s.class[i] = inner
		}
	}
	all := map[uint8]bool{outer: false, inner: false}
	for _, n := range []int{4000, 8000, 1 << 30} {
		got, err := s.thinned(t.Context(), n)
		if err != nil {
			t.Fatal(err)
		}
		if len(got.mesh.Triangles) > n*6/5 || len(got.mesh.Triangles) > len(ball.Triangles) {
			t.Errorf("%d triangles, want %d", len(got.mesh.Triangles), n)
		}
		if len(got.mesh.Triangles) < min(n, len(ball.Triangles))/4 {
			t.Errorf("only %d triangles, %d may stay", len(got.mesh.Triangles), n)
		}
		if open := openEdges(got, all); open > 0 {
			t.Errorf("%d triangles: %d open edges", n, open)
		}
		if v, want := volume(got, all), 4.0/3*math.Pi*1000; math.Abs(v/want-1) > 0.01 {
			t.Errorf("%d triangles: %.1f mm³, want %.1f mm³", n, v, want)
		}
		for i, v := range got.levelled(1).mesh.Vertices {
			if d := math.Abs(v.Norm() - 10); i < len(got.mesh.Vertices) && d > 0.005 {
				t.Fatalf("a vertex is %.4f mm off the ball", d)
			}
		}
	}
}

// What is packed comes back to within the steps of 16 bits.
func TestPack(t *testing.T) {
	b := built(t)
	m, err := NewModel(context.Background(), bodiesOf(b.mold), b.frames)
	if err != nil {
		t.Fatal(err)
	}
	head, text, err := m.pack()
	if err != nil {
		t.Fatal(err)
	}
	blob, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		t.Fatal(err)
	}
	var doc packedModel
	if err := json.Unmarshal(head, &doc); err != nil {
		t.Fatal(err)
	}
	got := unpack(doc.Metal[0].packedMesh, blob)
	want, _ := m.metal[0].sorted()
	if len(got.Triangles) != len(want.Triangles) || len(got.Vertices) != len(want.Vertices) {
		t.Fatalf("%d triangles of %d vertices, want %d of %d", len(got.Triangles), len(got.Vertices), len(want.Triangles), len(want.Vertices))
	}
	for i, v := range want.Vertices {
		if d := v.Dist(got.Vertices[i]); d > 0.002 {
			t.Fatalf("vertex %d is %.4f mm off", i, d)
		}
	}
	for i, v := range want.Triangles {
		if got.Triangles[i] != v {
			t.Fatalf("triangle %d is %v, want %v", i, got.Triangles[i], v)
		}
	}
	if len(doc.Metal[0].At) != len(b.mold.Cavities) || doc.Top != b.mold.Left.Inside.Max.Y || doc.Bottom >= doc.Top {
		t.Errorf("metal stands at %v, from %g to %g mm", doc.Metal[0].At, doc.Bottom, doc.Top)
	}
}

// unpack reads a mesh as the page's script does.
func unpack(m packedMesh, blob []byte) *geom.TriMesh {
	out := &geom.TriMesh{}
	at := m.Offset
	next := func() float64 {
		at += 2
		return float64(binary.LittleEndian.Uint16(blob[at-2:]))
	}
	coordinate := func(k int) float64 { return m.Low[k] + next()*(m.High[k]-m.Low[k])/math.MaxUint16 }
	for range m.Vertices {
		out.Vertices = append(out.Vertices, geom.Vec{X: coordinate(0), Y: coordinate(1), Z: coordinate(2)})
	}
	at = m.Offset + (6*m.Vertices+3)/4*4
	for range m.Indices / 3 {
		var t [3]int32
		for k := range t {
			if m.Wide {
				t[k] = int32(binary.LittleEndian.Uint32(blob[at:]))
				at += 4
			} else {
				t[k] = int32(next())
			}
		}
		out.Triangles = append(out.Triangles, t)
	}
	return out
}

func TestModelStopsWithContext(t *testing.T) {
	b := built(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := NewModel(ctx, bodiesOf(b.mold), b.frames); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

// Many kinds of heads share what one may have, so that the page stays small.
func TestShare(t *testing.T) {
	for _, c := range [][3]int{{metalTriangles, 0, mostOfAKind}, {metalTriangles, 1, mostOfAKind}, {metalTriangles, 4, mostOfAKind},
		{metalTriangles, 10, 16000}, {wireTriangles, 4, 6000}, {metalTriangles, 200, leastOfAKind}} {
		if got := share(c[0], c[1]); got != c[2] {
			t.Errorf("%d kinds share %d triangles by %d, want %d", c[1], c[0], got, c[2])
		}
	}
}
