package geom

import "halfpour/geom/unionfind"

// TriMesh is an indexed triangle mesh. Triangles are counter-clockwise seen
// from outside, so that their normals point out of the solid.
type TriMesh struct {
	Vertices  []Vec
	Triangles [][3]int32
}

// Corners returns the three points of triangle t.
func (m *TriMesh) Corners(t int) (a, b, c Vec) {
	i := m.Triangles[t]
	return m.Vertices[i[0]], m.Vertices[i[1]], m.Vertices[i[2]]
}

// BoundingBox returns the least box around the vertices that triangles use.
func (m *TriMesh) BoundingBox() Box {
	boxes := make([]Box, chunksOf(len(m.Triangles)))
	inChunks(len(m.Triangles), func(chunk, from, to int) {
		b := EmptyBox()
		for _, t := range m.Triangles[from:to] {
			p, q, r := &m.Vertices[t[0]], &m.Vertices[t[1]], &m.Vertices[t[2]]
			b.Min = Vec{min(b.Min.X, p.X, q.X, r.X), min(b.Min.Y, p.Y, q.Y, r.Y), min(b.Min.Z, p.Z, q.Z, r.Z)}
			b.Max = Vec{max(b.Max.X, p.X, q.X, r.X), max(b.Max.Y, p.Y, q.Y, r.Y), max(b.Max.Z, p.Z, q.Z, r.Z)}
		}
		boxes[chunk] = b
	})
	all := EmptyBox()
	for _, b := range boxes {
		all = all.Union(b)
	}
	return all
}

// Volume returns the enclosed volume in mm³ by the divergence theorem, the
// sum of det(a, b, c)/6 over the triangles (Lien & Kajiya, IEEE CG&A 4(10),
// 1984). It is negative for a mesh turned inside out and means nothing for an
// open one. Points are taken relative to the middle of the box, so that a mesh
// far from the origin loses no digits.
func (m *TriMesh) Volume() float64 {
	o := m.BoundingBox().Centre()
	var sum, carry float64 // Kahan: a million small terms of both signs
	for t := range m.Triangles {
		a, b, c := m.Corners(t)
		a, b, c = a.Sub(o), b.Sub(o), c.Sub(o)
		y := a.Dot(b.Cross(c)) - carry
		s := sum + y
		carry = (s - sum) - y
		sum = s
	}
	return sum / 6
}

// Area returns the surface area in mm².
func (m *TriMesh) Area() float64 {
	sum := 0.0
	for t := range m.Triangles {
		a, b, c := m.Corners(t)
		sum += 0.5 * b.Sub(a).Cross(c.Sub(a)).Norm()
	}
	return sum
}

// Transform returns a copy with every vertex moved by f. When f mirrors,
// pass mirrored so that the triangles keep facing outwards.
func (m *TriMesh) Transform(f func(Vec) Vec, mirrored bool) *TriMesh {
	n := &TriMesh{Vertices: make([]Vec, len(m.Vertices)), Triangles: make([][3]int32, len(m.Triangles))}
	for i, v := range m.Vertices {
		n.Vertices[i] = f(v)
	}
	for i, t := range m.Triangles {
		if mirrored {
			t[1], t[2] = t[2], t[1]
		}
		n.Triangles[i] = t
	}
	return n
}

// Pieces deals the vertices into sets that triangles hang together.
func (m *TriMesh) Pieces() unionfind.Sets {
	s := unionfind.New(len(m.Vertices))
	for _, t := range m.Triangles {
		s.Join(t[0], t[1])
		s.Join(t[1], t[2])
	}
	return s
}

// CloseLevel closes the mesh, whose boundary lies at height z and goes once
// round the middle of its box, by a fan of level triangles. They come last, and
// the middle last of the vertices. A mesh without a boundary stays as it is.
func (m *TriMesh) CloseLevel(z float64) {
	open := m.openEdges()
	if len(open) == 0 {
		return
	}
	box, middle := EmptyBox(), int32(len(m.Vertices))
	for _, e := range open {
		t := m.Triangles[e/3]
		a, b := t[e%3], t[(e+1)%3]
		box = box.Include(m.Vertices[a])
		m.Triangles = append(m.Triangles, [3]int32{b, a, middle})
	}
	at := box.Centre()
	at.Z = z
	m.Vertices = append(m.Vertices, at)
}
