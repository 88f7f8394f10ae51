package stl

import (
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"strings"

	"halfpour/geom"
	"halfpour/geom/internal/meshtext"
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
	for _, v := range [4]geom.Vec{n, p[0], p[1], p[2]} {
		for _, x := range [3]float64{v.X, v.Y, v.Z} {
			buf = binary.LittleEndian.AppendUint32(buf, math.Float32bits(float32(x)))
		}
	}
	return append(buf, 0, 0)
}

// writable reports why a mesh cannot be written.
func writable(m *geom.TriMesh) error {
	if int64(len(m.Triangles)) > math.MaxUint32 {
		return fmt.Errorf("%d triangles, an STL file holds at most %d", len(m.Triangles), uint32(math.MaxUint32))
	}
	for t, corners := range m.Triangles {
		for _, v := range corners {
			if v < 0 || int(v) >= len(m.Vertices) {
				return fmt.Errorf("triangle %d has corner %d, the mesh has %d vertices", t, v, len(m.Vertices))
			}
			if p := round32(m.Vertices[v]); !p.IsFinite() {
				return fmt.Errorf("triangle %d has a corner that is no finite float32: %v", t, m.Vertices[v])
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
