package geom

import "math"

// Transform moves solids about in space: a turn, perhaps with a mirror, a
// uniform scale and a move. Start from Identity; the zero Transform is not
// one.
type Transform struct {
	x, y, z Vec // images of the unit vectors, orthonormal
	k       float64
	move    Vec
}

// Identity returns the transform that leaves everything where it is.
func Identity() Transform {
	return Transform{x: Vec{X: 1}, y: Vec{Y: 1}, z: Vec{Z: 1}, k: 1}
}

// Move returns the transform that adds v to every point.
func Move(v Vec) Transform {
	p := Identity()
	p.move = v
	return p
}

// Rotate returns the transform that turns about an axis through the origin,
// right-handed, by angle radians. Quarter turns about X, Y and Z come out
// exact. A zero axis turns nothing.
func Rotate(axis Vec, angle float64) Transform {
	n := direction(axis)
	if n == (Vec{}) {
		return Identity()
	}
	sin, cos := math.Sincos(angle)
	if quarter := math.Round(angle / (math.Pi / 2)); math.Abs(angle-quarter*(math.Pi/2)) < 1e-14 {
		sin, cos = math.Round(sin), math.Round(cos)
	}
	turn := func(e Vec) Vec { // Rodrigues' formula
		return e.Mul(cos).Add(n.Cross(e).Mul(sin)).Add(n.Mul(n.Dot(e) * (1 - cos)))
	}
	return FromAxes(turn(Vec{X: 1}), turn(Vec{Y: 1}), turn(Vec{Z: 1}))
}

// Scale returns the transform that scales about the origin by k > 0. Any
// other k scales by 1.
func Scale(k float64) Transform {
	p := Identity()
	if k > 0 && !math.IsInf(k, 1) {
		p.k = k
	}
	return p
}

// MirrorX returns the transform that changes the sign of X.
func MirrorX() Transform { p := Identity(); p.x = Vec{X: -1}; return p }

// MirrorY returns the transform that changes the sign of Y.
func MirrorY() Transform { p := Identity(); p.y = Vec{Y: -1}; return p }

// MirrorZ returns the transform that changes the sign of Z.
func MirrorZ() Transform { p := Identity(); p.z = Vec{Z: -1}; return p }

// FromAxes returns the transform that takes the unit vectors to x, y and z,
// which must be of unit length and at right angles; a left-handed set mirrors.
// What is amiss with them is put right by Gram and Schmidt's method, x first,
// and vectors that do not span space give Identity.
func FromAxes(x, y, z Vec) Transform {
	x = direction(x)
	y = direction(y.Sub(x.Mul(x.Dot(y))))
	cross := x.Cross(y)
	if !(cross.Norm() > 0.5) || cross.Dot(z) == 0 {
		return Identity()
	}
	return Transform{x: x, y: y, z: cross.Mul(math.Copysign(1, cross.Dot(z))), k: 1}
}

// Upright returns the transform that turns the direction up to +Z. Axes go to
// axes, and the zero vector, which has no direction, gives Identity.
func Upright(up Vec) Transform {
	up = direction(up)
	switch {
	case up == (Vec{}) || up == Vec{Z: 1}:
		return Identity()
	case up == Vec{Y: 1}:
		return FromAxes(Vec{Y: 1}, Vec{Z: 1}, Vec{X: 1})
	}
	side := Vec{X: 1}
	if math.Abs(up.X) > 0.6 {
		side = Vec{Y: 1}
	}
	u := direction(side.Sub(up.Mul(up.Dot(side))))
	return FromAxes(u, up.Cross(u), up).Inverse()
}

// Then returns the transform that does p first and q afterwards.
func (p Transform) Then(q Transform) Transform {
	return Transform{
		x: q.Direction(p.x), y: q.Direction(p.y), z: q.Direction(p.z),
		k:    p.k * q.k,
		move: q.Point(p.move),
	}
}

// Point returns the place of v.
func (p Transform) Point(v Vec) Vec { return p.Direction(v).Mul(p.k).Add(p.move) }

// Direction returns v turned and mirrored, neither moved nor scaled.
func (p Transform) Direction(v Vec) Vec {
	return p.x.Mul(v.X).Add(p.y.Mul(v.Y)).Add(p.z.Mul(v.Z))
}

// Factor returns the scale.
func (p Transform) Factor() float64 { return p.k }

