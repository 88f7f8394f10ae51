package geom

import (
	"math"
	"slices"
)

// facetLeaf is what a leaf has whose surface is nothing but facets of one mesh.
type facetLeaf struct {
	key     facetKey
	set     *facets
	side    *flatSide  // nil for facets alone
	group   int16      // of the leaf
	creases []facetHit // where facets meet the plane in its faces
	cuts    []facetCut // where its faces cut facets, directed as its surface ends there
	failed  bool       // something did not fit together: to be split
	known   bool       // the values at the leaf's corners

	whole    []int32    // facets wholly inside
	pieces   [][3]int32 // of the others; vertices as in sampling, then those of the facets
	pieceOf  []int32    // by piece: the facet
	middles  []Vec      // further vertices, after those
	boundary [][2]int32 // edges of whole facets that the facet beyond is not whole, as they run
}

// fill finds the facets and pieces of facets in the leaf. first is the number
// of the first vertex of the first facets; middles are numbered from below: -1
// for the first.
func (f *facetLeaf) fill(b Box, d *sampling, first int) {
	f.whole, f.pieces, f.pieceOf, f.middles, f.boundary = nil, nil, nil, nil, nil
	if f.failed {
		return
	}
	b = f.side.shown(b)
	if f.side != nil {
		if f.fillFlat(b, d, first); f.failed {
			return
		}
	}
	slices.SortStableFunc(f.cuts, func(a, b facetCut) int { return int(a.facet - b.facet) })
	f.set.in(b, func(facet int32) {
		t := f.set.corners(facet)
		if b.holds(f.set.at[t[0]]) && b.holds(f.set.at[t[1]]) && b.holds(f.set.at[t[2]]) {
			f.whole = append(f.whole, facet)
		}
	})
	f.findBoundary(&b)
	for i := 0; i < len(f.cuts) && !f.failed; {
		j := i + 1
		for j < len(f.cuts) && f.cuts[j].facet == f.cuts[i].facet {
			j++
		}
		f.piece(f.cuts[i:j], d, first)
		for len(f.pieceOf) < len(f.pieces) {
			f.pieceOf = append(f.pieceOf, f.cuts[i].facet)
		}
		i = j
	}
	f.cuts = nil
}

// findBoundary finds the boundary of the whole facets. A facet beside a whole one is whole
// if its third corner is in the box too.
func (f *facetLeaf) findBoundary(b *Box) {
	for _, facet := range f.whole {
		t := f.set.body.mesh.Triangles[facet]
		for i, across := range f.set.body.edges.across[facet] {
			u, v := t[i], t[(i+1)%3]
			beside := f.set.body.mesh.Triangles[across]
			third := beside[0]
			for _, x := range beside[1:] {
				if third == u || third == v {
					third = x
				}
			}
			if b.holds(f.set.at[third]) {
				continue
			}
			if f.set.turned {
				u, v = v, u
			}
			f.boundary = append(f.boundary, [2]int32{u, v})
		}
	}
}

// holds is Contains for a box without its greater faces.
func (b *Box) holds(p Vec) bool {
	return p.X >= b.Min.X && p.X < b.Max.X && p.Y >= b.Min.Y && p.Y < b.Max.Y && p.Z >= b.Min.Z && p.Z < b.Max.Z
}

// piece joins the cuts of one facet with the parts of its edges between them
// and fills what they enclose.
func (f *facetLeaf) piece(cuts []facetCut, d *sampling, first int) {
	t := f.set.corners(cuts[0].facet)
	var buffer [16]int32
	out := buffer[:0]
	used := 0
	for next := 0; ; {
		c := &cuts[next]
		if used++; used > len(cuts) {
			f.failed = true
			return
		}
		out = append(out, c.from)
		if c.toEdge < 0 {
			next = startingAt(cuts, c.to)
		} else {
			k := int(c.toEdge)
			out = append(out, c.to)
			for step := 0; ; step++ {
				if next = startingOn(cuts, k); next >= 0 {
					break
				}
				if step == 3 {
					break
				}
				k = (k + 1) % 3
				out = append(out, int32(first+f.set.first+int(t[k])))
			}
		}
		if next < 0 {
			f.failed = true
			return
		}
		if next == 0 {
			break
		}
	}
	if used != len(cuts) {
		f.failed = true
		return
	}
	if f.side != nil {
		out = withoutRepeats(out)
	} else if len(out) < 3 {
		f.failed = true
	}
	if len(out) >= 3 {
		f.triangulate(out, func(id int32) Vec { return f.vertex(id, d, first) })
	}
}

