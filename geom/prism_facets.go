package geom

// asFacets returns the same solid with prisms as the meshes that they are, for the mesher to
// take their facets.
func asFacets(s Solid) Solid {
	switch s := s.(type) {
	case *union:
		return &union{allAsFacets(s.children), s.box}
	case *intersection:
		return &intersection{allAsFacets(s.children), s.box, s.clip}
	case *complement:
		return &complement{asFacets(s.s)}
	case *prism:
		if body, ok := s.facets(); ok {
			return body
		}
	}
	return s
}

func allAsFacets(children []Solid) []Solid {
	list := make([]Solid, len(children))
	for i, k := range children {
		list[i] = asFacets(k)
	}
	return list
}

// facets returns the prism as a mesh. It returns false for one whose outline touches itself
// in a point, and where there is nothing.
func (s *prism) facets() (*meshBody, bool) {
	m := &TriMesh{}
	corner := map[Vec2]int32{} // its place below; above it is the next
	at := func(p Vec2) int32 {
		i, known := corner[p]
		if !known {
			i = int32(len(m.Vertices))
			corner[p] = i
			m.Vertices = append(m.Vertices, Vec{p.X, p.Y, s.z0}, Vec{p.X, p.Y, s.z1})
		}
		return i
	}
	var edges [][2]int32
	for _, e := range s.surface.tree.edges {
		a, b := at(e.a), at(e.b)
		edges = append(edges, [2]int32{a, b})
		m.Triangles = append(m.Triangles, [3]int32{a, b, b + 1}, [3]int32{a, b + 1, a + 1})
	}
	caps, ok := fillLoops(edges, func(i int32) Vec2 { return Vec2{m.Vertices[i].X, m.Vertices[i].Y} })
	if !ok {
		return nil, false
	}
	for _, t := range caps {
		m.Triangles = append(m.Triangles, [3]int32{t[0], t[2], t[1]}, [3]int32{t[0] + 1, t[1] + 1, t[2] + 1})
	}
	body, err := newMeshBody(m)
	return body, err == nil
}
