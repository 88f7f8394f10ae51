package geom

import "math"

// DraftedBlock is a block with rounded vertical edges and sloping sides, as a
// tray's cavity is. Base is its footprint at z = Base.Min.Z and its height.
// Corner is the radius of the edges there, at most half the lesser side. The
// sides lean outwards by Draft radians as z grows, inwards when it is
// negative, |Draft| < π/2; the corner radius grows and shrinks with them,
// down to a sharp edge.
type DraftedBlock struct {
	Base          Box
	Corner, Draft float64
}

// Solid returns the block as a solid. Its value is exact at the sides, at the
// top and at the bottom; at outer edges it under-states the distance. A Base
// without volume or a draft out of range gives an empty solid.
func (d DraftedBlock) Solid() Solid {
	if !(d.Base.Volume() > 0) || !(math.Abs(d.Draft) < math.Pi/2) {
		return nothing{}
	}
	size := d.Base.Size()
	sin, cos := math.Sincos(d.Draft)
	t := &draftedBlock{
		centre: d.Base.Centre(), z0: d.Base.Min.Z, bottom: d.Base.Min.Z, top: d.Base.Max.Z,
		hx: size.X / 2, hy: size.Y / 2,
		sin: sin, cos: cos, tan: sin / cos,
		box: d.Base,
	}
	t.corner = max(0, min(d.Corner, min(t.hx, t.hy)))
	lean := size.Z * t.tan
	if lean < 0 { // the sides may meet below the top
		t.box.Max.Z = min(t.top, t.z0-min(t.hx, t.hy)/t.tan)
	}
	if lean > 0 {
		t.box.Min = t.box.Min.Sub(Vec{lean, lean, 0})
		t.box.Max = t.box.Max.Add(Vec{lean, lean, 0})
	}
	return t
}

type draftedBlock struct {
	centre        Vec
	z0            float64 // of the footprint
	bottom, top   float64 // infinite where only the sides are asked for
	hx, hy        float64 // half the footprint
	corner        float64
	sin, cos, tan float64 // of the draft
	box           Box
}

func (s *draftedBlock) BoundingBox() Box { return s.box }

// side returns the value of the sloping sides and their direction. The
// distance in the plane falls by tan(draft) per mm of height; times cos(draft)
// that is the distance at right angles to the side.
func (s *draftedBlock) side(p Vec) (float64, Vec) {
	x, y := p.X-s.centre.X, p.Y-s.centre.Y
	flat, gx, gy := s.flat(math.Abs(x), math.Abs(y))
	n := Vec{math.Copysign(gx, x) * s.cos, math.Copysign(gy, y) * s.cos, -s.sin}
	return (flat - (p.Z-s.z0)*s.tan) * s.cos, n
}

// flat returns the distance from the base's rounded rectangle at x, y >= 0
// from its middle, and its direction.
func (s *draftedBlock) flat(x, y float64) (d, gx, gy float64) {
	qx, qy := x-s.hx+s.corner, y-s.hy+s.corner
	switch {
	case qx > 0 && qy > 0:
		d = math.Sqrt(qx*qx + qy*qy)
		return d - s.corner, qx / d, qy / d
	case qx > qy:
		return qx - s.corner, 1, 0
	default:
		return qy - s.corner, 0, 1
	}
}

func (s *draftedBlock) Evaluate(p Vec) float64 {
	v, _ := s.side(p)
	v = max(v, s.bottom-p.Z, p.Z-s.top)
	if v > 0 {
		return max(v, s.box.Distance(p)) // law 2 beyond the edges
	}
	return v
}

func (s *draftedBlock) Gradient(p Vec) (float64, Vec) {
	v, n := s.side(p)
	if d := s.bottom - p.Z; d > v {
		v, n = d, Vec{Z: -1}
	}
	if d := p.Z - s.top; d > v {
		v, n = d, Vec{Z: 1}
	}
	if d := s.box.Distance(p); d > v && d > 0 {
		return d, boxDirection(s.box, p)
	}
	return v, n
}

// Range uses that the sides' value grows with the distance from the middle
// along X and along Y, and is linear in height.
func (s *draftedBlock) Range(b Box) Interval {
	x, y := reachOver(b.Min.X, b.Max.X, s.centre.X), reachOver(b.Min.Y, b.Max.Y, s.centre.Y)
	near, _, _ := s.flat(x.Lo, y.Lo)
	far, _, _ := s.flat(x.Hi, y.Hi)
	leanMin, leanMax := (b.Min.Z-s.z0)*s.tan, (b.Max.Z-s.z0)*s.tan
	if s.tan < 0 {
		leanMin, leanMax = leanMax, leanMin
	}
	r := Interval{
		max((near-leanMax)*s.cos, s.bottom-b.Max.Z, b.Min.Z-s.top),
		max((far-leanMin)*s.cos, s.bottom-b.Min.Z, b.Max.Z-s.top),
	}
	r = clipRange(r, s.box, b)
	pad := rounding * (b.Min.Norm() + b.Max.Norm() + s.centre.Norm() + s.hx + s.hy)
	return Interval{r.Lo - pad, r.Hi + pad}
}

