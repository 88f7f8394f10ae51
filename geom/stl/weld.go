package stl

import (
	"context"

	"halfpour/geom"
	"halfpour/geom/parallel"
)

// The corners of chunks are welded share by share, on all processors: equal corners are in
// the same share.

const (
	shareBits = 5
	shares    = 1 << shareBits
)

// share is told by other bits of the hash than the place in a table.
func (c corner) share() int { return int(c.hash() >> (64 - shareBits)) }

// dealt is a chunk's corners by their share.
type dealt struct {
	corners []corner
	index   []int32 // of each in the chunk
	ends    [shares + 1]int32
	places  []int32 // of each in its share
	isFirst []bool  // no chunk before has it
}

func deal(corners []corner) dealt {
	n := len(corners)
	d := dealt{corners: make([]corner, n), index: make([]int32, n), places: make([]int32, n), isFirst: make([]bool, n)}
	for _, p := range corners {
		d.ends[p.share()+1]++
	}
	for s := range shares {
		d.ends[s+1] += d.ends[s]
	}
	next := d.ends
	for k, p := range corners {
		at := &next[p.share()]
		d.corners[*at], d.index[*at] = p, int32(k)
		*at++
	}
	return d
}

// weldChunks returns the mesh of all chunks, which have so many triangles.
func weldChunks(ctx context.Context, chunks []chunk, triangles int) (*geom.TriMesh, error) {
	// For each share, where its corners first are, then their numbers in the mesh.
	var numbers [shares][]int32
	if err := parallel.For(ctx, shares, 0, func(s int) { numbers[s] = make([]int32, weldShare(chunks, s)) }); err != nil {
		return nil, err
	}
	vertices := make([]int, len(chunks)+1) // first of each chunk
	for i := range chunks {
		vertices[i+1] = vertices[i]
		for _, first := range chunks[i].dealt.isFirst {
			if first {
				vertices[i+1]++
			}
		}
	}
	m := &geom.TriMesh{Vertices: make([]geom.Vec, vertices[len(chunks)]), Triangles: make([][3]int32, triangles)}
	if err := parallel.For(ctx, len(chunks), 0, func(i int) { chunks[i].number(m, int32(vertices[i]), &numbers) }); err != nil {
		return nil, err
	}
	return m, parallel.For(ctx, len(chunks), 0, func(i int) { chunks[i].place(m, &numbers) })
}

// weldShare gives the corners of a share their places there and returns how many there are.
func weldShare(chunks []chunk, s int) int {
	n := 0
	for i := range chunks {
		n += int(chunks[i].dealt.ends[s+1] - chunks[i].dealt.ends[s])
	}
	var t cornerTable
	t.empty(n)
	for i := range chunks {
		d := &chunks[i].dealt
		for k := d.ends[s]; k < d.ends[s+1]; k++ {
			seen := len(t.corners)
			d.places[k] = t.index(d.corners[k])
			d.isFirst[k] = len(t.corners) > seen
		}
	}
	return len(t.corners)
}

// number makes vertices of the corners that are the first, from number next on, in the
// order of the chunk.
func (c *chunk) number(m *geom.TriMesh, next int32, numbers *[shares][]int32) {
	d := &c.dealt
	own := make([]int32, len(c.corners)) // numbers plus one
	for k, i := range d.index {
		if d.isFirst[k] {
			own[i] = 1
		}
	}
	for i, first := range own {
		if first == 1 {
			m.Vertices[next] = c.corners[i].vec()
			next++
			own[i] = next
		}
	}
	for s := range shares {
		for k := d.ends[s]; k < d.ends[s+1]; k++ {
			if d.isFirst[k] {
				numbers[s][d.places[k]] = own[d.index[k]] - 1
			}
		}
	}
}

// place puts the triangles into the mesh.
func (c *chunk) place(m *geom.TriMesh, numbers *[shares][]int32) {
	d := &c.dealt
	places := make([]int32, len(c.corners))
	for s := range shares {
		for k := d.ends[s]; k < d.ends[s+1]; k++ {
			places[d.index[k]] = numbers[s][d.places[k]]
		}
	}
	for t, k := range c.triangles {
		m.Triangles[c.first+t] = [3]int32{places[k[0]], places[k[1]], places[k[2]]}
	}
}