// Mirrors reports whether right-handed things become left-handed.
func (p Transform) Mirrors() bool { return p.x.Cross(p.y).Dot(p.z) < 0 }

// Inverse returns the transform that undoes p.
func (p Transform) Inverse() Transform {
	q := Transform{
		x: Vec{p.x.X, p.y.X, p.z.X},
		y: Vec{p.x.Y, p.y.Y, p.z.Y},
		z: Vec{p.x.Z, p.y.Z, p.z.Z},
		k: 1 / p.k,
	}
	q.move = q.Direction(p.move).Mul(-q.k)
	return q
}

// Box returns the least box around the image of b; an infinite b stays as
// infinite as it must.
func (p Transform) Box(b Box) Box {
	if b.IsEmpty() {
		return EmptyBox()
	}
	image := func(x, y, z, move float64) (lo, hi float64) {
		for _, c := range [3][3]float64{
			{x, b.Min.X, b.Max.X}, {y, b.Min.Y, b.Max.Y}, {z, b.Min.Z, b.Max.Z},
		} {
			switch {
			case c[0] > 0:
				lo, hi = lo+c[0]*c[1], hi+c[0]*c[2]
			case c[0] < 0:
				lo, hi = lo+c[0]*c[2], hi+c[0]*c[1]
			}
		}
		return p.k*lo + move, p.k*hi + move
	}
	var c Box
	c.Min.X, c.Max.X = image(p.x.X, p.y.X, p.z.X, p.move.X)
	c.Min.Y, c.Max.Y = image(p.x.Y, p.y.Y, p.z.Y, p.move.Y)
	c.Min.Z, c.Max.Z = image(p.x.Z, p.y.Z, p.z.Z, p.move.Z)
	return c
}

// aligned reports whether the axes go to axes, so that boxes stay boxes.
func (p Transform) aligned() bool {
	one := func(v Vec) bool { v = v.Abs(); return v.X == 1 || v.Y == 1 || v.Z == 1 }
	return one(p.x) && one(p.y) && one(p.z)
}

// placed returns the frame's image.
func (f axisFrame) placed(p Transform) axisFrame {
	return axisFrame{p.Point(f.origin), p.Direction(f.axis)}
}

// placer is a solid that knows its image under a transform.
type placer interface{ place(p Transform) Solid }

// Solid returns the image of s. Its value at a point is the scale times that
// of s at the point's original. A nil s stays nil.
func (p Transform) Solid(s Solid) Solid {
	if s == nil || p == Identity() {
		return s
	}
	if q, ok := s.(placer); ok {
		return q.place(p)
	}
	return newPlaced(s, p)
}

func newPlaced(s Solid, p Transform) Solid {
	return &placed{s: s, to: p, from: p.Inverse(), box: p.Box(s.BoundingBox())}
}

// placed is the image of a solid that does not know it itself.
type placed struct {
	s        Solid
	to, from Transform
	box      Box
}

func (s *placed) BoundingBox() Box        { return s.box }
func (s *placed) Evaluate(p Vec) float64  { return s.to.k * s.s.Evaluate(s.from.Point(p)) }
func (s *placed) place(p Transform) Solid { return s.to.Then(p).Solid(s.s) }

// original returns a box that holds the original of every point of b, also
// after rounding.
func (s *placed) original(b Box) Box { return originalOf(s.from, b) }

func originalOf(from Transform, b Box) Box {
	o := from.Box(b)
	return o.Grow(rounding * (o.Min.Norm() + o.Max.Norm() + from.move.Norm()))
}

func (s *placed) Range(b Box) Interval {
	r := Range(s.s, s.original(b))
	r = Interval{s.to.k * r.Lo, s.to.k * r.Hi}
	if s.to.aligned() {
		return r
	}
	return r.Intersect(lipschitzRange(s, b))
}

func (s *placed) PruneByValue(b Box) Solid {
	part := PruneByValue(s.s, s.original(b))
	if same(part, s.s) {
		return s
	}
	return &placed{part, s.to, s.from, s.box}
}

func (s *placed) Gradient(p Vec) (float64, Vec) {
	v, n := Gradient(s.s, s.from.Point(p))
	return s.to.k * v, s.to.Direction(n)
}

func (s *placed) Slab(b Box) (Slab, bool) {
	l, ok := SlabOf(s.s, s.original(b))
	n := s.to.Direction(l.N)
	return Slab{N: n, D: s.to.k*l.D + n.Dot(s.to.move), W: s.to.k * l.W}, ok
}
