package geom

import "math"

// Box is a closed axis-aligned box. It is empty when Max is below Min on any
// axis; the zero value holds just the origin.
type Box struct{ Min, Max Vec }

// EmptyBox returns the box that holds nothing and that Union and Include grow.
func EmptyBox() Box {
	inf := math.Inf(1)
	return Box{Vec{inf, inf, inf}, Vec{-inf, -inf, -inf}}
}

// BoxOf returns the least box around the points.
func BoxOf(ps ...Vec) Box {
	b := EmptyBox()
	for _, p := range ps {
		b = b.Include(p)
	}
	return b
}

// IsEmpty reports whether no point is in the box.
func (b Box) IsEmpty() bool {
	return b.Min.X > b.Max.X || b.Min.Y > b.Max.Y || b.Min.Z > b.Max.Z
}

// Size returns the edge lengths.
func (b Box) Size() Vec { return b.Max.Sub(b.Min) }

// Centre returns the middle.
func (b Box) Centre() Vec { return b.Min.Add(b.Max).Mul(0.5) }

// HalfDiagonal returns the distance from the centre to a corner.
func (b Box) HalfDiagonal() float64 { return 0.5 * b.Size().Norm() }

// Volume returns the volume in mm³, 0 when empty.
func (b Box) Volume() float64 {
	if b.IsEmpty() {
		return 0
	}
	s := b.Size()
	return s.X * s.Y * s.Z
}

// Include returns the least box that also holds p.
func (b Box) Include(p Vec) Box { return Box{b.Min.Min(p), b.Max.Max(p)} }

// Union returns the least box that holds both.
func (b Box) Union(c Box) Box { return Box{b.Min.Min(c.Min), b.Max.Max(c.Max)} }

// Intersect returns the common part, which may be empty.
func (b Box) Intersect(c Box) Box { return Box{b.Min.Max(c.Min), b.Max.Min(c.Max)} }

// Grow returns the box with every face moved outwards by d.
func (b Box) Grow(d float64) Box {
	v := Vec{d, d, d}
	return Box{b.Min.Sub(v), b.Max.Add(v)}
}

// Contains reports whether p is in the box or on its surface.
func (b Box) Contains(p Vec) bool {
	return p.X >= b.Min.X && p.X <= b.Max.X &&
		p.Y >= b.Min.Y && p.Y <= b.Max.Y &&
		p.Z >= b.Min.Z && p.Z <= b.Max.Z
}

// encloses reports whether all of c is in b.
func (b Box) encloses(c Box) bool { return b.Contains(c.Min) && b.Contains(c.Max) }

// Corner returns one of the eight corners: bit 0 of i takes the greater X,
// bit 1 the greater Y, bit 2 the greater Z.
func (b Box) Corner(i int) Vec {
	p := b.Min
	if i&1 != 0 {
		p.X = b.Max.X
	}
	if i&2 != 0 {
		p.Y = b.Max.Y
	}
	if i&4 != 0 {
		p.Z = b.Max.Z
	}
	return p
}

// Distance returns the distance from p to the box, 0 inside.
func (b Box) Distance(p Vec) float64 {
	d := b.Min.Sub(p).Max(p.Sub(b.Max)).Max(Vec{})
	return d.Norm()
}

// FarDistance returns the distance from p to the farthest point of the box.
func (b Box) FarDistance(p Vec) float64 {
	return p.Sub(b.Min).Abs().Max(p.Sub(b.Max).Abs()).Norm()
}
