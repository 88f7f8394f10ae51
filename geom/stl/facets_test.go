package stl

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"halfpour/geom"
)

// manyFacets is a ball of three chunks of facets, shuffled, with some that have two equal
// corners; and the points of all in the order of the file.
func manyFacets(t *testing.T) (data []byte, points []geom.Vec) {
	m := ball(10, 220, 92)
	if n := len(m.Triangles); n <= 2*chunkFacets || n >= 3*chunkFacets {
		t.Fatalf("%d facets are not of three chunks", n)
	}
	r := rand.New(rand.NewPCG(5, 6))
	r.Shuffle(len(m.Triangles), func(i, j int) { m.Triangles[i], m.Triangles[j] = m.Triangles[j], m.Triangles[i] })
	for i := 1000; i < len(m.Triangles); i += 999 {
		m.Triangles[i][1] = m.Triangles[i][0]
	}
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		points = append(points, round32(a), round32(b), round32(c))
	}
	return binaryOf(t, m, "many"), points
}

// Chunks of facets give what the same facets welded one by one do, on one processor and
// on more, out of memory and out of a file.
func TestDecodeManyFacets(t *testing.T) {
	data, points := manyFacets(t)
	want := geom.Weld(points)
	kept := want.Triangles[:0]
	for _, c := range want.Triangles {
		if c[0] != c[1] && c[1] != c[2] && c[2] != c[0] {
			kept = append(kept, c)
		}
	}
	facets := len(want.Triangles)
	want.Triangles = kept
	name := filepath.Join(t.TempDir(), "many.stl")
	if err := os.WriteFile(name, append([]byte("spare"), data...), 0o600); err != nil {
		t.Fatal(err)
	}
	check := func(how string, m *geom.TriMesh, info Info, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(m, want) {
			t.Errorf("%s: another mesh than one by one", how)
		}
		if info.Facets != facets || info.Degenerate != facets-len(kept) || info.Degenerate == 0 {
			t.Errorf("%s: %+v", how, info)
		}
	}
	for _, processors := range []int{1, 3} {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(processors))
		m, info, err := Decode(context.Background(), data)
		check("memory", m, info, err)
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		if _, err := f.Seek(int64(len("spare")), 0); err != nil {
			t.Fatal(err)
		}
		m, info, err = Read(context.Background(), f)
		check("file", m, info, err)
	}
}

// Of the faults in several chunks the first is told.
func TestFirstFaultOfManyFacets(t *testing.T) {
	data, _ := manyFacets(t)
	nan := math.Float32bits(float32(math.NaN()))
	for _, facet := range []int{2*chunkFacets + 7, chunkFacets + 5, chunkFacets - 1} {
		at := prefixSize + facet*facetSize + 20
		data = patched(data, at, byte(nan), byte(nan>>8), byte(nan>>16), byte(nan>>24))
		_, _, err := Decode(context.Background(), data)
		var fault *FormatError
		if !errors.As(err, &fault) || fault.Offset != int64(at) {
			t.Errorf("%v, want the fault at byte %d", err, at)
		}
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, _, err := Decode(ctx, data); !errors.Is(err, context.Canceled) {
		t.Errorf("after the end of the context: %v", err)
	}
}

// Lattices are what meshers make and what weak hashes stumble over.
func TestCornerHashSpreadsLattices(t *testing.T) {
	for name, step := range map[string]float32{"binary": 0.25, "decimal": 0.1, "large": 1024} {
		const side, slots = 64, 1 << 19 // half full
		used, filled := make([]bool, slots), 0
		for i := range side * side * side {
			c := corner{math.Float32bits(float32(i%side) * step), math.Float32bits(float32(i/side%side) * step), math.Float32bits(float32(i/side/side) * step)}
			if h := c.hash() & (slots - 1); !used[h] {
				used[h] = true
				filled++
			}
		}
		// Random hashing at load 1/2 fills 1-exp(-1/2) of the table.
		if want := (1 - math.Exp(-0.5)) * slots; float64(filled) < 0.97*want {
			t.Errorf("%s lattice fills %d slots, a random hash about %.0f", name, filled, want)
		}
	}
}

// Of what cannot be written the first is told; a vertex that no facet uses may be anything.
func TestFirstFaultOfManyFacetsToWrite(t *testing.T) {
	m := ball(10, 220, 92)
	inf, n := int32(len(m.Vertices)), len(m.Triangles)
	m.Vertices = append(m.Vertices, geom.Vec{Y: 1e39})
	if err := Write(io.Discard, m, ""); err != nil {
		t.Error(err)
	}
	for _, c := range []struct {
		facet  int
		corner int32
		want   string
	}{
		{n - 1, inf + 1, "triangle %d has corner 20"},
		{n / 2, inf, "triangle %d has a corner that is no finite float32"},
		{n / 3, -1, "triangle %d has corner -1"},
	} {
		m.Triangles[c.facet][2] = c.corner
		want := fmt.Sprintf(c.want, c.facet)
		if err := Write(io.Discard, m, ""); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}
