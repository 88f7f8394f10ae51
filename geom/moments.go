package geom

// moments are the integrals over a region of 1, of place and of its products:
// mm³, mm⁴ and mm⁵.
type moments struct {
	volume float64
	first  Vec // ∫x, ∫y, ∫z
	square Vec // ∫x², ∫y², ∫z²
	cross  Vec // ∫yz, ∫zx, ∫xy
}

// addCone adds the tetrahedron of the origin and a, b, c, negatively where
// they turn clockwise seen from the origin's far side. The mean over a
// tetrahedron of the product of two linear functions is a twentieth of the sum
// of their products at the corners and of the product of their sums.
func (m *moments) addCone(a, b, c Vec) {
	v := a.Dot(b.Cross(c)) / 6
	s := a.Add(b).Add(c)
	m.volume += v
	m.first = m.first.Add(s.Mul(v / 4))
	k := v / 20
	m.square = m.square.Add(Vec{
		a.X*a.X + b.X*b.X + c.X*c.X + s.X*s.X,
		a.Y*a.Y + b.Y*b.Y + c.Y*c.Y + s.Y*s.Y,
		a.Z*a.Z + b.Z*b.Z + c.Z*c.Z + s.Z*s.Z,
	}.Mul(k))
	m.cross = m.cross.Add(Vec{
		a.Y*a.Z + b.Y*b.Z + c.Y*c.Z + s.Y*s.Z,
		a.Z*a.X + b.Z*b.X + c.Z*c.X + s.Z*s.X,
		a.X*a.Y + b.X*b.Y + c.X*c.Y + s.X*s.Y,
	}.Mul(k))
}

// add adds n.
func (m *moments) add(n *moments) {
	m.volume += n.volume
	m.first = m.first.Add(n.first)
	m.square = m.square.Add(n.square)
	m.cross = m.cross.Add(n.cross)
}

// scale multiplies by k.
func (m *moments) scale(k float64) {
	m.volume *= k
	m.first, m.square, m.cross = m.first.Mul(k), m.square.Mul(k), m.cross.Mul(k)
}

// moved returns the moments of the region moved by d.
func (m *moments) moved(d Vec) moments {
	v, f := m.volume, m.first
	return moments{
		volume: v,
		first:  f.Add(d.Mul(v)),
		square: m.square.Add(Vec{
			d.X * (2*f.X + d.X*v),
			d.Y * (2*f.Y + d.Y*v),
			d.Z * (2*f.Z + d.Z*v),
		}),
		cross: m.cross.Add(Vec{
			d.Y*f.Z + d.Z*f.Y + d.Y*d.Z*v,
			d.Z*f.X + d.X*f.Z + d.Z*d.X*v,
			d.X*f.Y + d.Y*f.X + d.X*d.Y*v,
		}),
	}
}

// ofBox returns the moments of a box about its least corner.
func momentsOfBox(size Vec) moments {
	v := size.X * size.Y * size.Z
	return moments{
		volume: v,
		first:  size.Mul(v / 2),
		square: Vec{size.X * size.X, size.Y * size.Y, size.Z * size.Z}.Mul(v / 3),
		cross:  Vec{size.Y * size.Z, size.Z * size.X, size.X * size.Y}.Mul(v / 4),
	}
}
