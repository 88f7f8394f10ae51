package geom

import (
	"context"

	"halfpour/geom/parallel"
)

// This file walks the octree's smallest shared edges and faces, as Ju,
// Losasso, Schaefer & Warren do in "Dual contouring of Hermite data"
// (SIGGRAPH 2002): a recursion over neighbours, so that no cell needs to know
// where its neighbours are.

// edgeVisitor sees each edge of the tree that no cell splits further, with the
// four cells round it: cell q is on the greater side along axis+1 for bit 0,
// along axis+2 for bit 1. A larger cell may stand for two of the four.
type edgeVisitor func(cells [4]*cell, axis int, size int32)

// faceVisitor sees each face of the tree that no cell splits further, with the
// cell on the lesser and on the greater side along axis.
type faceVisitor func(cells [2]*cell, axis int, size int32)

// walkCheck is how large a cell must be, in the finest cells, for its walk to
// look whether it should go on.
const walkCheck = 64 * seekFiner

// walker ends early when its context does.
type walker struct {
	ctx  context.Context
	edge edgeVisitor
	face faceVisitor
}

func (v *walker) cell(c *cell, size int32) {
	if c.children == nil || size >= walkCheck && v.ctx.Err() != nil {
		return
	}
	half := size / 2
	for i := range c.children {
		v.cell(&c.children[i], half)
	}
	v.between(c, half)
}

// between walks what the children of c, of size half, share.
func (v *walker) between(c *cell, half int32) {
	for axis := 0; axis < 3; axis++ {
		u, w := (axis+1)%3, (axis+2)%3
		if v.face != nil {
			for q := 0; q < 4; q++ {
				k := (q&1)<<u | (q>>1)<<w
				v.faces([2]*cell{&c.children[k], &c.children[k|1<<axis]}, axis, half)
			}
		}
		if v.edge != nil {
			for a := 0; a < 2; a++ {
				var around [4]*cell
				for q := range around {
					around[q] = &c.children[a<<axis|(q&1)<<u|(q>>1)<<w]
				}
				v.edges(around, axis, half)
			}
		}
	}
	if v.edge != nil {
		v.faceEdges(c, half)
	}
}

// walkPart is a part of a walk over the tree: that of a cell, or of what its children
// share.
type walkPart struct {
	cell   *cell
	size   int32
	shared bool
}

// walkLevels is how far down the tree a walk is parted.
const walkLevels = 4

// parts adds those of the walk of c, in its order, down to a level.
func (c *cell) parts(size int32, levels int, list []walkPart) []walkPart {
	if c.children == nil || levels == 0 {
		return append(list, walkPart{c, size, false})
	}
	for i := range c.children {
		list = c.children[i].parts(size/2, levels-1, list)
	}
	return append(list, walkPart{c, size / 2, true})
}

// walkParts walks all parts on the workers, in any order; walkerOf makes the walker of
// the part of a number. It fails as its context.
func (t *octree) walkParts(ctx context.Context, workers int, parts []walkPart, walkerOf func(i int) walker) error {
	return parallel.For(ctx, len(parts), workers, func(i int) {
		w := walkerOf(i)
		if p := parts[i]; p.shared {
			w.between(p.cell, p.size)
		} else {
			w.cell(p.cell, p.size)
		}
	})
}

// faceEdges walks the edges that lie in the faces between the children of c.
func (v *walker) faceEdges(c *cell, half int32) {
	for axis := 0; axis < 3; axis++ {
		u, w := (axis+1)%3, (axis+2)%3
		for q := 0; q < 4; q++ {
			k := (q&1)<<u | (q>>1)<<w
			v.edgesInFace([2]*cell{&c.children[k], &c.children[k|1<<axis]}, axis, half)
		}
	}
}

// edgesInFace walks the edges inside the face between two cells.
func (v *walker) edgesInFace(c [2]*cell, axis int, size int32) {
	if c[0].children == nil && c[1].children == nil {
		return
	}
	u, w := (axis+1)%3, (axis+2)%3
	half := size / 2
	for q := 0; q < 4; q++ {
		k := (q&1)<<u | (q>>1)<<w
		v.edgesInFace([2]*cell{childOr(c[0], k|1<<axis), childOr(c[1], k)}, axis, half)
	}
	// The cross in the middle of the face: edges along u and along w.
	for a := 0; a < 2; a++ {
		// Round an edge along u, bit 0 is the side along w and bit 1 along axis.
		v.edges([4]*cell{
			childOr(c[0], a<<u|1<<axis), childOr(c[0], a<<u|1<<w|1<<axis),
			childOr(c[1], a<<u), childOr(c[1], a<<u|1<<w),
		}, u, half)
		// Round an edge along w, bit 0 is the side along axis and bit 1 along u.
		v.edges([4]*cell{
			childOr(c[0], a<<w|1<<axis), childOr(c[1], a<<w),
			childOr(c[0], a<<w|1<<u|1<<axis), childOr(c[1], a<<w|1<<u),
		}, w, half)
	}
}

func (v *walker) faces(c [2]*cell, axis int, size int32) {
	if c[0].children == nil && c[1].children == nil {
		v.face(c, axis, size)
		return
	}
	u, w := (axis+1)%3, (axis+2)%3
	for q := 0; q < 4; q++ {
		k := (q&1)<<u | (q>>1)<<w
		v.faces([2]*cell{childOr(c[0], k|1<<axis), childOr(c[1], k)}, axis, size/2)
	}
}

func (v *walker) edges(c [4]*cell, axis int, size int32) {
	if c[0].children == nil && c[1].children == nil && c[2].children == nil && c[3].children == nil {
		v.edge(c, axis, size)
		return
	}
	u, w := (axis+1)%3, (axis+2)%3
	for a := 0; a < 2; a++ {
		var next [4]*cell
		for q := range next {
			next[q] = childOr(c[q], a<<axis|(1-q&1)<<u|(1-q>>1)<<w)
		}
		v.edges(next, axis, size/2)
	}
}

// childOr returns child k of c, or c itself when it has none.
func childOr(c *cell, k int) *cell {
	if c.children == nil {
		return c
	}
	return &c.children[k]
}
