package stl

import (
	"context"
	"encoding/binary"
	"fmt"
	"sync"

	"halfpour/geom"
	"halfpour/geom/parallel"
)

// Facets are read and their corners welded chunk by chunk, on all processors; then the
// corners of the chunks are. Corners count up in the order in which a file has them
// first, whatever the chunks.

// chunkFacets is how many facets make a chunk.
const chunkFacets = 1 << 14

// chunk is some facets, by the indices of their corners, without those that have two equal
// ones.
type chunk struct {
	triangles [][3]int32
	first     int // of the triangles, in the mesh
	corners   []corner
	dealt     dealt
	err       error
}

// workspace is what a worker uses for one chunk after the other.
type workspace struct {
	raw   []byte
	table cornerTable
}

func (c *chunk) read(first, n int, from source, w *workspace) {
	at := prefixSize + facetSize*int64(first)
	raw, err := from(at, n*facetSize, w.raw)
	if err != nil {
		c.err = err
		return
	}
	w.table.empty(n/2 + 2) // a closed mesh has about half as many vertices as triangles
	c.triangles = make([][3]int32, 0, n)
	for i := range n {
		p, bad := cornersOf(raw[i*facetSize : (i+1)*facetSize])
		if bad >= 0 {
			c.err = &FormatError{Offset: at + int64(i*facetSize+bad), Rule: RuleNonFinite,
				Detail: fmt.Sprintf("facet %d has a corner that is not a finite number", first+i+1)}
			return
		}
		t := [3]int32{w.table.index(p[0]), w.table.index(p[1]), w.table.index(p[2])}
		if t[0] != t[1] && t[1] != t[2] && t[2] != t[0] {
			c.triangles = append(c.triangles, t)
		}
	}
	c.corners = w.table.corners
	c.dealt = deal(c.corners)
}

// cornersOf returns a facet's corners, and the offset in raw of a number that is not
// finite or else -1.
func cornersOf(raw []byte) (p [3]corner, bad int) {
	const normal, number = 12, 4
	_ = raw[facetSize-1]
	for i := range 9 {
		x := binary.LittleEndian.Uint32(raw[normal+number*i:])
		if x&0x7f800000 == 0x7f800000 { // all exponent bits: NaN or infinite
			return p, normal + number*i
		}
		if x == 1<<31 {
			x = 0
		}
		p[i/3][i%3] = x
	}
	return p, -1
}

// readFacets returns the mesh of the facets that have three different corners.
func readFacets(ctx context.Context, count int, from source) (*geom.TriMesh, error) {
	chunks := make([]chunk, (count+chunkFacets-1)/chunkFacets)
	spaces := sync.Pool{New: func() any { return &workspace{raw: make([]byte, min(count, chunkFacets)*facetSize)} }}
	if err := parallel.For(ctx, len(chunks), 0, func(i int) {
		w := spaces.Get().(*workspace)
		first := i * chunkFacets
		chunks[i].read(first, min(count-first, chunkFacets), from, w)
		spaces.Put(w)
	}); err != nil {
		return nil, err
	}
	triangles := 0
	for i := range chunks {
		if chunks[i].err != nil {
			return nil, chunks[i].err
		}
		chunks[i].first, triangles = triangles, triangles+len(chunks[i].triangles)
	}
	return weldChunks(ctx, chunks, triangles)
}
