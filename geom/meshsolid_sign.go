package geom

// isInside decides the side of p from the pseudonormal at its nearest point:
// the point is outside when the way to it rises above that normal. The face's
// normal, the sum of both faces' unit normals on an edge and the
// angle-weighted sum at a vertex are right for every closed mesh that does
// not cross itself (Bærentzen & Aanæs, "Signed distance computation using the
// angle weighted pseudonormal", IEEE TVCG 11(3), 2005). Where there is no
// such normal the winding number decides, as it does for a body that crosses
// itself.
func (s *meshBody) isInside(p Vec, h *hit) bool {
	if s.crossed {
		return s.winding.at(p) > 0.5
	}
	n := s.pseudonormal(h)
	if n == (Vec{}) {
		return s.winding.at(p) > 0.5
	}
	return n.Dot(h.way) < 0
}

// pseudonormal returns the normal that tells the sides apart at a nearest
// point, not of unit length; zero where there is none.
func (s *meshBody) pseudonormal(h *hit) Vec {
	t := &s.tree.triangles[h.slot]
	if h.on == onFace {
		return t.normal()
	}
	id := s.tree.ids[h.slot]
	if h.on >= onCorner {
		return s.normals[s.mesh.Triangles[id][h.on-onCorner]]
	}
	other := s.edges.across[id][h.on-onEdge]
	if other == id {
		return Vec{}
	}
	var u triangle
	u.a, u.b, u.c = s.mesh.Corners(int(other))
	n, m := t.unitNormal(), u.unitNormal()
	if n == (Vec{}) || m == (Vec{}) {
		return Vec{}
	}
	return n.Add(m)
}

// anyNormal returns a unit normal of the surface at or next to a nearest point
// that has no pseudonormal.
func (s *meshBody) anyNormal(h *hit) Vec {
	if n := s.tree.triangles[h.slot].unitNormal(); n != (Vec{}) {
		return n
	}
	for _, other := range s.edges.across[s.tree.ids[h.slot]] {
		var t triangle
		t.a, t.b, t.c = s.mesh.Corners(int(other))
		if n := t.unitNormal(); n != (Vec{}) {
			return n
		}
	}
	return Vec{Z: 1}
}
