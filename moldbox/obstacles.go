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

// nearness is how near two solids come to each other.
type nearness struct {
	gap float64  // below 0 when they overlap: the width of the widest ball in both
	at  geom.Vec // in the middle of the gap
}

// nearest looks for the point that is nearest to both solids, when they come
// nearer to each other than within. It is certain to 0.04 mm as far as the
// solids' values are.
func nearest(a, b geom.Solid, within float64) (nearness, bool) {
	box := a.BoundingBox().Grow(within / 2).Intersect(b.BoundingBox().Grow(within / 2))
	if box.IsEmpty() {
		return nearness{}, false
	}
	type job struct {
		a, b geom.Solid
		box  geom.Box
	}
	const least = 0.02
	var best nearness
	found, bar := false, within/2 // what a point must be below
	todo := []job{{a, b, box}}
	for len(todo) > 0 {
		j := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		c, r := j.box.Centre(), j.box.HalfDiagonal()
		v := math.Max(j.a.Evaluate(c), j.b.Evaluate(c))
		if v < bar {
			best, found, bar = nearness{2 * v, c}, true, v-least
		}
		if v-r >= bar || r < least {
			continue
		}
		for i := 7; i >= 0; i-- {
			kid := geom.BoxOf(j.box.Corner(i), c)
			todo = append(todo, job{geom.Trim(j.a, kid), geom.Trim(j.b, kid), kid})
		}
	}
	return best, found
}
