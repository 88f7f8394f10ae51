package geom

// dropCrumbs leaves out pieces of what is drawn, and bubbles in it, whose box
// has a lesser diagonal than size in mm: what a corner of the skin that falls
// between the finest cells leaves behind. What whole facets join stays.
func (k *skin) dropCrumbs(size float64) {
	m := k.drawn
	pieces := m.Pieces()
	boxes := make([]Box, len(m.Vertices)) // by root
	for v := range boxes {
		boxes[v] = EmptyBox()
	}
	joined := make([]bool, len(m.Vertices))
	for v, p := range m.Vertices {
		r := pieces.Root(int32(v))
		boxes[r].Min, boxes[r].Max = boxes[r].Min.Min(p), boxes[r].Max.Max(p)
		joined[r] = joined[r] || k.corner[v] != 0
	}
	crumb := func(t [3]int32) bool {
		r := pieces.Root(t[0])
		return !joined[r] && 2*boxes[r].HalfDiagonal() < size
	}
	kept := &TriMesh{Vertices: m.Vertices, Triangles: m.Triangles[:0:0]}
	var gentle, piece []bool
	for i, t := range m.Triangles {
		if !crumb(t) {
			kept.Triangles = append(kept.Triangles, t)
			gentle, piece = append(gentle, k.gentle[i]), append(piece, k.piece[i])
		}
	}
	if len(kept.Triangles) > 0 { // a whole solid may be as small
		k.drawn, k.gentle, k.piece = kept, gentle, piece
	}
}
