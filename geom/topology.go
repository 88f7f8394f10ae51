package geom

// Topology counts what a closed mesh consists of.
type Topology struct {
	Shells  int // that face outwards
	Hollows int // shells that face inwards
	Handles int // holes through the solid: one of a ring, of all shells together

	ShellAt  Vec // near the second shell, mm
	HollowAt Vec // near the first hollow, mm
}

// TopologyOf counts the shells of a mesh by the volume that each encloses, and
// its handles by Euler's formula: corners - edges + facets = 2·(shells -
// handles). The mesh must be closed, its indices in range; where fans of
// triangles meet in one vertex only, fewer handles come out.
func TopologyOf(m *TriMesh) Topology {
	pieces := m.Pieces()
	volume := make([]float64, len(m.Vertices)) // by root, as TriMesh.Volume
	used := make([]bool, len(m.Vertices))
	facets := 0
	for i, t := range m.Triangles {
		if isCollapsed(t) {
			continue
		}
		facets++
		used[t[0]], used[t[1]], used[t[2]] = true, true, true
		root := pieces.Root(t[0])
		o := m.Vertices[root] // of the piece, so that no digits are lost
		a, b, c := m.Corners(i)
		volume[root] += a.Sub(o).Dot(b.Sub(o).Cross(c.Sub(o)))
	}
	var s Topology
	corners := 0
	for v := range m.Vertices {
		if !used[v] {
			continue
		}
		corners++
		if int(pieces.Root(int32(v))) != v {
			continue
		}
		if volume[v] < 0 {
			if s.Hollows++; s.Hollows == 1 {
				s.HollowAt = m.Vertices[v]
			}
		} else if s.Shells++; s.Shells == 2 {
			s.ShellAt = m.Vertices[v]
		}
	}
	s.Handles = s.Shells + s.Hollows - (corners-facets/2)/2
	return s
}