func (s *draftedBlock) Slab(b Box) (Slab, bool) {
	low, high := b.Min.Z <= s.bottom, b.Max.Z >= s.top
	if !low && !high {
		return s.sideSlab(b)
	}
	if low && high || b.Max.Z < s.bottom || b.Min.Z > s.top || s.sideMost(b) >= 0 {
		return Slab{}, false
	}
	if low {
		return Slab{N: Vec{Z: -1}, D: -s.bottom}, true
	}
	return Slab{N: Vec{Z: 1}, D: s.top}, true
}

// PruneBySign takes sides, top and bottom apart where more than one is in b, so that
// each edge between them is where two simple surfaces meet.
func (s *draftedBlock) PruneBySign(b Box) (Solid, Interval) {
	r := s.Range(b)
	near := b.Grow(2 * settledMargin)
	var faces []Solid
	if near.Min.Z <= s.bottom {
		faces = append(faces, &halfSpace{Vec{Z: -1}, -s.bottom})
	}
	if near.Max.Z >= s.top {
		faces = append(faces, &halfSpace{Vec{Z: 1}, s.top})
	}
	if r.settled() {
		return s, r
	}
	if s.sideMost(near) >= 0 {
		if l, ok := s.planeIn(near); ok {
			faces = append(faces, &halfSpace{l.N, l.D})
		} else if len(faces) == 0 {
			return s, r
		} else {
			sides := *s
			sides.bottom, sides.top, sides.box = math.Inf(-1), math.Inf(1), everywhere()
			faces = append(faces, &sides)
		}
	}
	switch len(faces) {
	case 0:
		return s, r
	case 1:
		return faces[0], r
	}
	return &intersection{children: faces, box: s.box}, r
}

// sideMost is the greatest value of the sides on b, which is at a corner
// since that value is convex.
func (s *draftedBlock) sideMost(b Box) float64 {
	most := math.Inf(-1)
	for i := range 8 {
		v, _ := s.side(b.Corner(i))
		most = max(most, v)
	}
	return most
}

// sideSlab holds where b lies between top and bottom: the plane of a side
// that is alone in b, or else the balls of the corner's radius, which touch
// the sides from inside everywhere.
func (s *draftedBlock) sideSlab(b Box) (Slab, bool) {
	if l, ok := s.planeIn(b); ok {
		return l, true
	}
	c := b.Centre()
	v, n := s.side(c)
	out := Vec{n.X, n.Y, 0}.Mul(1 / s.cos)
	generator := out.Mul(s.sin).Add(Vec{Z: s.cos})
	// As for a frustum's side: the radius at the foot of the centre, less
	// what the generator loses within b.
	foot := s.corner + (c.Z-s.z0+v*s.sin)*s.tan
	least := foot - tangentReach(b, generator)*math.Abs(s.sin)
	return contact{v, n, least / s.cos, math.Inf(1), tangentReach(b, Vec{-out.Y, out.X, 0})}.slab(b)
}

// planeIn returns the side that is alone in b where that is a plane.
func (s *draftedBlock) planeIn(b Box) (Slab, bool) {
	c := b.Centre()
	x, y := reachOver(b.Min.X, b.Max.X, s.centre.X), reachOver(b.Min.Y, b.Max.Y, s.centre.Y)
	// Where the corner's arc begins, and the faces with their lean, as
	// distances from the middle; both at b's least favourable height.
	leanLo, leanHi := (b.Min.Z-s.z0)*s.tan, (b.Max.Z-s.z0)*s.tan
	lean := min(leanLo, leanHi)
	straightX, straightY := s.hx-s.corner+min(0, s.corner+lean), s.hy-s.corner+min(0, s.corner+lean)
	switch {
	case x.Hi < straightX && y.Lo > 0:
		return s.planeSlab(Vec{Y: math.Copysign(1, c.Y-s.centre.Y)}, s.hy), true
	case y.Hi < straightY && x.Lo > 0:
		return s.planeSlab(Vec{X: math.Copysign(1, c.X-s.centre.X)}, s.hx), true
	}
	return Slab{}, false
}

// planeSlab is the side whose horizontal direction is out.
func (s *draftedBlock) planeSlab(out Vec, half float64) Slab {
	n := out.Mul(s.cos).Add(Vec{Z: -s.sin})
	foot := Vec{s.centre.X, s.centre.Y, s.z0}.Add(out.Mul(half))
	return Slab{N: n, D: n.Dot(foot)}
}

// reachOver returns the range of |x-c| for x in [lo, hi].
func reachOver(lo, hi, c float64) Interval { return magnitudes(Interval{lo - c, hi - c}) }
