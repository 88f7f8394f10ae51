package geom

import (
	"math"
	"slices"
)

// fillLoops fills what edges enclose, which lies on their left, with triangles of no further
// corners. It returns false where the edges are no loops that keep clear of each other.
func fillLoops(edges [][2]int32, at func(int32) Vec2) ([][3]int32, bool) {
	next := make(map[int32]int32, len(edges))
	for _, e := range edges {
		if _, twice := next[e[0]]; twice {
			return nil, false
		}
		next[e[0]] = e[1]
	}
	var outer, holes []ring
	for _, e := range edges {
		var r ring
		for v, ok := e[0], true; ; {
			to, more := next[v]
			if !more {
				if v == e[0] && ok {
					break // of a loop that is done
				}
				return nil, false
			}
			delete(next, v)
			r = append(r, ringCorner{v, at(v)})
			if v, ok = to, false; v == e[0] {
				break
			}
		}
		switch {
		case len(r) == 0:
		case len(r) < 3:
			return nil, false
		case r.area() > 0:
			outer = append(outer, r)
		default:
			holes = append(holes, r)
		}
	}
	return fillRings(outer, holes)
}

// ring is a closed line of corners, what it encloses on the left.
type ring []ringCorner

type ringCorner struct {
	id int32
	at Vec2
}

func (r ring) area() float64 {
	sum := 0.0
	for i := range r {
		a, b := r[i].at.Sub(r[0].at), r[(i+1)%len(r)].at.Sub(r[0].at)
		sum += a.Cross(b)
	}
	return sum / 2
}

func (r ring) contains(p Vec2) bool {
	n := 0
	for i := range r {
		n += windingStep(r[i].at, r[(i+1)%len(r)].at, p)
	}
	return n != 0
}

