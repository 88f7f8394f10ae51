package stl

import (
	"cmp"
	"context"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"halfpour/geom"
	"halfpour/geom/internal/meshtext"
	"halfpour/geom/parallel"
)

// headerLead starts every header: it says what the numbers mean, and keeps
// the header from starting with "solid", which readers take for text.
const headerLead = "binary STL, mm: "

// Write writes m as binary STL. Corners are rounded to float32; normals are
// those of the rounded corners, zero for a facet without area; attributes are
// 0. The name goes into the 80-byte header as far as it fits. The same mesh
// gives the same bytes.
//
// A mesh that the format cannot hold (an index out of range, a coordinate
// that is no finite float32) is an error before anything is written.
func Write(w io.Writer, m *geom.TriMesh, name string) error {
	if err := writable(m); err != nil {
		return err
	}
	head := make([]byte, headerSize, prefixSize)
	copy(head, headerLead+plain(name))
	head = binary.LittleEndian.AppendUint32(head, uint32(len(m.Triangles)))
	if _, err := w.Write(head); err != nil {
		return err
	}
	return writeBlocks(w, (len(m.Triangles)+blockFacets-1)/blockFacets, func(buf []byte, block int) []byte {
		for t := block * blockFacets; t < min(len(m.Triangles), (block+1)*blockFacets); t++ {
			buf = appendFacet(buf, m, t)
		}
		return buf
	})
}

func appendFacet(buf []byte, m *geom.TriMesh, t int) []byte {
	p, n := rounded(m, t)
	at := len(buf)
	buf = slices.Grow(buf, facetSize)[:at+facetSize]
	out := (*[facetSize]byte)(buf[at:])
	putVec(out[0:12], n)
	putVec(out[12:24], p[0])
	putVec(out[24:36], p[1])
	putVec(out[36:48], p[2])
	out[48], out[49] = 0, 0
	return buf
}

func putVec(out []byte, v geom.Vec) {
	_ = out[11]
	binary.LittleEndian.PutUint32(out[0:], math.Float32bits(float32(v.X)))
	binary.LittleEndian.PutUint32(out[4:], math.Float32bits(float32(v.Y)))
	binary.LittleEndian.PutUint32(out[8:], math.Float32bits(float32(v.Z)))
}

// writable reports why a mesh cannot be written.
func writable(m *geom.TriMesh) error {
	if int64(len(m.Triangles)) > math.MaxUint32 {
		return fmt.Errorf("%d triangles, an STL file holds at most %d", len(m.Triangles), uint32(math.MaxUint32))
	}
	finite := inBlocks(len(m.Vertices), func(from, to int) bool {
		return !slices.ContainsFunc(m.Vertices[from:to], func(p geom.Vec) bool { return !round32(p).IsFinite() })
	})
	allFinite := !slices.Contains(finite, false)
	return cmp.Or(inBlocks(len(m.Triangles), func(from, to int) error { return unwritable(m, from, to, allFinite) })...)
}

// inBlocks returns what job has to say of each block of 0..n.
func inBlocks[T any](n int, job func(from, to int) T) []T {
	said := make([]T, (n+blockFacets-1)/blockFacets)
	// The background context is never cancelled, so there is no error.
	_ = parallel.For(context.Background(), len(said), 0, func(i int) {
		said[i] = job(i*blockFacets, min(n, (i+1)*blockFacets))
	})
	return said
}

// unwritable reports what is wrong with triangles from..to-1 of a mesh, of which all
// vertices may be known to be finite.
func unwritable(m *geom.TriMesh, from, to int, finite bool) error {
	n := int32(len(m.Vertices))
	for t, corners := range m.Triangles[from:to] {
		for _, v := range corners {
			if v < 0 || v >= n {
				return fmt.Errorf("triangle %d has corner %d, the mesh has %d vertices", from+t, v, n)
			}
			if !finite && !round32(m.Vertices[v]).IsFinite() {
				return fmt.Errorf("triangle %d has a corner that is no finite float32: %v", from+t, m.Vertices[v])
			}
		}
	}
	return nil
}

// rounded returns the corners as the file holds them and their normal.
func rounded(m *geom.TriMesh, t int) (p [3]geom.Vec, normal geom.Vec) {
	a, b, c := m.Corners(t)
	p = [3]geom.Vec{round32(a), round32(b), round32(c)}
	n := p[1].Sub(p[0]).Cross(p[2].Sub(p[0])).Unit()
	return p, geom.Vec{X: n.X + 0, Y: n.Y + 0, Z: n.Z + 0}
}

// round32 also turns -0 into +0, so that equal corners are equal bytes.
func round32(p geom.Vec) geom.Vec {
	return geom.Vec{X: float64(float32(p.X)) + 0, Y: float64(float32(p.Y)) + 0, Z: float64(float32(p.Z)) + 0}
}

// plain makes a name that any reader takes: one line of ASCII.
func plain(name string) string {
	return strings.Map(func(r rune) rune {
		if r > '~' {
			return '?'
		}
		return r
	}, meshtext.Name([]byte(name)))
}
