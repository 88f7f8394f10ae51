package stl

import (
	"bytes"
	"context"
	"errors"
	"runtime"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

func FuzzDecode(f *testing.F) {
	for _, s := range decodeSamples(f) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, data []byte) { tryDecode(t, data) })
}

// Broken copies of the samples fare as what fuzzing finds.
func TestMangled(t *testing.T) { geomtest.Mangle(t, decodeSamples(t), tryDecode) }

func decodeSamples(t testing.TB) (samples [][]byte) {
	add := func(data []byte) { samples = append(samples, data) }
	bin, text := binaryOf(t, tetra, "tetra"), asciiOf(t, tetra, "tetra")
	add(bin)
	add(bin[:100])
	add(append(bytes.Clone(bin), "spare"...))
	add(patched(bin, 0, []byte("solid ")...))
	add(patched(bin, 80, 0xff, 0xff, 0xff, 0x7f))
	add([]byte(text))
	add([]byte(text + text))
	add([]byte(strings.ReplaceAll(text, "\n", "\r\n")))
	add([]byte("solid\nfacet outer loop vertex 1e38 -.5 +2. vertex 0 0 1 vertex 0 1 0 endloop endfacet endsolid"))
	add([]byte("PK\x03\x04"))
	return samples
}

func tryDecode(t testing.TB, data []byte) {
	m, info, err := Decode(context.Background(), data)
	if err != nil {
		var format *FormatError
		var unsupported *UnsupportedError
		if !errors.As(err, &format) && !errors.As(err, &unsupported) {
			t.Fatalf("error of type %T: %v", err, err)
		}
		if format != nil && (format.Rule == "" || format.Offset > int64(len(data)) || err.Error() == "") {
			t.Fatalf("misplaced error %#v", format)
		}
		return
	}
	if len(m.Triangles) == 0 || info.Facets != len(m.Triangles)+info.Degenerate {
		t.Fatalf("%d triangles of %+v", len(m.Triangles), info)
	}
	back, _, err := Decode(context.Background(), binaryOf(t, m, info.Name))
	if err != nil {
		// Corners of a text file can be told apart in float64 only.
		var format *FormatError
		if info.Encoding == ASCII && errors.As(err, &format) && format.Rule == RuleNoTriangles {
			return
		}
		t.Fatal(err)
	}
	if info.Encoding == Binary && !sameCorners(back, m) {
		t.Fatalf("round trip gave %v, want %v", back, m)
	}
}

// sameCorners leaves aside how vertices are numbered: a degenerate facet that
// was left out may have been the first to use one.
func sameCorners(a, b *geom.TriMesh) bool {
	if len(a.Triangles) != len(b.Triangles) {
		return false
	}
	for t := range a.Triangles {
		a0, a1, a2 := a.Corners(t)
		b0, b1, b2 := b.Corners(t)
		if a0 != b0 || a1 != b1 || a2 != b2 {
			return false
		}
	}
	return true
}

// A facet takes 50 bytes of a binary file; read, it may take a triangle,
// three vertices that nothing shares, their places in the hash table and what
// growing leaves behind.
func TestMemoryBound(t *testing.T) {
	loose := &geom.TriMesh{}
	for i := range 20000 {
		x := float64(i)
		loose.Vertices = append(loose.Vertices, geom.Vec{X: x}, geom.Vec{X: x, Y: 1}, geom.Vec{X: x, Z: 1})
		loose.Triangles = append(loose.Triangles, [3]int32{int32(3 * i), int32(3*i + 1), int32(3*i + 2)})
	}
	bin := binaryOf(t, loose, "")
	for name, data := range map[string][]byte{
		"loose binary":    bin,
		"loose text":      []byte(asciiOf(t, loose, "")),
		"absurd count":    patched(bin, 80, 0xff, 0xff, 0xff, 0x7f),
		"one long word":   []byte("solid x\n" + strings.Repeat("a", 1<<20)),
		"one long header": []byte("solid " + strings.Repeat("a", 1<<20)),
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, _, err := Decode(context.Background(), data)
		runtime.ReadMemStats(&after)
		got := float64(after.TotalAlloc-before.TotalAlloc) / float64(len(data))
		if most := 16.0; got > most {
			t.Errorf("%s (%v): %.1f bytes allocated for a byte of input, want at most %v", name, err, got, most)
		}
	}
}
