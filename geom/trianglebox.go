package geom

import "math"

// boxFrame is a box by its centre and half sizes, as the tests of a triangle
// against a box want it.
type boxFrame struct {
	box    Box
	centre Vec
	half   Vec
	radius float64 // half diagonal
}

func frameOf(b Box) boxFrame {
	half := b.Size().Mul(0.5)
	return boxFrame{b, b.Centre(), half, half.Norm()}
}

// beyond returns a lower bound of the distance between the box and a convex
// thing of which the way from its point nearest to the centre to the centre
// is given: the thing lies wholly behind the plane through that point at right
// angles to the way.
func (f *boxFrame) beyond(way Vec, length float64) float64 {
	if length == 0 {
		return -f.radius
	}
	return length - (math.Abs(way.X)*f.half.X+math.Abs(way.Y)*f.half.Y+math.Abs(way.Z)*f.half.Z)/length
}

// farthest returns the greatest distance of a point of the box from t. The
// distance to something convex is a convex function, so a corner has it.
func (f *boxFrame) farthest(t *triangle) float64 {
	most := 0.0
	for i := range 8 {
		way, _ := t.closest(f.box.Corner(i))
		most = max(most, way.Dot(way))
	}
	return math.Sqrt(most)
}

// boundsGap returns the distance between the box and t's box.
func (f *boxFrame) boundsGap(t *triangle) float64 {
	b := &f.box
	dx := max(min(t.a.X, t.b.X, t.c.X)-b.Max.X, b.Min.X-max(t.a.X, t.b.X, t.c.X), 0)
	dy := max(min(t.a.Y, t.b.Y, t.c.Y)-b.Max.Y, b.Min.Y-max(t.a.Y, t.b.Y, t.c.Y), 0)
	dz := max(min(t.a.Z, t.b.Z, t.c.Z)-b.Max.Z, b.Min.Z-max(t.a.Z, t.b.Z, t.c.Z), 0)
	return math.Sqrt(dx*dx + dy*dy + dz*dz)
}

// misses reports whether b and t's box are apart.
func (b *Box) misses(t *triangle) bool {
	return max(t.a.X, t.b.X, t.c.X) < b.Min.X || min(t.a.X, t.b.X, t.c.X) > b.Max.X ||
		max(t.a.Y, t.b.Y, t.c.Y) < b.Min.Y || min(t.a.Y, t.b.Y, t.c.Y) > b.Max.Y ||
		max(t.a.Z, t.b.Z, t.c.Z) < b.Min.Z || min(t.a.Z, t.b.Z, t.c.Z) > b.Max.Z
}

// gap returns the greatest distance between the shadows of the box and of t on
// a line, over the 13 directions in which two such shapes can be parted
// (Gottschalk, Lin & Manocha, "OBBTree", SIGGRAPH 1996): a lower bound of the
// distance between them when above 0, and they touch when it is not.
func (f *boxFrame) gap(t *triangle) float64 {
	v := [3]Vec{t.a.Sub(f.centre), t.b.Sub(f.centre), t.c.Sub(f.centre)}
	best := max(
		max(min(v[0].X, v[1].X, v[2].X), -max(v[0].X, v[1].X, v[2].X))-f.half.X,
		max(min(v[0].Y, v[1].Y, v[2].Y), -max(v[0].Y, v[1].Y, v[2].Y))-f.half.Y,
		max(min(v[0].Z, v[1].Z, v[2].Z), -max(v[0].Z, v[1].Z, v[2].Z))-f.half.Z)
	edges := [3]Vec{v[1].Sub(v[0]), v[2].Sub(v[1]), v[0].Sub(v[2])}
	if !t.isFlat() {
		best = max(best, f.gapAlong(edges[0].Cross(edges[1]), &v))
	}
	for i := range edges {
		e := edges[i]
		best = max(best,
			f.gapAlong(Vec{0, -e.Z, e.Y}, &v),
			f.gapAlong(Vec{e.Z, 0, -e.X}, &v),
			f.gapAlong(Vec{-e.Y, e.X, 0}, &v))
	}
	return best
}

// gapAlong returns the gap between the shadows on a line along n, with t's
// corners v relative to the centre.
func (f *boxFrame) gapAlong(n Vec, v *[3]Vec) float64 {
	long := n.Norm()
	if long == 0 {
		return math.Inf(-1)
	}
	a, b, c := n.Dot(v[0]), n.Dot(v[1]), n.Dot(v[2])
	reach := math.Abs(n.X)*f.half.X + math.Abs(n.Y)*f.half.Y + math.Abs(n.Z)*f.half.Z
	return (max(min(a, b, c), -max(a, b, c)) - reach) / long
}

// polygon is a triangle cut by the six faces of a box: at most one corner more
// for each.
type polygon struct {
	at [9]Vec
	n  int
}

// clip returns the part of t in b (Sutherland & Hodgman, Comm. ACM 17(1),
// 1974).
func (t *triangle) clip(b *Box) polygon {
	p := polygon{n: 3}
	p.at[0], p.at[1], p.at[2] = t.a, t.b, t.c
	var h [9]float64 // height of each corner above a face of b
	below := func(height func(v *Vec) float64) bool {
		some := false
		for i := range p.at[:p.n] {
			h[i] = height(&p.at[i])
			some = some || h[i] < 0
		}
		return some
	}
	if below(func(v *Vec) float64 { return v.X - b.Min.X }) {
		p.cut(&h)
	}
	if below(func(v *Vec) float64 { return b.Max.X - v.X }) {
		p.cut(&h)
	}
	if below(func(v *Vec) float64 { return v.Y - b.Min.Y }) {
		p.cut(&h)
	}
	if below(func(v *Vec) float64 { return b.Max.Y - v.Y }) {
		p.cut(&h)
	}
	if below(func(v *Vec) float64 { return v.Z - b.Min.Z }) {
		p.cut(&h)
	}
	if below(func(v *Vec) float64 { return b.Max.Z - v.Z }) {
		p.cut(&h)
	}
	return p
}

// cut keeps the part where the height, given at the corners, is not below 0.
func (p *polygon) cut(h *[9]float64) {
	was := p.at
	last, n := p.n-1, p.n
	p.n = 0
	for i := range n {
		if (h[i] < 0) != (h[last] < 0) {
			p.add(was[last].Lerp(was[i], h[last]/(h[last]-h[i])))
		}
		if h[i] >= 0 {
			p.add(was[i])
		}
		last = i
	}
}

// add leaves out what cannot be: a tenth corner, of rounding.
func (p *polygon) add(v Vec) {
	if p.n < len(p.at) {
		p.at[p.n] = v
		p.n++
	}
}

// areaNormal returns the normal as long as the area.
func (p *polygon) areaNormal() Vec {
	var sum Vec
	for i := 2; i < p.n; i++ {
		sum = sum.Add(p.at[i-1].Sub(p.at[0]).Cross(p.at[i].Sub(p.at[0])))
	}
	return sum.Mul(0.5)
}
