package geom

import "math"

// gap returns the least distance between e and r, 0 when they meet.
func (e edge2) gap(r rect) float64 {
	if _, _, ok := e.span(r); ok {
		return 0
	}
	least := min(r.distance2(e.a), r.distance2(e.b))
	for k := range 4 {
		p := r.corner(k)
		q, _ := e.at(p)
		v := p.Sub(q)
		least = min(least, v.Dot(v))
	}
	return math.Sqrt(least)
}

// reach returns the farthest that a point of r is from e. Distance to a
// straight piece is convex, so that it is greatest at a corner.
func (e edge2) reach(r rect) float64 {
	most := 0.0
	for k := range 4 {
		p := r.corner(k)
		q, _ := e.at(p)
		most = max(most, p.Sub(q).Norm())
	}
	return most
}

// span returns the part of e within r as a range of 0..1 (Liang & Barsky, ACM
// TOG 3(1), 1984).
func (e edge2) span(r rect) (t0, t1 float64, ok bool) {
	t0, t1 = 0, 1
	d := e.b.Sub(e.a)
	for _, c := range [4][2]float64{
		{-d.X, e.a.X - r.min.X}, {d.X, r.max.X - e.a.X},
		{-d.Y, e.a.Y - r.min.Y}, {d.Y, r.max.Y - e.a.Y},
	} {
		step, room := c[0], c[1]
		switch {
		case step < 0:
			t0 = max(t0, room/step)
		case step > 0:
			t1 = min(t1, room/step)
		case room < 0:
			return 0, 0, false
		}
	}
	return t0, t1, t0 <= t1
}

// clipped returns the ends of the part of e within r, which must meet it.
func (e edge2) clipped(r rect) (Vec2, Vec2) {
	t0, t1, _ := e.span(r)
	d := e.b.Sub(e.a)
	return e.a.Add(d.Mul(t0)), e.a.Add(d.Mul(t1))
}

// clip returns the length of e within r.
func (e edge2) clip(r rect) float64 {
	a, b := e.clipped(r)
	return b.Sub(a).Norm()
}

// rectGap returns the distance between two rectangles, 0 when they meet.
func rectGap(r, s rect) float64 {
	dx := max(0, max(r.min.X-s.max.X, s.min.X-r.max.X))
	dy := max(0, max(r.min.Y-s.max.Y, s.min.Y-r.max.Y))
	return math.Hypot(dx, dy)
}
