package geom

import "math"

// Torus returns the points within tube of the circle of radius ring round the
// axis through centre, of exact distance. A zero axis or a negative radius
// gives an empty solid.
func Torus(centre, axis Vec, ring, tube float64) Solid {
	axis = direction(axis)
	if !(ring >= 0 && tube >= 0) || axis == (Vec{}) {
		return nothing{}
	}
	if ring == 0 {
		return Ball(centre, tube)
	}
	return &torus{axisFrame{centre, axis}, ring, tube}
}

type torus struct {
	axisFrame
	ring, tube float64
}

func (s *torus) BoundingBox() Box { return discBox(s.origin, s.axis, s.ring).Grow(s.tube) }

func (s *torus) Evaluate(p Vec) float64 {
	d := p.Sub(s.origin)
	h := d.Dot(s.axis)
	return math.Hypot(d.Sub(s.axis.Mul(h)).Norm()-s.ring, h) - s.tube
}

func (s *torus) Gradient(p Vec) (float64, Vec) {
	radius, h, out := s.at(p)
	d := out.Mul(radius - s.ring).Add(s.axis.Mul(h))
	l := d.Norm()
	return l - s.tube, unitOr(d, l, s.axis)
}

func (s *torus) Range(b Box) Interval {
	c, reach := b.Centre(), b.HalfDiagonal()
	radius, _, _ := s.at(c)
	h := magnitudes(s.heights(b))
	off := magnitudes(Interval{max(0, radius-reach) - s.ring, radius + reach - s.ring})
	pad := rounding * (reach + s.ring + c.Dist(s.origin))
	wide := Interval{math.Hypot(off.Lo, h.Lo) - s.tube - pad, math.Hypot(off.Hi, h.Hi) - s.tube + pad}
	return wide.Intersect(lipschitzRange(s, b))
}

// magnitudes returns the range of |x|.
func magnitudes(x Interval) Interval {
	return Interval{max(0, max(x.Lo, -x.Hi)), max(x.Hi, -x.Lo)}
}

// Slab rests on the circle's reach: a tube of radius r round it is touched from
// outside by balls of radius ring-r everywhere (Federer, "Curvature measures",
// Trans. AMS 93, 1959).
func (s *torus) Slab(b Box) (Slab, bool) {
	v, n := s.Gradient(b.Centre())
	return contact{v, n, s.tube, s.ring - s.tube, b.HalfDiagonal()}.slab(b)
}

func (s *torus) place(p Transform) Solid {
	return &torus{s.axisFrame.placed(p), p.k * s.ring, p.k * s.tube}
}

func (s *torus) offset(d float64) Solid {
	if s.tube+d < 0 {
		return nil
	}
	return &torus{s.axisFrame, s.ring, s.tube + d}
}

// TubeArc returns a bent wire with ball ends, of exact distance: the points
// within tube of the arc that start describes when it turns about the axis
// through centre by sweep radians, right-handed; a negative sweep turns the
// other way, one of 2π or more closes the ring. What start has along the axis
// is dropped.
func TubeArc(centre, axis, start Vec, sweep, tube float64) Solid {
	axis = direction(axis)
	d := start.Sub(centre)
	d = d.Sub(axis.Mul(d.Dot(axis)))
	ring := d.Norm()
	half := math.Abs(sweep) / 2
	if !(tube >= 0 && half >= 0) || axis == (Vec{}) {
		return nothing{}
	}
	if half >= math.Pi || ring == 0 {
		return Torus(centre, axis, ring, tube)
	}
	if sweep < 0 {
		axis = axis.Neg()
	}
	out := direction(d)
	along := axis.Cross(out)
	sin, cos := math.Sincos(half)
	return &tubeArc{
		torus: torus{axisFrame{centre, axis}, ring, tube},
		mid:   out.Mul(cos).Add(along.Mul(sin)),
		side:  along.Mul(cos).Sub(out.Mul(sin)),
		half:  half, cos: cos, sin: sin,
	}
}

// tubeArc is seen from the middle of its arc, about which it is symmetric.
type tubeArc struct {
	torus         // the whole ring
	mid, side Vec // unit vectors from the centre to the middle of the arc, and on along it
	half      float64
	cos, sin  float64 // of half
}

// foot returns the point of the arc nearest to p, and whether it is one of
// the arc's ends.
func (s *tubeArc) foot(p Vec) (q Vec, end bool) {
	d := p.Sub(s.origin)
	u, w := d.Dot(s.mid), d.Dot(s.side)
	radius := math.Hypot(u, w)
	switch {
	case radius == 0: // all of the arc is equally near
		u = s.ring
	case u >= radius*s.cos:
		u, w = u*s.ring/radius, w*s.ring/radius
	default:
		u, w, end = s.ring*s.cos, math.Copysign(s.ring*s.sin, w), true
	}
	return s.origin.Add(s.mid.Mul(u)).Add(s.side.Mul(w)), end
}

func (s *tubeArc) Evaluate(p Vec) float64 {
	q, _ := s.foot(p)
	return p.Dist(q) - s.tube
}

func (s *tubeArc) Gradient(p Vec) (float64, Vec) {
	q, _ := s.foot(p)
	d := p.Sub(q)
	l := d.Norm()
	return l - s.tube, unitOr(d, l, s.axis)
}

func (s *tubeArc) BoundingBox() Box {
	b := EmptyBox()
	for _, e := range [3]Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		for _, far := range [2]Vec{e, e.Neg()} {
			q, _ := s.foot(s.origin.Add(far.Mul(s.ring)))
			b = b.Include(q)
		}
	}
	return b.Grow(s.tube)
}

func (s *tubeArc) Range(b Box) Interval {
	v := lipschitzRange(s, b)
	v.Lo = max(v.Lo, s.torus.Range(b).Lo) // the arc is part of the ring
	return v
}

func (s *tubeArc) Slab(b Box) (Slab, bool) {
	v, n := s.Gradient(b.Centre())
	outer := s.ring - s.tube
	if _, end := s.foot(b.Centre()); end && s.half > math.Pi/2 {
		outer = s.ring*s.sin - s.tube // half the gap between the ends
	}
	return contact{v, n, s.tube, outer, b.HalfDiagonal()}.slab(b)
}

func (s *tubeArc) place(p Transform) Solid {
	t := *s
	t.torus = torus{s.axisFrame.placed(p), p.k * s.ring, p.k * s.tube}
	t.mid, t.side = p.Direction(s.mid), p.Direction(s.side)
	return &t
}

func (s *tubeArc) offset(d float64) Solid {
	if s.tube+d < 0 {
		return nil
	}
	t := *s
	t.tube += d
	return &t
}
