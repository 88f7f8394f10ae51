package geom

import (
	"math"

	"halfpour/geom/heap"
)

// Gap is the least distance between two solids. It is certain to be at least
// Lo, and at most Width, since that is the distance from A to B. All mm.
type Gap struct {
	Lo, Width float64
	A, B      Vec // on the two surfaces; where the solids overlap, twice a place in both

	// Overlap, above 0, is the width of the widest ball in both, as certain as
	// the gap would be; Lo and Width are then 0.
	Overlap float64
}

// Middle returns the place half way across.
func (g Gap) Middle() Vec { return g.A.Lerp(g.B, 0.5) }

// Narrowest returns the gap between two solids if it is less than within, with
// Lo and Width no farther apart than tol mm (0: 0.02 or 4 %, whichever is more)
// where the solids' values are distances and no more than mostGapBoxes boxes are
// needed. It halves boxes round the surface of b, the most promising first, and
// drops those in which the values' bounds leave no room for a narrower gap, so
// that none is missed.
func Narrowest(a, b Solid, within, tol float64) (Gap, bool) {
	s := surfaceSearch{bar: within, tol: tol}
	floor := s.run(a, b)
	switch {
	case s.found && s.bar > 0:
		gap := Gap{Lo: max(0, min(floor, s.bar-s.slack())), A: footOn(a, s.at), B: s.at}
		if gap.close(a, b); b.Evaluate(gap.A) >= -s.slack() {
			return gap, true
		}
	case !s.found && b.BoundingBox().Union(a.BoundingBox()) != b.BoundingBox():
		return Gap{}, false
	}
	return widestOverlap(a, b, within, tol) // or one within the other
}

// close goes from surface to surface by the nearest way: never longer.
func (g *Gap) close(a, b Solid) {
	for range 20 {
		g.B = footOn(b, g.A)
		next := footOn(a, g.B)
		if next.Dist(g.A) < 1e-4 {
			break
		}
		g.A = next
	}
	g.Width = g.A.Dist(g.B)
}

// widestOverlap looks for the place that is deepest in both solids: there the
// greater of the two values is least.
func widestOverlap(a, b Solid, within, tol float64) (Gap, bool) {
	s := depthSearch{bar: within / 2, tol: tol / 2}
	s.add(a, b, a.BoundingBox().Intersect(b.BoundingBox()))
	for n := 0; s.boxes.Len() > 0 && n < mostGapBoxes; n++ {
		g := s.boxes.Pop()
		if g.lo >= s.bar-s.slack() {
			break
		}
		c := g.box.Centre()
		for i := range 8 {
			s.add(g.a, g.b, BoxOf(g.box.Corner(i), c))
		}
	}
	if !s.found {
		return Gap{}, false
	}
	return Gap{A: s.at, B: s.at, Overlap: max(0, -2*s.bar)}, true
}

// leastGapTol is how certain a gap is when nothing else is asked, mm.
const leastGapTol = 0.02

// mostGapBoxes bounds the search between surfaces that run side by side; Lo is
// then lower than it could be, but right.
const mostGapBoxes = 20000

// footOn walks down to the surface of a solid.
func footOn(s Solid, p Vec) Vec {
	for range 8 {
		v, n := Gradient(s, p)
		if math.Abs(v) < 1e-5 {
			break
		}
		p = p.Sub(n.Mul(v))
	}
	return p
}

// depthSearch looks for the point at which the greater of two values is least.
type depthSearch struct {
	boxes heap.Heap[gapBox]
	bar   float64 // the least seen
	tol   float64
	at    Vec
	found bool
}

// slack is by how much a box must promise less than what was seen.
func (s *depthSearch) slack() float64 {
	if s.tol > 0 {
		return s.tol
	}
	return max(leastGapTol/2, 0.04*math.Abs(s.bar))
}

// gapBox is a box and the two solids as they are in it.
type gapBox struct {
	a, b Solid
	box  Box
	lo   float64 // of the value looked for
}

// Before puts the box first that may hold the least value.
func (g gapBox) Before(h gapBox) bool { return g.lo < h.lo }

// add looks at the middle of a box and keeps the box if it may hold better.
func (s *depthSearch) add(a, b Solid, box Box) {
	if box.IsEmpty() {
		return
	}
	lo := max(Range(a, box).Lo, Range(b, box).Lo)
	if lo >= s.bar-s.slack() && s.found || lo >= s.bar {
		return
	}
	c, r := box.Centre(), box.HalfDiagonal()
	a, b = PruneByValue(a, box), PruneByValue(b, box)
	v := max(a.Evaluate(c), b.Evaluate(c))
	if v < s.bar {
		s.bar, s.at, s.found = v, c, true
	}
	if lo = max(lo, v-r); lo < s.bar-s.slack() || !s.found && lo < s.bar {
		s.boxes.Push(gapBox{a, b, box, lo})
	}
}
