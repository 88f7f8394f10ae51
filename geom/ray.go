package geom

import "math"

// FirstHit returns where a ray first meets the mesh, and false where it meets
// none of its triangles. Triangles are met from either side; way may have any
// length. Where the ray runs along an edge it may pass between two triangles.
func (m *TriMesh) FirstHit(from, way Vec) (Vec, bool) {
	nearest := math.Inf(1)
	for t := range m.Triangles {
		a, b, c := m.Corners(t)
		if at, ok := hitTriangle(from, way, a, b, c); ok && at < nearest {
			nearest = at
		}
	}
	return from.Add(way.Mul(nearest)), !math.IsInf(nearest, 1)
}

// hitTriangle is how many times way it takes from a place to a triangle (Möller and
// Trumbore, 1997).
func hitTriangle(from, way, a, b, c Vec) (float64, bool) {
	u, v := b.Sub(a), c.Sub(a)
	p := way.Cross(v)
	det := u.Dot(p)
	if det == 0 {
		return 0, false
	}
	s := from.Sub(a)
	x := s.Dot(p) / det
	q := s.Cross(u)
	y := way.Dot(q) / det
	at := v.Dot(q) / det
	return at, x >= 0 && y >= 0 && x+y <= 1 && at > 0
}

// NearestCut returns the place nearest to p on the outline that a plane cuts out of
// the mesh, and false where it cuts none. The plane is n·x = d.
func (m *TriMesh) NearestCut(n Vec, d float64, p Vec) (Vec, bool) {
	best, found := Vec{}, math.Inf(1)
	for t := range m.Triangles {
		a, b, c := m.Corners(t)
		low, high, ok := cutTriangle(n, d, a, b, c)
		if !ok {
			continue
		}
		along := high.Sub(low)
		share := 0.0
		if long := along.Dot(along); long > 0 {
			share = math.Max(0, math.Min(1, p.Sub(low).Dot(along)/long))
		}
		at := low.Add(along.Mul(share))
		if off := at.Sub(p).Norm(); off < found {
			best, found = at, off
		}
	}
	return best, !math.IsInf(found, 1)
}

// cutTriangle is the stretch of a plane in a triangle.
func cutTriangle(n Vec, d float64, corners ...Vec) (from, to Vec, ok bool) {
	var ends []Vec
	for i, p := range corners {
		q := corners[(i+1)%len(corners)]
		x, y := n.Dot(p)-d, n.Dot(q)-d
		if (x < 0) != (y < 0) {
			ends = append(ends, p.Lerp(q, x/(x-y)))
		}
	}
	if len(ends) != 2 {
		return Vec{}, Vec{}, false
	}
	return ends[0], ends[1], true
}
