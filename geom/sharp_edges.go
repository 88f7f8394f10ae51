package geom

// sharpEdges calls visit with the parts in b of the sharp edges of meshes of which
// s is made. Some of them are not on its surface.
func sharpEdges(s Solid, b Box, visit func(p, q Vec)) {
	meshEdgesIn(s, b, func(p, q Vec) {
		if p, q, ok := b.cut(p, q); ok {
			visit(p, q)
		}
	})
}

// meshEdgesIn calls visit with the ends of sharp edges of meshes of which s is made,
// all that touch b and some others.
func meshEdgesIn(s Solid, b Box, visit func(p, q Vec)) {
	switch s := s.(type) {
	case *union:
		for _, k := range s.children {
			meshEdgesIn(k, b, visit)
		}
	case *intersection:
		for _, k := range s.children {
			meshEdgesIn(k, b, visit)
		}
	case *complement:
		meshEdgesIn(s.s, b, visit)
	case *placed:
		meshEdgesIn(s.s, s.original(b), func(p, q Vec) { visit(s.to.Point(p), s.to.Point(q)) })
	case *MeshSolid:
		meshEdgesIn(s.shape, b, visit)
	case *meshBody:
		s.sharpEdges(b, visit)
	case *prunedMesh:
		s.whole.sharpEdges(b, visit)
	}
}

// bluntest is the cosine of the angle between the normals on both sides of the
// bluntest edge that is a sharp one.
const bluntest = 0.5

// sharpEdges visits the sharp edges of the mesh that touch b, and others near it.
func (s *meshBody) sharpEdges(b Box, visit func(p, q Vec)) {
	s.sharpOnce.Do(s.findSharpEdges)
	if s.sharp == nil {
		return
	}
	s.sharp.near(&b, 0, func(slot int32) float64 {
		e := &s.sharp.triangles[slot]
		visit(e.a, e.b)
		return 0
	})
}

// findSharpEdges puts each edge into the tree as a triangle without area.
func (s *meshBody) findSharpEdges() {
	edges := &TriMesh{}
	found := make([][][2]int32, chunksOf(len(s.edges.across)))
	inChunks(len(s.edges.across), func(chunk, from, to int) {
		for id := from; id < to; id++ {
			var t, u triangle
			t.a, t.b, t.c = s.mesh.Corners(id)
			for k, other := range s.edges.across[id] {
				if int(other) < id {
					continue
				}
				u.a, u.b, u.c = s.mesh.Corners(int(other))
				if int(other) == id || t.unitNormal().Dot(u.unitNormal()) < bluntest {
					ends := s.mesh.Triangles[id]
					found[chunk] = append(found[chunk], [2]int32{ends[k], ends[(k+1)%3]})
				}
			}
		}
	})
	for _, list := range found {
		for _, e := range list {
			p, q, n := s.mesh.Vertices[e[0]], s.mesh.Vertices[e[1]], int32(len(edges.Vertices))
			edges.Vertices = append(edges.Vertices, p, q, p.Lerp(q, 0.5))
			edges.Triangles = append(edges.Triangles, [3]int32{n, n + 1, n + 2})
		}
	}
	if len(edges.Triangles) > 0 {
		s.sharp = newBVH(edges)
	}
}

// cut returns the part of a segment in b, if there is one.
func (b Box) cut(p, q Vec) (Vec, Vec, bool) {
	from, to := 0.0, 1.0
	for k := range 3 {
		a, way := p.along(k), q.along(k)-p.along(k)
		lo, hi := b.Min.along(k)-a, b.Max.along(k)-a
		switch {
		case way > 0:
			from, to = max(from, lo/way), min(to, hi/way)
		case way < 0:
			from, to = max(from, hi/way), min(to, lo/way)
		case lo > 0 || hi < 0:
			return p, q, false
		}
	}
	return p.Lerp(q, from), p.Lerp(q, to), from <= to
}
