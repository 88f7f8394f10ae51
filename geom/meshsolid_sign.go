package geom

// isInside decides the side of p from the pseudonormal at its nearest point:
// the point is outside when the way to it rises above that normal. The face's
// normal, the sum of both faces' unit normals on an edge and the
// angle-weighted sum at a vertex are right for every closed mesh that does
// not cross itself (Bærentzen & Aanæs, "Signed distance computation using the
// angle weighted pseudonormal", IEEE TVCG 11(3), 2005). Where there is no
// such normal the winding number decides. So it does for a body that crosses itself,
// counted along a line.
func (s *meshBody) isInside(p Vec, h *hit) bool {
	if s.crossed {
		return s.rounds(p) > 0
	}
	n := s.pseudonormal(h)
	if n == (Vec{}) {
		return s.winding.at(p) > 0.5
	}
	return n.Dot(h.way) < 0
}

// rounds returns how often the mesh winds round p, which is not on it: what a line from
// p along the box's shortest side leaves more often than it enters. That is exact, and
// quicker than to add up solid angles.
func (s *meshBody) rounds(p Vec) (n int) {
	size := s.box.Size()
	k := axis(2)
	for i := range axis(2) {
		if size.along(int(i)) < size.along(int(k)) {
			k = i
		}
	}
	end := p
	end.setAlong(int(k), max(p.along(int(k)), s.box.Max.along(int(k))))
	line := Box{p, end}
	s.tree.near(&line, 0, func(slot int32) float64 {
		t := &s.tree.triangles[slot]
		if out := t.turnAbout(k, p); out != 0 && orient3d(t.a, t.b, t.c, p) == out {
			n += out
		}
		return 0
	})
	return n
}

// turnAbout returns 1 where t turns counter-clockwise about the line along k through p,
// -1 clockwise, 0 where the line passes it by; exactly, and so that a line through an
// edge pierces one of its two triangles.
func (t *triangle) turnAbout(k axis, p Vec) int {
	for _, i := range [2]int{int(k+1) % 3, int(k+2) % 3} {
		a, b, c, x := t.a.along(i), t.b.along(i), t.c.along(i), p.along(i)
		if a < x && b < x && c < x || a > x && b > x && c > x {
			return 0
		}
	}
	ab, bc, ca := k.orient2d(t.a, t.b, p), k.orient2d(t.b, t.c, p), k.orient2d(t.c, t.a, p)
	switch {
	case ab*bc < 0 || bc*ca < 0 || ca*ab < 0:
		return 0
	case ab*bc*ca != 0:
		return ab
	}
	if _, ok := t.pierce(int(k), p); ok {
		return k.orient2d(t.a, t.b, t.c)
	}
	return 0
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
		return s.vertexNormal(s.mesh.Triangles[id][h.on-onCorner])
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
