package moldbox

import (
	"container/heap"
	"math"

	"halfpour/geom"
)

// approach returns the least x from which on a solid r that is moved along +X
// by x, or by more, leaves at least gap to l; it is certain, and at most tol mm
// more than need be where the solids' values are distances. All lengths are mm.
//
// It halves boxes round r's skin. Each knows from where on all of it is clear,
// as the values' bounds tell; the one that needs the most is halved first, and
// once that is no more than what some place is known to need, it is the answer.
func approach(l, r geom.Solid, gap, tol float64) float64 {
	s := approaching{l: l, gap: gap}
	box, fixed := r.BoundingBox(), l.BoundingBox()
	s.needs = fixed.Min.X - gap - box.Max.X // below, r stands on the other side
	s.boxes = approachQueue{{r, box, fixed.Max.X + gap - box.Min.X}}
	for range mostApproaches {
		top := heap.Pop(&s.boxes).(approachBox)
		if top.clear <= s.needs+tol {
			return math.Max(top.clear, s.needs)
		}
		s.halve(top)
		if len(s.boxes) == 0 {
			return s.needs
		}
	}
	return math.Max(s.boxes[0].clear, s.needs)
}

// mostApproaches bounds the search where values are no distances.
const mostApproaches = 20000

// approaching is a search under way.
type approaching struct {
	l     geom.Solid
	gap   float64
	needs float64 // some place is too near when r is moved by less than this
	boxes approachQueue
}

// approachBox is a box in the frame of r, and r as it is in it.
type approachBox struct {
	r     geom.Solid
	box   geom.Box
	clear float64 // r's skin in the box leaves the gap from here on
}

// halve looks at the middle of a box and, if r's skin passes through the box,
// at its eighths.
func (s *approaching) halve(b approachBox) {
	mid, r := b.box.Centre(), b.box.HalfDiagonal()
	off := math.Abs(b.r.Evaluate(mid))
	if off > r {
		return
	}
	s.meet(mid, off, b.clear)
	part := geom.Trim(b.r, b.box)
	for i := range 8 {
		kid := approachBox{part, geom.BoxOf(b.box.Corner(i), mid), b.clear}
		if s.slide(&kid); kid.clear > s.needs {
			heap.Push(&s.boxes, kid)
		}
	}
}

// slide moves a box towards l from where it is clear, until what is to spare is
// little for its size.
func (s *approaching) slide(b *approachBox) {
	mid, r := b.box.Centre(), b.box.HalfDiagonal()
	rough := r / 8
	for b.clear > s.needs {
		spare := geom.Rough(s.l, mid.Add(geom.Vec{X: b.clear}), rough) - rough - r - s.gap
		if spare <= 0 {
			return
		}
		if b.clear -= spare; spare < r/2 {
			return
		}
	}
}

// meet moves a place that is no farther than off from r's skin towards l, in a
// few steps, until it is too near there.
func (s *approaching) meet(at geom.Vec, off, x float64) {
	for range 4 {
		if x <= s.needs {
			return
		}
		spare := geom.Rough(s.l, at.Add(geom.Vec{X: x}), off/8) + off - s.gap
		if spare <= 1e-3 {
			s.needs = x - math.Max(0, spare)
			return
		}
		x -= spare
	}
}

// approachQueue is a heap, the box that needs the most on top.
type approachQueue []approachBox

func (q approachQueue) Len() int           { return len(q) }
func (q approachQueue) Less(i, j int) bool { return q[i].clear > q[j].clear }
func (q approachQueue) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *approachQueue) Push(x any)        { *q = append(*q, x.(approachBox)) }
func (q *approachQueue) Pop() any {
	last := len(*q) - 1
	b := (*q)[last]
	*q = (*q)[:last]
	return b
}
