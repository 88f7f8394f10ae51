package geom

import "math"

// smallComponents tells which triangles belong to pieces of what is sampled, or bubbles in
// it, whose box has a lesser diagonal than size in mm: what a corner of the surface
// that falls between the finest cells leaves behind. Pieces with cuts of facets, or that a copy is to join, are
// small only where they are also thinner than thin, as what stands out of a surface
// that is not quite where it should be. What whole facets join is
// no small component, nor is all there is. It returns nil where there are none.
func (k *surface) smallComponents(size, thin float64) []bool {
	m := k.sampled
	pieces := m.Pieces()
	boxes := make([]Box, len(m.Vertices)) // by root
	for v := range boxes {
		boxes[v] = EmptyBox()
	}
	cut := make([]bool, len(m.Vertices))
	for _, v := range k.openEnds() {
		cut[pieces.Root(v)] = true
	}
	for v, p := range m.Vertices {
		r := pieces.Root(int32(v))
		boxes[r].Min, boxes[r].Max = boxes[r].Min.Min(p), boxes[r].Max.Max(p)
		cut[r] = cut[r] || k.corner[v] != 0
	}
	small, n := make([]bool, len(m.Triangles)), 0
	doubtful := map[int32][]int32{} // triangles of small pieces with cuts of facets, by root
	for i, t := range m.Triangles {
		r := pieces.Root(t[0])
		switch {
		case 2*boxes[r].HalfDiagonal() >= size:
		case cut[r]:
			doubtful[r] = append(doubtful[r], int32(i))
		default:
			small[i] = true
			n++
		}
	}
	for _, list := range doubtful {
		piece := m.part(list)
		if len(piece.openEdges()) > 0 || 2*math.Abs(piece.Volume()) >= thin*piece.Area() {
			continue
		}
		for _, i := range list {
			small[i] = true
		}
		n += len(list)
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
	var facet []int32
	var group []int16
	for i, t := range k.sampled.Triangles {
		if !small[i] {
			kept.Triangles = append(kept.Triangles, t)
			gentle, facet = append(gentle, k.gentle[i]), append(facet, k.facet[i])
			if k.group != nil {
				group = append(group, k.group[i])
			}
		}
	}
	k.sampled, k.gentle, k.facet, k.group = kept, gentle, facet, group
}
