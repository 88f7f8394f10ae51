package moldbox

import (
	"context"
	"math"

	"halfpour/geom"
	"halfpour/geom/heap"
	"halfpour/geom/parallel"
)

// approach returns the least x from which on a solid r that is moved along +X
// by x, or by more, leaves at least gap to l; it is certain, and at most tol mm
// more than need be where the solids' values are distances. All lengths are mm.
//
// It halves boxes round r's surface. Each knows from where on all of it is clear,
// as the values' bounds tell; those that need the most are halved first, some at
// once, and when none needs more than some place is known to, that is the answer.
func approach(ctx context.Context, l, r geom.Solid, gap, tol float64) float64 {
	s := approaching{l: l, gap: gap}
	box, fixed := r.BoundingBox(), l.BoundingBox()
	s.needs = fixed.Min.X - gap - box.Max.X // below, r stands on the other side
	s.boxes.Push(approachBox{r, box, fixed.Max.X + gap - box.Min.X, math.Abs(r.Evaluate(box.Centre()))})
	for range mostApproaches / approachBatch {
		if ctx.Err() != nil || s.boxes.Len() == 0 || s.boxes.First().clear <= s.needs+tol {
			break
		}
		var halved [approachBatch]halvedBox // their number decides nothing else
		n := 0
		for ; n < approachBatch && s.boxes.Len() > 0 && s.boxes.First().clear > s.needs+tol; n++ {
			halved[n] = halvedBox{from: s.boxes.Pop(), needs: s.needs}
		}
		_ = parallel.For(ctx, n, 0, func(i int) { s.halve(&halved[i]) }) // when ctx ends, so does the search
		for i := range n {
			s.needs = math.Max(s.needs, halved[i].needs)
			for _, child := range halved[i].children {
				s.boxes.Push(child)
			}
		}
	}
	if s.boxes.Len() == 0 {
		return s.needs
	}
	return math.Max(s.boxes.First().clear, s.needs)
}

const (
	mostApproaches = 20000 // bounds the search where values are no distances
	approachBatch  = 16    // boxes halved at once
)

// approaching is a search under way.
type approaching struct {
	l     geom.Solid
	gap   float64
	needs float64 // some place is too near when r is moved by less than this
	boxes heap.Heap[approachBox]
}

// approachBox is a box in the frame of r, and r as it is in it.
type approachBox struct {
	r     geom.Solid
	box   geom.Box
	clear float64 // r's surface in the box leaves the gap from here on
	off   float64 // how far that surface is from the box's middle
}

// Before puts the box first that needs the most.
func (b approachBox) Before(c approachBox) bool { return b.clear > c.clear }

// halvedBox is what comes of a box.
type halvedBox struct {
	from     approachBox
	children []approachBox
	needs    float64 // as in approaching
}

// halve looks at the middles of a box and of its eighths through which r's surface
// passes.
func (s *approaching) halve(h *halvedBox) {
	b := h.from
	mid := b.box.Centre()
	h.needs = s.meet(mid, b.off, b.clear, h.needs)
	part := geom.PruneByValue(b.r, b.box)
	for i := range 8 {
		child := approachBox{r: part, box: geom.BoxOf(b.box.Corner(i), mid), clear: b.clear}
		if child.off = math.Abs(part.Evaluate(child.box.Centre())); child.off > child.box.HalfDiagonal() {
			continue
		}
		if s.slide(&child, h.needs); child.clear > h.needs {
			h.children = append(h.children, child)
		}
	}
}

// slide moves a box towards l from where it is clear, until what is to spare is
// little for its size or more than what is needed anyway.
func (s *approaching) slide(b *approachBox, needs float64) {
	mid, r := b.box.Centre(), b.box.HalfDiagonal()
	slack := r / 16 // which keeps rows just where earlier builds of a job have set them
	for b.clear > needs {
		spare := s.l.Evaluate(mid.Add(geom.Vec{X: b.clear})) - slack - r - s.gap
		if spare <= 0 {
			return
		}
		if b.clear -= spare; spare < r/2 {
			return
		}
	}
}

// meet moves a place that is no farther than off from r's surface towards l, in a
// few steps, until it is too near there, and returns what it then needs.
func (s *approaching) meet(at geom.Vec, off, x, needs float64) float64 {
	for range 4 {
		if x <= needs {
			return needs
		}
		spare := s.l.Evaluate(at.Add(geom.Vec{X: x})) + off - s.gap
		if spare <= 1e-3 {
			return x - math.Max(0, spare)
		}
		x -= spare
	}
	return needs
}
