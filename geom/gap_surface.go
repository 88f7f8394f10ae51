package geom

import (
	"math"

	"halfpour/geom/heap"
)

// surfaceSearch looks for the place on the surface of one solid at which another's
// value is least.
type surfaceSearch struct {
	boxes heap.Heap[gapBox]
	bar   float64 // mm: the least gap seen
	tol   float64 // mm: by how much a box must promise less; 0: leastGapTol or 4 %
	at    Vec     // beside the surface, where that was seen
	found bool
}

func (s *surfaceSearch) slack() float64 {
	if s.tol > 0 {
		return s.tol
	}
	return max(leastGapTol, 0.04*s.bar)
}

// run searches, and returns what no gap is less than in any box that was left.
func (s *surfaceSearch) run(a, b Solid) (floor float64) {
	box := b.BoundingBox().Intersect(a.BoundingBox().Grow(s.bar))
	if box.IsEmpty() {
		return math.Inf(1)
	}
	s.look(a, b, box)
	for n := 0; s.boxes.Len() > 0; n++ {
		g := s.boxes.Pop()
		if g.lo >= s.bar-s.slack() && s.found || s.bar <= 0 || n == mostGapBoxes {
			return g.lo
		}
		b, c := PruneByValue(g.b, g.box), g.box.Centre()
		for i := range 8 {
			s.look(a, b, BoxOf(g.box.Corner(i), c))
		}
	}
	return math.Inf(1)
}

// look values a box at its middle and keeps it if b's surface may come nearer to a
// in it than was seen.
func (s *surfaceSearch) look(a, b Solid, box Box) {
	c, r := box.Centre(), box.HalfDiagonal()
	off := math.Abs(b.Evaluate(c))
	if off > r {
		return
	}
	v := a.Evaluate(c) // a is far as a rule: it is not pruned
	lo := v - r - r/8
	if lo >= s.bar {
		return
	}
	// The surface is no farther from c than off, if that is a distance.
	if v+off < s.bar {
		s.bar, s.at, s.found = v+off, c, true
	}
	if lo < s.bar-s.slack() || !s.found {
		s.boxes.Push(gapBox{b: b, box: box, lo: lo})
	}
}
