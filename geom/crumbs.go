package geom

// dropCrumbs leaves out pieces of a mesh, and bubbles in it, whose box has a
// lesser diagonal than size in mm: what a corner of the skin that falls
// between the finest cells leaves behind. It also returns the marks of the
// triangles kept.
func dropCrumbs(m *TriMesh, marks []bool, size float64) (*TriMesh, []bool) {
	pieces := newForest(len(m.Vertices))
	for _, t := range m.Triangles {
		pieces.join(t[0], t[1])
		pieces.join(t[1], t[2])
	}
	boxes := map[int32]Box{}
	for _, t := range m.Triangles {
		r := pieces.root(t[0])
		b, seen := boxes[r]
		if !seen {
			b = EmptyBox()
		} else if b.HalfDiagonal() > size {
			continue
		}
		for _, v := range t {
			b = b.Include(m.Vertices[v])
		}
		boxes[r] = b
	}
	crumb := func(t [3]int32) bool { return 2*boxes[pieces.root(t[0])].HalfDiagonal() < size }
	kept := &TriMesh{Vertices: m.Vertices, Triangles: m.Triangles[:0:0]}
	var keptMarks []bool
	for i, t := range m.Triangles {
		if !crumb(t) {
			kept.Triangles = append(kept.Triangles, t)
			keptMarks = append(keptMarks, marks[i])
		}
	}
	if len(kept.Triangles) == 0 || len(kept.Triangles) == len(m.Triangles) {
		return m, marks // a whole solid may be as small
	}
	return kept, keptMarks
}
