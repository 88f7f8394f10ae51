package geom

import "math"

// maxSlab is the greatest number of triangles that a slab is laid round: a box
// with more is not flat, or is soon split anyway.
const maxSlab = 100

// slabbing gathers the triangles that touch a box.
type slabbing struct {
	box    Box // a little larger than asked, for rounding
	tree   *bvh
	normal Vec // sum of the area normals of the parts in the box
	n      int
	slots  [maxSlab]int32
}

// add returns false when there are too many.
func (g *slabbing) add(slot int32) bool {
	t := &g.tree.triangles[slot]
	if g.box.misses(t) {
		return true
	}
	p := t.clip(&g.box)
	if p.n == 0 {
		return true
	}
	if g.n == maxSlab {
		return false
	}
	g.normal = g.normal.Add(p.areaNormal())
	g.slots[g.n] = slot
	g.n++
	return true
}

// slab returns the thinnest slab across the mean normal that holds the surface
// in the box.
func (g *slabbing) slab() (Slab, bool) {
	n := g.normal.Unit()
	if !(n.Dot(n) > 0.5) {
		return Slab{}, false
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, slot := range g.slots[:g.n] {
		p := g.tree.triangles[slot].clip(&g.box)
		for _, v := range p.at[:p.n] {
			x := n.Dot(v)
			low, high = min(low, x), max(high, x)
		}
	}
	d := 0.5 * (low + high)
	return Slab{n, d, 0.5*(high-low) + g.tree.slack + 1e-14*math.Abs(d)}, true
}

// holds reports whether the box lies inside below the slab and outside above
// it. The part of a box beyond a plane is in one piece, and without surface it is
// of one sign: one corner tells. Where no corner is, no point is.
func (l Slab) holds(b Box, evaluate func(Vec) float64) bool {
	var lowest, highest Vec
	low, high := math.Inf(1), math.Inf(-1)
	for i := range 8 {
		c := b.Corner(i)
		x := l.N.Dot(c) - l.D
		if x < low {
			low, lowest = x, c
		}
		if x > high {
			high, highest = x, c
		}
	}
	return !(low < -l.W && evaluate(lowest) >= 0) && !(high > l.W && evaluate(highest) <= 0)
}

// Slab lays a slab round the triangles that touch b.
func (s *meshBody) Slab(b Box) (Slab, bool) {
	g := slabbing{box: b.Grow(s.tree.slack), tree: s.tree}
	size := b.Size()
	if across := min(size.X*size.Y, size.Y*size.Z, size.Z*size.X); across > 2*maxSlab*s.tree.meanArea {
		return Slab{}, false // all but sure to hold too many
	}
	full := false
	s.tree.near(&g.box, 0, func(slot int32) float64 {
		if full = !g.add(slot); full {
			return -1
		}
		return 0
	})
	if full || g.n == 0 {
		return Slab{}, false
	}
	l, ok := g.slab()
	return l, ok && l.holds(b, s.Evaluate)
}

// Slab is as for the whole mesh.
func (s *prunedMesh) Slab(b Box) (Slab, bool) {
	g := slabbing{box: b.Grow(s.whole.tree.slack), tree: s.whole.tree}
	off := g.box.Centre().Dist(s.centre) + g.box.HalfDiagonal()
	for _, x := range s.list {
		if float64(x.from) > off {
			break
		}
		g.add(x.slot)
	}
	if g.n == 0 {
		return Slab{}, false
	}
	l, ok := g.slab()
	return l, ok && l.holds(b, s.Evaluate)
}

// Landmarks calls visit for the vertices of the mesh in b.
func (s *meshBody) Landmarks(b Box, visit func(Vec)) {
	s.tree.near(&b, 0, func(slot int32) float64 {
		s.landmarks(slot, &b, visit)
		return 0
	})
}

// Landmarks is as for the whole mesh.
func (s *prunedMesh) Landmarks(b Box, visit func(Vec)) {
	for _, x := range s.list {
		s.whole.landmarks(x.slot, &b, visit)
	}
}

// landmarks visits the corners in b that belong to the triangle: each vertex
// belongs to one of its triangles, so that it is visited once.
func (s *meshBody) landmarks(slot int32, b *Box, visit func(Vec)) {
	u, id := &s.tree.triangles[slot], s.tree.ids[slot]
	for k, p := range [3]Vec{u.a, u.b, u.c} {
		if b.Contains(p) && s.edges.first[s.mesh.Triangles[id][k]] == 3*id+int32(k) {
			visit(p)
		}
	}
}
