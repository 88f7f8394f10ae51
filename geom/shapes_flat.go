package geom

import "math"

// HalfSpace returns the points with n·p < d. A normal that is not of unit
// length is taken with d to the same scale; a zero one gives an empty solid.
// The box is infinite except where n points along an axis.
func HalfSpace(n Vec, d float64) Solid {
	l := n.Norm()
	if !(l > 0) {
		return nothing{}
	}
	if l != 1 {
		n, d = direction(n), d/l
	}
	return &halfSpace{n, d}
}

type halfSpace struct {
	n Vec
	d float64
}

func (s *halfSpace) Evaluate(p Vec) float64 { return s.n.Dot(p) - s.d }

func (s *halfSpace) BoundingBox() Box {
	b := everywhere()
	switch s.n {
	case Vec{X: 1}:
		b.Max.X = s.d
	case Vec{Y: 1}:
		b.Max.Y = s.d
	case Vec{Z: 1}:
		b.Max.Z = s.d
	case Vec{X: -1}:
		b.Min.X = -s.d
	case Vec{Y: -1}:
		b.Min.Y = -s.d
	case Vec{Z: -1}:
		b.Min.Z = -s.d
	}
	return b
}

// everywhere is the box that holds all of space.
func everywhere() Box {
	inf := math.Inf(1)
	return Box{Vec{-inf, -inf, -inf}, Vec{inf, inf, inf}}
}

func (s *halfSpace) Range(b Box) Interval {
	least, most := b.Max, b.Min
	pick := func(n, lo, hi float64) (float64, float64) {
		if n < 0 {
			return hi, lo
		}
		return lo, hi
	}
	least.X, most.X = pick(s.n.X, b.Min.X, b.Max.X)
	least.Y, most.Y = pick(s.n.Y, b.Min.Y, b.Max.Y)
	least.Z, most.Z = pick(s.n.Z, b.Min.Z, b.Max.Z)
	return Interval{s.Evaluate(least), s.Evaluate(most)}
}

func (s *halfSpace) Gradient(p Vec) (float64, Vec) { return s.Evaluate(p), s.n }
func (s *halfSpace) Slab(Box) (Slab, bool)         { return Slab{N: s.n, D: s.d}, true }

func (s *halfSpace) place(p Transform) Solid {
	n := p.Direction(s.n)
	return &halfSpace{n, p.k*s.d + n.Dot(p.move)}
}

func (s *halfSpace) offset(d float64) Solid { return &halfSpace{s.n, s.d + d} }

// Block returns the box as a solid with sharp edges, of exact distance. An
// empty box gives an empty solid.
func Block(b Box) Solid {
	if !(b.Min.X <= b.Max.X && b.Min.Y <= b.Max.Y && b.Min.Z <= b.Max.Z) {
		return nothing{}
	}
	return &block{b}
}

type block struct{ box Box }

func (s *block) BoundingBox() Box { return s.box }

func (s *block) Evaluate(p Vec) float64 { return blockDistance(s.beyond(p)) }

// beyond returns how far p is past the nearer face on each axis.
func (s *block) beyond(p Vec) Vec {
	return Vec{
		max(s.box.Min.X-p.X, p.X-s.box.Max.X),
		max(s.box.Min.Y-p.Y, p.Y-s.box.Max.Y),
		max(s.box.Min.Z-p.Z, p.Z-s.box.Max.Z),
	}
}

// blockDistance grows with each component of q.
func blockDistance(q Vec) float64 {
	if most := max(q.X, q.Y, q.Z); most <= 0 {
		return most
	}
	x, y, z := max(q.X, 0), max(q.Y, 0), max(q.Z, 0)
	return math.Sqrt(x*x + y*y + z*z)
}

func (s *block) Range(b Box) Interval {
	at0, at1 := s.beyond(b.Min), s.beyond(b.Max)
	lo, hi := at0.Min(at1), at0.Max(at1)
	depth := func(lo *float64, from, to, low, high float64) {
		if mid := 0.5 * (from + to); low < mid && mid < high {
			*lo = min(from-mid, mid-to)
		}
	}
	depth(&lo.X, s.box.Min.X, s.box.Max.X, b.Min.X, b.Max.X)
	depth(&lo.Y, s.box.Min.Y, s.box.Max.Y, b.Min.Y, b.Max.Y)
	depth(&lo.Z, s.box.Min.Z, s.box.Max.Z, b.Min.Z, b.Max.Z)
	return Interval{blockDistance(lo), blockDistance(hi)}
}

func (s *block) Gradient(p Vec) (float64, Vec) {
	q := s.beyond(p)
	v := blockDistance(q)
	if v > 0 {
		return v, boxDirection(s.box, p)
	}
	side := func(over, past float64) float64 {
		if over == past {
			return 1
		}
		return -1
	}
	switch v {
	case q.X:
		return v, Vec{X: side(q.X, p.X-s.box.Max.X)}
	case q.Y:
		return v, Vec{Y: side(q.Y, p.Y-s.box.Max.Y)}
	}
	return v, Vec{Z: side(q.Z, p.Z-s.box.Max.Z)}
}

// Slab is the plane of a face when no other face reaches into b.
func (s *block) Slab(b Box) (Slab, bool) {
	faces := s.facesIn(b)
	if b.Intersect(s.box).IsEmpty() || len(faces) != 1 {
		return Slab{}, false
	}
	return Slab{N: faces[0].n, D: faces[0].d}, true
}

// facesIn returns the faces beyond which b reaches, each as the side of it on
// which the block is.
func (s *block) facesIn(b Box) []halfSpace {
	var faces []halfSpace
	for k := range 3 {
		var n Vec
		n.setAlong(k, 1)
		if b.Max.along(k) >= s.box.Max.along(k) {
			faces = append(faces, halfSpace{n, s.box.Max.along(k)})
		}
		if b.Min.along(k) <= s.box.Min.along(k) {
			faces = append(faces, halfSpace{n.Neg(), -s.box.Min.along(k)})
		}
	}
	return faces
}

// PruneBySign keeps the faces in b.
func (s *block) PruneBySign(b Box) (Solid, Interval) {
	r := s.Range(b)
	if r.settled() {
		return s, r
	}
	faces := s.facesIn(b.Grow(2 * settledMargin))
	children := make([]Solid, len(faces))
	for i := range faces {
		children[i] = &faces[i]
	}
	if len(children) == 1 {
		return children[0], r
	}
	return &intersection{children: children, box: s.box}, r
}

func (s *block) place(p Transform) Solid {
	if !p.aligned() {
		return newPlaced(s, p)
	}
	return &block{p.Box(s.box)}
}

func (s *block) exactlyConvex() {}