// fillRings joins each hole to the ring about it and fills what comes of that.
func fillRings(outer, holes []ring) (list [][3]int32, ok bool) {
	// From the right, so that the way from a hole to what is right of it is free.
	slices.SortStableFunc(holes, func(a, b ring) int {
		switch x, y := a[a.rightmost()].at.X, b[b.rightmost()].at.X; {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	for _, h := range holes {
		k := slices.IndexFunc(outer, func(r ring) bool { return r.contains(h[0].at) })
		if k < 0 {
			return nil, false
		}
		if outer[k], ok = outer[k].joined(h); !ok {
			return nil, false
		}
	}
	for _, r := range outer {
		ears, ok := r.clipEars(nil)
		if !ok {
			return nil, false
		}
		r.turnEdges(ears)
		list = append(list, ears...)
	}
	return list, true
}

// turnEdges turns the edges within a filled ring until no corner is in the circle round a
// triangle beside it (Lawson, Mathematical Software III, 1977): corners that are nearly in
// line come to be of triangles with far ones, and rounding leaves those the right way up.
func (r ring) turnEdges(list [][3]int32) {
	at := make(map[int32]Vec2, len(r))
	for _, c := range r {
		at[c.id] = c.at
	}
	beside := make(map[[2]int32]int, 3*len(list)) // by directed edge: its triangle
	for t, v := range list {
		for i := range v {
			beside[[2]int32{v[i], v[(i+1)%3]}] = t
		}
	}
	for turned, rounds := true, 0; turned && rounds < len(list); rounds++ {
		turned = false
		for t := range list {
			for i := range 3 {
				turned = turnEdge(list, t, i, beside, at) || turned
			}
		}
	}
}

// turnEdge turns edge i of triangle t where that makes better triangles.
func turnEdge(list [][3]int32, t, i int, beside map[[2]int32]int, at map[int32]Vec2) bool {
	a, b, c := list[t][i], list[t][(i+1)%3], list[t][(i+2)%3]
	u, ok := beside[[2]int32{b, a}]
	if !ok {
		return false
	}
	d := list[u][0] + list[u][1] + list[u][2] - a - b
	if !inCircle(at[a], at[b], at[c], at[d]) || turning(at[c], at[a], at[d]) <= 0 || turning(at[d], at[b], at[c]) <= 0 {
		return false
	}
	list[t], list[u] = [3]int32{c, a, d}, [3]int32{d, b, c}
	delete(beside, [2]int32{a, b})
	delete(beside, [2]int32{b, a})
	for _, e := range [3][2]int32{{c, a}, {a, d}, {d, c}} {
		beside[e] = t
	}
	for _, e := range [3][2]int32{{d, b}, {b, c}, {c, d}} {
		beside[e] = u
	}
	return true
}

// inCircle reports whether d is inside the circle through a, b and c by more than rounding.
func inCircle(a, b, c, d Vec2) bool {
	a, b, c = a.Sub(d), b.Sub(d), c.Sub(d)
	x, y, z := a.Dot(a), b.Dot(b), c.Dot(c)
	det := x*b.Cross(c) + y*c.Cross(a) + z*a.Cross(b)
	return det > 1e-12*(x+y+z)*(x+y+z)
}

func (r ring) rightmost() int {
	best := 0
	for i := range r {
		if r[i].at.X > r[best].at.X {
			best = i
		}
	}
	return best
}

// joined goes from a corner that the rightmost corner of a hole sees round the hole and back
// (Eberly, "Triangulation by ear clipping").
func (r ring) joined(hole ring) (ring, bool) {
	m := hole.rightmost()
	p := hole[m].at
	best, hit := -1, math.Inf(1)
	for i := range r {
		a, b := r[i].at, r[(i+1)%len(r)].at
		if a.Y > p.Y || b.Y <= p.Y { // what is enclosed is left of edges that go up
			continue
		}
		x := a.X + (p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X)
		if x >= p.X && x < hit {
			best, hit = i, x
			if b.X > a.X {
				best = (i + 1) % len(r)
			}
		}
	}
	if best < 0 {
		return nil, false
	}
	// A corner within the triangle of p, the hit and that end is in the way: the one
	// nearest in direction is seen.
	seen, q := best, Vec2{hit, p.Y}
	far := r[best].at
	slope := math.Abs(far.Y-p.Y) / max(far.X-p.X, 1e-300)
	for i := range r {
		c := r[i].at
		if i == best || c.X < p.X || !inTriangle(p, q, far, c) || r.reflex(i) == 0 {
			continue
		}
		if s := math.Abs(c.Y-p.Y) / max(c.X-p.X, 1e-300); s < slope {
			seen, slope = i, s
		}
	}
	out := slices.Clone(r[:seen+1])
	out = append(out, hole[m:]...)
	out = append(out, hole[:m+1]...)
	return append(out, r[seen:]...), true
}

// reflex returns 1 where the ring turns right at a corner, else 0.
func (r ring) reflex(i int) int {
	n := len(r)
	if turning(r[(i+n-1)%n].at, r[i].at, r[(i+1)%n].at) < 0 {
		return 1
	}
	return 0
}

func turning(a, b, c Vec2) int {
	return Turning(Vec{X: a.X, Y: a.Y}, Vec{X: b.X, Y: b.Y}, Vec{X: c.X, Y: c.Y})
}

// inTriangle reports whether c is in the triangle, of either turn, or on its edges.
func inTriangle(p, q, r, c Vec2) bool {
	a, b, d := turning(p, q, c), turning(q, r, c), turning(r, p, c)
	return a >= 0 && b >= 0 && d >= 0 || a <= 0 && b <= 0 && d <= 0
}

// clipEars cuts the best ear off, again and again.
func (r ring) clipEars(list [][3]int32) ([][3]int32, bool) {
	r = slices.Clone(r)
	worth := make([]float64, len(r))
	for i := range r {
		worth[i] = r.ear(i)
	}
	again := false
	for len(r) > 3 {
		best := 0
		for i := range worth {
			if worth[i] > worth[best] {
				best = i
			}
		}
		if worth[best] <= 0 && !again {
			// What was in the way of others may be gone.
			for i := range r {
				worth[i] = r.ear(i)
			}
			again = true
			continue
		}
		if worth[best] <= 0 {
			return nil, false
		}
		again = false
		n := len(r)
		list = append(list, [3]int32{r[(best+n-1)%n].id, r[best].id, r[(best+1)%n].id})
		r, worth = slices.Delete(r, best, best+1), slices.Delete(worth, best, best+1)
		n--
		for _, i := range [2]int{(best + n - 1) % n, best % n} {
			worth[i] = r.ear(i)
		}
	}
	if r.ear(0) <= 0 {
		return nil, false
	}
	return append(list, [3]int32{r[0].id, r[1].id, r[2].id}), true
}

// ear returns how good a triangle the corner and its neighbours make, 0 where it is none
// that can be cut off.
func (r ring) ear(i int) float64 {
	n := len(r)
	a, b, c := r[(i+n-1)%n], r[i], r[(i+1)%n]
	if turning(a.at, b.at, c.at) <= 0 {
		return 0
	}
	low := Vec2{min(a.at.X, b.at.X, c.at.X), min(a.at.Y, b.at.Y, c.at.Y)}
	high := Vec2{max(a.at.X, b.at.X, c.at.X), max(a.at.Y, b.at.Y, c.at.Y)}
	for _, p := range r {
		if p.at.X < low.X || p.at.X > high.X || p.at.Y < low.Y || p.at.Y > high.Y {
			continue
		}
		if p.id == a.id || p.id == b.id || p.id == c.id {
			continue
		}
		if inTriangle(a.at, b.at, c.at, p.at) {
			return 0
		}
	}
	u, v, w := b.at.Sub(a.at), c.at.Sub(b.at), a.at.Sub(c.at)
	return u.Cross(v) / max(u.Dot(u), v.Dot(v), w.Dot(w))
}
