package geom

import "math"

// Frustum returns the cone frustum with flat caps of radius ra at a and rb at
// b, of exact distance. Either radius may be 0; equal ones make a cylinder.
// Where a is b, or a radius is negative, the solid is empty.
func Frustum(a, b Vec, ra, rb float64) Solid {
	length := a.Dist(b)
	if !(length > 0 && ra >= 0 && rb >= 0) {
		return nothing{}
	}
	slant := math.Hypot(length, ra-rb)
	return &frustum{
		axisFrame: axisFrame{a, direction(b.Sub(a))},
		end:       b, length: length, ra: ra, rb: rb,
		slant: slant, nr: length / slant, nh: (ra - rb) / slant,
	}
}

type frustum struct {
	axisFrame
	end            Vec
	length, ra, rb float64
	slant          float64 // length of the side
	nr, nh         float64 // the side's normal, outwards and along the axis
}

func (s *frustum) BoundingBox() Box {
	return discBox(s.origin, s.axis, s.ra).Union(discBox(s.end, s.axis, s.rb))
}

// side returns the distance from the cone that the side is part of.
func (s *frustum) side(radius, h float64) float64 { return (radius-s.ra)*s.nr + h*s.nh }

// profile returns the signed distance at a point of the half-plane through
// the axis, and the direction in which it grows there.
func (s *frustum) profile(radius, h float64) (v, gr, gh float64) {
	v, gr, gh = s.side(radius, h), s.nr, s.nh
	if -h > v {
		v, gr, gh = -h, 0, -1
	}
	if h-s.length > v {
		v, gr, gh = h-s.length, 0, 1
	}
	if v <= 0 {
		return v, gr, gh
	}
	// Outside, the nearest point is on the side's segment or on a cap.
	along := (h*s.nr - (radius-s.ra)*s.nh) / s.slant
	along = min(max(along, 0), 1)
	dr, dh := radius-s.ra-along*(s.rb-s.ra), h-along*s.length
	best := dr*dr + dh*dh
	nearer := func(r, over float64) {
		off := max(0, radius-r)
		if d := off*off + over*over; d < best {
			best, dr, dh = d, off, over
		}
	}
	nearer(s.ra, h)
	nearer(s.rb, h-s.length)
	if v = math.Sqrt(best); v > 1e-12 {
		gr, gh = dr/v, dh/v
	}
	return v, gr, gh
}

func (s *frustum) Evaluate(p Vec) float64 {
	d := p.Sub(s.origin)
	h := d.Dot(s.axis)
	v, _, _ := s.profile(d.Sub(s.axis.Mul(h)).Norm(), h)
	return v
}

func (s *frustum) Gradient(p Vec) (float64, Vec) {
	radius, h, out := s.at(p)
	v, gr, gh := s.profile(radius, h)
	return v, out.Mul(gr).Add(s.axis.Mul(gh))
}

func (s *frustum) Range(b Box) Interval { return convexRange(s, b) }

func (s *frustum) Slab(b Box) (Slab, bool) {
	h := s.heights(b)
	low, high := h.Lo <= 0, h.Hi >= s.length
	if !low && !high {
		return s.sideSlab(b, h)
	}
	if low && high || h.Hi < 0 || h.Lo > s.length || s.sideMost(b, h) >= 0 {
		return Slab{}, false
	}
	if low {
		return Slab{N: s.axis.Neg(), D: -s.axis.Dot(s.origin)}, true
	}
	return Slab{N: s.axis, D: s.axis.Dot(s.end)}, true
}

// sideMost bounds the side's value on b from above; h is b's range of heights.
func (s *frustum) sideMost(b Box, h Interval) float64 {
	radius, at, _ := s.at(b.Centre())
	most := s.side(radius, at) + b.HalfDiagonal()
	return min(most, max(s.side(radius+b.HalfDiagonal(), h.Lo), s.side(radius+b.HalfDiagonal(), h.Hi)))
}

// sideSlab holds where b lies between the caps. Across a generator the cone
// holds, at each of the generator's points, the disc of the ball inscribed
// there, whose radius is the cone's there divided by nr.
func (s *frustum) sideSlab(b Box, h Interval) (Slab, bool) {
	radius, at, out := s.at(b.Centre())
	v := s.side(radius, at)
	n := out.Mul(s.nr).Add(s.axis.Mul(s.nh))
	generator := s.axis.Mul(s.nr).Sub(out.Mul(s.nh))
	// The foot of the centre is v back along n; b reaches along the
	// generator on both sides of it.
	reach := tangentReach(b, generator)
	foot := s.ra + (s.rb-s.ra)*(at-v*s.nh)/s.length
	least := foot - reach*math.Abs(s.nh)
	return contact{v, n, least / s.nr, math.Inf(1), tangentReach(b, s.axis.Cross(out))}.slab(b)
}

func (s *frustum) place(p Transform) Solid {
	return Frustum(p.Point(s.origin), p.Point(s.end), p.k*s.ra, p.k*s.rb)
}

func (s *frustum) exactlyConvex() {}
