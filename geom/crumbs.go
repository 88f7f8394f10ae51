package geom

// crumbs tells which triangles belong to pieces of what is drawn, or bubbles in
// it, whose box has a lesser diagonal than size in mm: what a corner of the skin
// that falls between the finest cells leaves behind. What whole facets join is
// no crumb, nor is all there is. It returns nil where there are none.
func (k *skin) crumbs(size float64) []bool {
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
	crumb, n := make([]bool, len(m.Triangles)), 0
	for i, t := range m.Triangles {
		if r := pieces.Root(t[0]); !joined[r] && 2*boxes[r].HalfDiagonal() < size {
			crumb[i] = true
			n++
		}
	}
	if n == 0 || n == len(crumb) { // a whole solid may be as small
		return nil
	}
	return crumb
}

// drop leaves out triangles of what is drawn.
func (k *skin) drop(crumb []bool) {
	if crumb == nil {
		return
	}
	kept := &TriMesh{Vertices: k.drawn.Vertices}
	var gentle, piece []bool
	for i, t := range k.drawn.Triangles {
		if !crumb[i] {
			kept.Triangles = append(kept.Triangles, t)
			gentle, piece = append(gentle, k.gentle[i]), append(piece, k.piece[i])
		}
	}
	k.drawn, k.gentle, k.piece = kept, gentle, piece
}
