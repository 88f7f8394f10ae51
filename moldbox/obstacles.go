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

// valueNear returns the value of a solid at p, or, where its box alone is farther than
// reach, how far that is.
func valueNear(s geom.Solid, p geom.Vec, reach float64) float64 {
	if d := s.BoundingBox().Distance(p); d > reach {
		return d
	}
	return s.Evaluate(p)
}

// clearance knows how far the last place asked about was from obstacles: that
// often decides a place beside it.
type clearance struct {
	at    geom.Vec
	far   float64
	known bool
}

// of reports whether p is at least gap from all obstacles.
func (c *clearance) of(o obstacles, p geom.Vec, gap float64) bool {
	if c.known {
		moved := p.Dist(c.at)
		if c.far-moved >= gap {
			return true
		}
		if c.far+moved < gap {
			return false
		}
	}
	*c = clearance{p, o.distance(p), true}
	return c.far >= gap
}

// free reports whether every obstacle is at least gap from the straight way
// between a and b, to 0.05 mm.
func (o obstacles) free(a, b geom.Vec, gap float64) bool {
	length := a.Dist(b)
	at := func(s float64) float64 { return o.distance(a.Lerp(b, s/math.Max(length, 1e-9))) - gap }
	for _, d := range geom.March(at, 0, length, at(0), 0.1) {
		if d < -0.05 {
			return false
		}
	}
	return true
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
	g, ok := geom.Narrowest(a, b, within, nearTol)
	if !ok || g.Width >= within {
		return nearness{}, false
	}
	return nearness{g.Width - g.Overlap, g.Middle()}, true
}
