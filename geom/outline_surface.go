package geom

import (
	"math"
	"sort"
)

// outlineSurface answers how far a point of the plane is from the boundary of an
// outline, negative inside. It is exact but for rounding: the sign is that of
// the nearest edge or vertex, so that a part of the edges gives the same
// answer wherever it holds the nearest one.
type outlineSurface struct {
	tree *edgeTree
	out  []Vec2    // unit normals of the edges, out of the filled side
	ends [][2]int8 // per edge and end: the sign of what a vertex is nearest to
	deep bool      // stands for a place so far inside that no edge matters
}

func newOutlineSurface(es []edge2) *outlineSurface {
	s := &outlineSurface{tree: newEdgeTree(es), out: make([]Vec2, len(es)), ends: vertexSigns(es)}
	for i, e := range es {
		d := e.b.Sub(e.a)
		s.out[i] = Vec2{d.Y, -d.X}.Mul(1 / d.Norm())
	}
	return s
}

// vertexSigns finds for each end of each edge which side has the room beyond
// it. Points that are nearest to a vertex lie in the one sector between
// neighbouring edges there that is wider than π, or but for rounding as wide:
// 1 when it is empty, -1 when it is filled. It is 0 when there is no such
// sector, or two as where an edge goes straight on: then the side of the edge
// tells.
func vertexSigns(es []edge2) [][2]int8 {
	type spoke struct {
		angle  float64
		filled bool // on its left, seen from the vertex
		edge   int
		end    int
	}
	at := map[Vec2][]spoke{}
	for i, e := range es {
		d := e.b.Sub(e.a)
		at[e.a] = append(at[e.a], spoke{math.Atan2(d.Y, d.X), true, i, 0})
		at[e.b] = append(at[e.b], spoke{math.Atan2(-d.Y, -d.X), false, i, 1})
	}
	signs := make([][2]int8, len(es))
	for _, fan := range at {
		sort.Slice(fan, func(i, j int) bool { return fan[i].angle < fan[j].angle })
		sign, wide := int8(0), 0
		for i, s := range fan {
			next := fan[(i+1)%len(fan)].angle
			if i+1 == len(fan) {
				next += 2 * math.Pi
			}
			if next-s.angle > math.Pi-1e-6 {
				wide++
				sign = 1
				if s.filled {
					sign = -1
				}
			}
		}
		if wide != 1 {
			sign = 0
		}
		for _, s := range fan {
			signs[s.edge][s.end] = sign
		}
	}
	return signs
}

// distance returns the signed distance of p; +Inf when there is no edge.
func (s *outlineSurface) distance(p Vec2) float64 {
	d, _ := s.gradient(p)
	return d
}

// gradient returns the signed distance and the unit direction in which it grows.
func (s *outlineSurface) gradient(p Vec2) (float64, Vec2) {
	if s.deep {
		return math.Inf(-1), Vec2{1, 0}
	}
	i, d2 := s.tree.nearest(p)
	if i < 0 {
		return math.Inf(1), Vec2{1, 0}
	}
	e, n := s.tree.edges[i], s.out[i]
	side := p.Sub(e.a).Dot(n)
	q, t := e.at(p)
	sign := math.Copysign(1, side)
	if t > 0 && t < 1 {
		return sign * math.Sqrt(d2), n
	}
	end := s.ends[i][0]
	if t == 1 {
		end = s.ends[i][1]
	}
	if end != 0 {
		sign = float64(end)
	}
	d := math.Sqrt(d2)
	if d < 1e-12 { // the direction from the vertex is rounding there
		return sign * d, n
	}
	return sign * d, p.Sub(q).Mul(sign / d)
}

