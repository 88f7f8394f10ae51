package moldbox

import (
	"math"

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

// nearerThan looks for a point within gap/2 of both solids: it exists when
// they come nearer to each other than gap. It is certain to 0.02 mm as far as
// the solids' values are.
func nearerThan(a, b geom.Solid, gap float64) (geom.Vec, bool) {
	box := a.BoundingBox().Grow(gap / 2).Intersect(b.BoundingBox().Grow(gap / 2))
	if box.IsEmpty() {
		return geom.Vec{}, false
	}
	type job struct {
		a, b geom.Solid
		box  geom.Box
	}
	todo := []job{{a, b, box}}
	for len(todo) > 0 {
		j := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		c, r := j.box.Centre(), j.box.HalfDiagonal()
		v := math.Max(j.a.Evaluate(c), j.b.Evaluate(c)) - gap/2
		if v < 0 {
			return c, true
		}
		if v >= r || r < 0.02 {
			continue
		}
		for i := 7; i >= 0; i-- {
			kid := geom.BoxOf(j.box.Corner(i), c)
			todo = append(todo, job{geom.Trim(j.a, kid), geom.Trim(j.b, kid), kid})
		}
	}
	return geom.Vec{}, false
}
