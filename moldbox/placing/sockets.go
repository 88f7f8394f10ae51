package placing

import (
	"cmp"
	"math"
	"slices"

	"halfpour/geom"
	"halfpour/geom/unionfind"
)

const (
	probe      = 0.1   // radius of the ball that is laid on the surface, over the head's size
	leastDent  = 0.01  // how far the ball must be kept off, over the size
	dentReach  = 0.045 // between points of one dent
	widestDent = 0.25  // across a socket
	offPlane   = 0.03  // of all of a socket
)

// sockets finds round dents in the flanks, the largest first: places where a
// ball laid on the surface is kept off by the surface round about, and that it
// rises from on all sides. What crosses the plane, as a mouth does or the corner
// of a collar, is none, and no more is a valley.
func (s *surface) sockets(p Plane) []geom.Vec {
	type dent struct {
		spot
		depth float64
	}
	var found []dent
	r := probe * s.size
	for _, q := range s.few(6000) {
		if d := r - s.solid.Evaluate(q.at.Add(q.normal.Mul(r))); d > leastDent*s.size {
			found = append(found, dent{q, d})
		}
	}
	sets := unionfind.New(len(found))
	for i := range found {
		for j := range i {
			if found[i].at.Dist(found[j].at) < dentReach*s.size {
				sets.Join(int32(i), int32(j))
			}
		}
	}
	type group struct {
		at, way geom.Vec // sums
		box     geom.Box
		weight  float64
		near    float64 // to the plane
	}
	groups := make([]group, len(found))
	for i, d := range found {
		g := &groups[sets.Root(int32(i))]
		if g.weight == 0 {
			g.box, g.near = geom.EmptyBox(), math.Inf(1)
		}
		g.at, g.way, g.weight = g.at.Add(d.at.Mul(d.depth)), g.way.Add(d.normal.Mul(d.depth)), g.weight+d.depth
		g.box, g.near = g.box.Include(d.at), math.Min(g.near, math.Abs(d.at.Dot(p.Normal)-p.At))
	}
	groups = slices.DeleteFunc(groups, func(g group) bool {
		return g.weight < 5*leastDent*s.size || g.near < offPlane*s.size || g.box.Size().Norm() > widestDent*s.size ||
			!s.closed(g.at.Mul(1/g.weight), g.way.Unit())
	})
	slices.SortStableFunc(groups, func(a, b group) int { return cmp.Compare(b.weight, a.weight) })
	var places []geom.Vec
	for _, g := range groups {
		places = append(places, g.at.Mul(1/g.weight))
	}
	return places
}

// closed reports whether the surface rises on all sides of a dent.
func (s *surface) closed(at, out geom.Vec) bool {
	floor := s.height(at, out)
	e1, e2 := beside(out)
	const sides = 16
	low := 0
	for k := range sides {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / sides)
		way, rim := e1.Mul(cos).Add(e2.Mul(sin)), math.Inf(-1)
		for far := 0.02; far < widestDent/2; far += 0.01 {
			rim = math.Max(rim, s.height(at.Add(way.Mul(far*s.size)), out))
		}
		if rim-floor < leastDent*s.size {
			low++
		}
	}
	return low <= 1
}

// height is how far over a place the surface is, along a direction; far below
// where it is not.
func (s *surface) height(at, out geom.Vec) float64 {
	for h := widestDent * s.size; h > -widestDent*s.size; {
		d := s.solid.Evaluate(at.Add(out.Mul(h)))
		if d < 1e-3*s.size {
			return h
		}
		h -= d
	}
	return -s.size
}
