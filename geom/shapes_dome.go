package geom

import "math"

// Dome returns the cap of height h over a flat base of radius r, of exact
// distance: base is the middle of the flat, and the dome stands on it along
// axis. The sphere it is cut from has radius (r²+h²)/(2h). A height or radius
// that is not above 0, or a zero axis, gives an empty solid.
func Dome(base, axis Vec, r, h float64) Solid {
	axis = direction(axis)
	if !(r > 0 && h > 0) || axis == (Vec{}) {
		return nothing{}
	}
	sphere := (r*r + h*h) / (2 * h)
	return &dome{axisFrame{base, axis}, r, h, sphere, h - sphere}
}

type dome struct {
	axisFrame
	r, h   float64
	sphere float64 // radius
	centre float64 // height of the sphere's centre over the base
}

func (s *dome) BoundingBox() Box {
	b := discBox(s.origin, s.axis, s.r).Include(s.origin.Add(s.axis.Mul(s.h)))
	middle := s.origin.Add(s.axis.Mul(s.centre))
	for _, e := range [3]Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		for _, far := range [2]Vec{e, e.Neg()} { // the sphere's farthest point counts if the cap has it
			if s.centre+s.sphere*far.Dot(s.axis) >= 0 {
				at := b.Centre()
				b = b.Include(at.Add(e.Mul(e.Dot(middle) + s.sphere*e.Dot(far) - e.Dot(at))))
			}
		}
	}
	return b
}

// profile returns the signed distance at a point of the half-plane through
// the axis, and the direction in which it grows there.
func (s *dome) profile(radius, h float64) (v, gr, gh float64) {
	l := math.Hypot(radius, h-s.centre)
	round := l - s.sphere
	switch {
	case h >= 0 && round <= -h, h < 0 && radius <= s.r:
		return -h, 0, -1
	case h >= 0 && round <= 0, s.centre*l+s.sphere*(h-s.centre) >= 0:
		// inside, or the nearest point of the sphere is above the base
		if l < 1e-12 {
			return round, 0, 1
		}
		return round, radius / l, (h - s.centre) / l
	}
	v = math.Hypot(radius-s.r, h) // from the rim
	if v < 1e-12 {
		return v, 0, -1
	}
	return v, (radius - s.r) / v, h / v
}

func (s *dome) Evaluate(p Vec) float64 {
	d := p.Sub(s.origin)
	h := d.Dot(s.axis)
	v, _, _ := s.profile(d.Sub(s.axis.Mul(h)).Norm(), h)
	return v
}

func (s *dome) Gradient(p Vec) (float64, Vec) {
	radius, h, out := s.at(p)
	v, gr, gh := s.profile(radius, h)
	return v, out.Mul(gr).Add(s.axis.Mul(gh))
}

func (s *dome) Range(b Box) Interval { return convexRange(s, b) }

func (s *dome) Slab(b Box) (Slab, bool) {
	round := ball{s.origin.Add(s.axis.Mul(s.centre)), s.sphere}
	h := s.heights(b)
	if h.Lo > 0 {
		return round.Slab(b)
	}
	if h.Hi < 0 || round.Range(b).Hi >= 0 {
		return Slab{}, false
	}
	return Slab{N: s.axis.Neg(), D: -s.axis.Dot(s.origin)}, true
}

func (s *dome) place(p Transform) Solid {
	return Dome(p.Point(s.origin), p.Direction(s.axis), p.k*s.r, p.k*s.h)
}

func (s *dome) exactlyConvex() {}