// values returns an interval that holds every distance in r.
func (s *outlineSurface) values(r rect) Interval {
	if s.deep {
		return Interval{math.Inf(-1), math.Inf(-1)}
	}
	c, h := s.distance(r.centre()), r.halfDiagonal()
	lo, hi := c-h, c+h
	if math.IsInf(c, 1) || lo <= 0 && hi >= 0 {
		far := s.reach(r)
		lo, hi = max(lo, -far), min(hi, far)
	}
	if gap := s.gap(r); gap > 0 && c > 0 {
		lo = max(lo, gap)
	} else if gap > 0 {
		hi = min(hi, -gap)
	}
	pad := 1e-12 * (1 + math.Abs(c) + h) // rounding
	return Interval{lo - pad, hi + pad}
}

// gap returns the least distance between r and an edge.
func (s *outlineSurface) gap(r rect) float64 {
	least := math.Inf(1)
	s.tree.prune(
		func(box rect) bool { return rectGap(box, r) < least },
		func(i int) { least = min(least, s.tree.edges[i].gap(r)) })
	return least
}

// reach returns a distance within which every point of r has an edge: the
// least, over the edges, of the farthest that any point of r is from it.
func (s *outlineSurface) reach(r rect) float64 {
	least := math.Inf(1)
	s.tree.prune(
		func(box rect) bool {
			far := 0.0
			for k := range 4 {
				far = max(far, box.distance2(r.corner(k)))
			}
			return math.Sqrt(far) < least
		},
		func(i int) { least = min(least, s.tree.edges[i].reach(r)) })
	return least
}

// pruneByValue returns a surface that answers the same within r, to the last bit, from
// the edges that can be nearest there. It returns s when too few would go to
// be worth a new tree.
func (s *outlineSurface) pruneByValue(r rect) *outlineSurface {
	far := s.reach(r) * (1 + 1e-9)
	var keep []int
	s.tree.prune(
		func(box rect) bool { return rectGap(box, r) <= far },
		func(i int) {
			if s.tree.edges[i].gap(r) <= far {
				keep = append(keep, i)
			}
		})
	if s.deep || 3*len(keep) > 2*len(s.out) {
		return s
	}
	sort.Ints(keep) // the least number wins a tie, here as there
	part := &outlineSurface{}
	es := make([]edge2, len(keep))
	for k, i := range keep {
		es[k] = s.tree.edges[i]
		part.out = append(part.out, s.out[i])
		part.ends = append(part.ends, s.ends[i])
	}
	part.tree = newEdgeTree(es)
	return part
}

// slab says between which two parallel lines the surface crosses r, as Slab
// does: N·p-d < -w is inside. It knows one when there is a surface in r and the
// outermost corners of r agree.
func (s *outlineSurface) slab(r rect) (n Vec2, d, w float64, ok bool) {
	var met []int
	s.tree.visit(r, func(i int) {
		if s.tree.edges[i].gap(r) == 0 {
			met = append(met, i)
			n = n.Add(s.out[i].Mul(s.tree.edges[i].clip(r)))
		}
	})
	if s.deep || len(met) == 0 || n.Norm() == 0 {
		return n, 0, 0, false
	}
	if len(met) == 1 {
		n = s.out[met[0]]
		d = n.Dot(s.tree.edges[met[0]].a)
	} else {
		n = n.Mul(1 / n.Norm())
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, i := range met {
			a, b := s.tree.edges[i].clipped(r)
			lo = min(lo, min(n.Dot(a), n.Dot(b)))
			hi = max(hi, max(n.Dot(a), n.Dot(b)))
		}
		d, w = (lo+hi)/2, (hi-lo)/2*(1+1e-9)+1e-12 // rounding
	}
	return n, d, w, s.slabHolds(r, n, d, w, met)
}

// slabHolds checks the two parts of r beyond the slab. Each is convex and has
// no surface in it, so that its outermost corner speaks for all of it.
func (s *outlineSurface) slabHolds(r rect, n Vec2, d, w float64, met []int) bool {
	if w == 0 { // one edge: it must run right through
		e := s.tree.edges[met[0]]
		return !r.contains(e.a) && !r.contains(e.b)
	}
	for k := range 4 {
		p := r.corner(k)
		h := n.Dot(p) - d
		if h < -w && s.distance(p) >= 0 || h > w && s.distance(p) <= 0 {
			return false
		}
	}
	return true
}
