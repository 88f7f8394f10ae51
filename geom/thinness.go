package geom

import "math"

// ThinShare is the part of the tolerance from which on a mesh shows what is as thick.
const ThinShare = 0.5

// thinInMesher leaves room between what Mesh leaves out and what counts as thin: the
// cells that OnlyThinMissed looks at lie elsewhere once the mesh is rounded. A ball of
// that diameter holds a corner of the finest cells.
const thinInMesher = 0.3 * ThinShare

// OnlyThinMissed reports whether what a mesh of s misses at p, a point on the
// surface of s, is thinner than thickness, in mm: the tip of a needle or the edge of
// a blade that it does not reach, or of a slit that it closes. mesh is what the mesh
// encloses. No ball of that diameter fits into what is missed within a third of the
// way from p to the mesh, or four thicknesses; that is certain.
func OnlyThinMissed(s, mesh Solid, p Vec, thickness float64) bool {
	if !(math.Abs(s.Evaluate(p)) <= onSurface) {
		return false
	}
	far := mesh.Evaluate(p)
	if far < 0 {
		s = &complement{s}
	}
	b := Box{p, p}.Grow(min(math.Abs(far)/3, 4*thickness))
	s, _ = PruneBySign(s, b)
	return !hasCell(s, b, thickness/math.Sqrt(12))
}

// hasCell reports whether one of the cells of b, which are no larger than size, has
// all its corners in s. A ball three and a half times as wide holds such a cell.
func hasCell(s Solid, b Box, size float64) bool {
	if s.Evaluate(b.Centre()) >= b.HalfDiagonal() {
		return false
	}
	small := b.Max.X-b.Min.X <= size
	for i := range 8 {
		switch corner := b.Corner(i); {
		case small && s.Evaluate(corner) >= 0:
			return false
		case !small && hasCell(s, BoxOf(b.Centre(), corner), size):
			return true
		}
	}
	return small
}

// thickOf returns those of points on the surface of s that are farther than limit
// from the mesh, where what it misses is not thin.
func thickOf(s Solid, m *TriMesh, points []Vec, limit float64) (thick []Vec, err error) {
	mesh, err := NewMeshSolid(m)
	if err != nil {
		return nil, err
	}
	for _, p := range points {
		if !(math.Abs(mesh.Evaluate(p)) <= limit) && !OnlyThinMissed(s, mesh, p, thinInMesher*limit) {
			thick = append(thick, p)
		}
	}
	return thick, nil
}