// withoutRepeats leaves out what is the same as what comes next round a ring.
func withoutRepeats(ring []int32) []int32 {
	ring = slices.Compact(ring)
	for len(ring) > 1 && ring[0] == ring[len(ring)-1] {
		ring = ring[:len(ring)-1]
	}
	return ring
}

// vertex returns where a vertex is that is numbered as fill has it.
func (f *facetLeaf) vertex(id int32, d *sampling, first int) Vec {
	switch {
	case id < 0:
		return f.middles[-1-id]
	case int(id) < len(d.at):
		return d.at[id]
	}
	return f.set.at[int(id)-first-f.set.first]
}

func startingAt(cuts []facetCut, id int32) int {
	for i := range cuts {
		if cuts[i].from == id {
			return i
		}
	}
	return -1
}

func startingOn(cuts []facetCut, edge int) int {
	for i := range cuts {
		if int(cuts[i].fromEdge) == edge {
			return i
		}
	}
	return -1
}

// mostTriangulated is the most corners of a piece that is filled without a vertex in
// its middle.
const mostTriangulated = 10

// triangulate fills a convex outline.
func (f *facetLeaf) triangulate(out []int32, at func(int32) Vec) {
	n := len(out)
	if n == 3 {
		f.pieces = append(f.pieces, [3]int32{out[0], out[1], out[2]})
		return
	}
	points := make([]Vec, n)
	for i := range out {
		points[i] = at(out[i])
	}
	if n > mostTriangulated {
		f.triangulateRound(out, points)
		return
	}
	normal := Vec{}
	for i := 2; i < n; i++ {
		normal = normal.Add(points[i-1].Sub(points[0]).Cross(points[i].Sub(points[0])))
	}
	normal = normal.Unit()
	// The best filling of an outline is that of two parts of it beside a
	// triangle, best meaning that its worst triangle is (Klincsek, Annals of
	// Discrete Mathematics 9, 1980).
	var worst [mostTriangulated][mostTriangulated]float64
	var third [mostTriangulated][mostTriangulated]int8
	for long := 1; long < n; long++ {
		for i := 0; i+long < n; i++ {
			j := i + long
			if long == 1 {
				worst[i][j] = math.Inf(1)
				continue
			}
			worst[i][j] = math.Inf(-1)
			for k := i + 1; k < j; k++ {
				q := min(worst[i][k], worst[k][j], quality(points[i], points[k], points[j], normal))
				if q > worst[i][j] {
					worst[i][j], third[i][j] = q, int8(k)
				}
			}
		}
	}
	if !(worst[0][n-1] > 1e-9) {
		f.triangulateRound(out, points)
		return
	}
	var add func(i, j int)
	add = func(i, j int) {
		if j < i+2 {
			return
		}
		k := int(third[i][j])
		f.pieces = append(f.pieces, [3]int32{out[i], out[k], out[j]})
		add(i, k)
		add(k, j)
	}
	add(0, n-1)
}

// triangulateRound fills an outline from a vertex in its middle.
func (f *facetLeaf) triangulateRound(out []int32, points []Vec) {
	sum := Vec{}
	for _, p := range points {
		sum = sum.Add(p)
	}
	f.middles = append(f.middles, sum.Mul(1/float64(len(points))))
	m := -int32(len(f.middles))
	for i := range out {
		f.pieces = append(f.pieces, [3]int32{m, out[i], out[(i+1)%len(out)]})
	}
}
