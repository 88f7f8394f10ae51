package moldbox

import (
	"cmp"
	"math"
	"slices"

	"halfpour/geom"
)

// obstacles are solids to keep clear of.
type obstacles []geom.Solid

// distance returns how far p is from the nearest, as far as the solids say;
// +Inf when there are none. A solid whose box is farther than the best so far
// is not asked.
func (o obstacles) distance(p geom.Vec) float64 {
	first, least := -1, math.Inf(1)
	for i, s := range o {
		if d := s.BoundingBox().Distance(p); d < least {
			first, least = i, d
		}
	}
	if first < 0 {
		return least
	}
	best := o[first].Evaluate(p)
	for i, s := range o {
		if i != first && s.BoundingBox().Distance(p) < best {
			best = math.Min(best, s.Evaluate(p))
		}
	}
	return best
}

// free reports whether every obstacle is at least gap from the straight way
// between a and b, to 0.05 mm.
func (o obstacles) free(a, b geom.Vec, gap float64) bool {
	length := a.Dist(b)
	for s := 0.0; ; {
		d := o.distance(a.Lerp(b, math.Min(1, s/math.Max(length, 1e-9)))) - gap
		if d < -0.05 {
			return false
		}
		if s >= length {
			return true
		}
		s += math.Max(d, 0.1)
	}
}

// nearness is how near two solids come to each other.
type nearness struct {
	gap float64  // below 0 when they overlap: the width of the widest ball in both
	at  geom.Vec // in the middle of the gap
}

// nearTol is how certain nearest is, mm.
const nearTol = 0.04

// nearest looks for the point that is nearest to both solids, when they come
// nearer to each other than within. It is certain to nearTol as far as the
// solids' values are.
func nearest(a, b geom.Solid, within float64) (nearness, bool) {
	return nearestTo(a, b, within, nearTol)
}

// nearestTo is nearest, certain to tol: what it finds is at most tol above the
// least gap. A coarse answer takes far less time.
func nearestTo(a, b geom.Solid, within, tol float64) (nearness, bool) {
	box := a.BoundingBox().Grow(within / 2).Intersect(b.BoundingBox().Grow(within / 2))
	if box.IsEmpty() {
		return nearness{}, false
	}
	s := &nearSearch{bar: within / 2, least: tol / 2}
	s.look(nearCell{a, b, box, math.Inf(-1)})
	return s.best, s.found
}

// nearSearch halves boxes in which a point may be nearer to both solids than
// the best so far.
type nearSearch struct {
	best  nearness
	found bool
	bar   float64 // what the farther solid of a point must be nearer than
	least float64
}

// nearCell is a box with the solids as they are in it; none of its points is
// nearer to both than low.
type nearCell struct {
	a, b geom.Solid
	box  geom.Box
	low  float64
}

func (s *nearSearch) look(first nearCell) {
	todo := []nearCell{first}
	for len(todo) > 0 {
		j := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if j.low >= s.bar {
			continue
		}
		a, b, mid := geom.Trim(j.a, j.box), geom.Trim(j.b, j.box), j.box.Centre()
		from := len(todo)
		for i := range 8 {
			kid := nearCell{a, b, geom.BoxOf(j.box.Corner(i), mid), 0}
			if s.promises(&kid) {
				todo = append(todo, kid)
			}
		}
		// The most promising is looked at next.
		slices.SortStableFunc(todo[from:], func(p, q nearCell) int { return cmp.Compare(q.low, p.low) })
	}
}

// promises values a cell at its middle and reports whether it may hold a
// nearer point still.
func (s *nearSearch) promises(c *nearCell) bool {
	at, r := c.box.Centre(), c.box.HalfDiagonal()
	v := c.a.Evaluate(at)
	if v-r >= s.bar {
		return false
	}
	v = math.Max(v, c.b.Evaluate(at))
	if v < s.bar {
		s.best, s.found, s.bar = nearness{2 * v, at}, true, v-s.least
	}
	c.low = v - r
	return c.low < s.bar && r >= s.least
}
