package geom

// small components tells which triangles belong to pieces of what is sampled, or bubbles in
// it, whose box has a lesser diagonal than size in mm: what a corner of the surface
// that falls between the finest cells leaves behind. What whole facets join is
// no small component, nor is all there is. It returns nil where there are none.
func (k *surface) smallComponents(size float64) []bool {
	m := k.sampled
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
	small, n := make([]bool, len(m.Triangles)), 0
	for i, t := range m.Triangles {
		if r := pieces.Root(t[0]); !joined[r] && 2*boxes[r].HalfDiagonal() < size {
			small[i] = true
			n++
		}
	}
	if n == 0 || n == len(small) { // a whole solid may be as small
		return nil
	}
	return small
}

// drop leaves out triangles of what is sampled.
func (k *surface) drop(small []bool) {
	if small == nil {
		return
	}
	kept := &TriMesh{Vertices: k.sampled.Vertices}
	var gentle []bool
	for i, t := range k.sampled.Triangles {
		if !small[i] {
			kept.Triangles = append(kept.Triangles, t)
			gentle = append(gentle, k.gentle[i])
		}
	}
	k.sampled, k.gentle = kept, gentle
}
