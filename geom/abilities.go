package geom

// The optional abilities of a solid. Each makes meshing and measuring cheaper
// or sharper and none changes what comes out; they are found by type
// assertion through the functions of the same name below.
type (
	// Ranger gives an interval that holds every value on b. It may be loose,
	// never wrong.
	Ranger interface{ Range(b Box) Interval }

	// Trimmer gives a solid whose Evaluate equals the receiver's at every
	// point of b (to the last bit), and that is cheaper to ask.
	Trimmer interface{ Trim(b Box) Solid }

	// Grader gives the value together with the direction in which it grows:
	// a unit vector, on the skin the outward normal. Where the skin has an
	// edge it is the normal of one of the sides.
	Grader interface{ Grade(p Vec) (float64, Vec) }

	// Slabber gives a Slab that holds on b, or false when it knows none. A
	// false says nothing; a true must be right.
	Slabber interface{ Slab(b Box) (Slab, bool) }

	// Narrower gives a solid that is inside and outside at the same points of
	// b as the receiver, and whose values may differ otherwise, with an
	// interval that tells the sides: above 0 only where all of b is outside,
	// below 0 only where all of it is inside. Unlike Trim it may drop every
	// part whose skin is not in b: the octree lives by it.
	Narrower interface{ Narrow(b Box) (Solid, Interval) }

	// Landmarker calls visit with the points in b at which the skin may leave
	// what samples elsewhere suggest, such as the vertices of a mesh, perhaps
	// more than once. In a combination some of them are not on the skin of the
	// whole.
	Landmarker interface{ Landmarks(b Box, visit func(Vec)) }

	// Able is a solid that has them all.
	Able interface {
		Solid
		Ranger
		Trimmer
		Grader
		Slabber
		Narrower
		Landmarker
	}
)

// What is made of other solids, or of a mesh, hands on every ability.
var _ = []Able{(*union)(nil), (*intersection)(nil), (*complement)(nil), (*smoothUnion)(nil), (*shifted)(nil), (*placed)(nil),
	(*MeshSolid)(nil), (*meshBody)(nil), (*trimmedMesh)(nil)}

// Slab says where the skin of a solid can be within a box: every point of the
// box with N·p-D < -W is inside the solid, every point with N·p-D > W is
// outside it. N is a unit vector; W is half the thickness, in mm, 0 when the
// skin is a plane there.
type Slab struct {
	N    Vec
	D, W float64
}

// Range returns an interval that holds every value of s on b.
func Range(s Solid, b Box) Interval {
	if r, ok := s.(Ranger); ok {
		return r.Range(b)
	}
	return lipschitzRange(s, b)
}

// lipschitzRange follows from law 1 alone.
func lipschitzRange(s Solid, b Box) Interval {
	v, r := s.Evaluate(b.Centre()), b.HalfDiagonal()
	return Interval{v - r, v + r}
}

// Trim returns a solid equal to s everywhere on b, usually cheaper.
func Trim(s Solid, b Box) Solid {
	if t, ok := s.(Trimmer); ok {
		return t.Trim(b)
	}
	return s
}

// Grade returns the value at p and the unit direction in which it grows. For
// a solid that does not say, the direction comes from differences over 1e-5 mm.
func Grade(s Solid, p Vec) (float64, Vec) {
	if g, ok := s.(Grader); ok {
		return g.Grade(p)
	}
	const h = 1e-5
	d := func(e Vec) float64 { return s.Evaluate(p.Add(e)) - s.Evaluate(p.Sub(e)) }
	g := Vec{d(Vec{X: h}), d(Vec{Y: h}), d(Vec{Z: h})}
	return s.Evaluate(p), g.Unit()
}

// SlabOf returns a slab that holds for s on b, if s knows one.
func SlabOf(s Solid, b Box) (Slab, bool) {
	if l, ok := s.(Slabber); ok {
		return l.Slab(b)
	}
	return Slab{}, false
}

// Narrow returns a solid that agrees with s in sign at every point of b,
// usually cheaper to ask, and an interval that tells the sides of b.
func Narrow(s Solid, b Box) (Solid, Interval) {
	if n, ok := s.(Narrower); ok {
		return n.Narrow(b)
	}
	return trimmedOn(s, b)
}

// trimmedOn narrows a solid by Range and Trim.
func trimmedOn(s Solid, b Box) (Solid, Interval) {
	r := Range(s, b)
	if r.settled() {
		return s, r
	}
	return Trim(s, b), r
}

// Landmarks visits the landmarks of s in b, if it has any.
func Landmarks(s Solid, b Box, visit func(Vec)) {
	if l, ok := s.(Landmarker); ok {
		l.Landmarks(b, visit)
	}
}

// Landmarks visits those of the children.
func (s *union) Landmarks(b Box, visit func(Vec)) {
	for _, k := range s.kids {
		Landmarks(k, b, visit)
	}
}

// Landmarks visits those of the children.
func (s *intersection) Landmarks(b Box, visit func(Vec)) {
	for _, k := range s.kids {
		Landmarks(k, b, visit)
	}
}

// Landmarks visits those of the solid outside of which this is.
func (s *complement) Landmarks(b Box, visit func(Vec)) { Landmarks(s.s, b, visit) }

// Landmarks visits the images of the original's.
func (s *placed) Landmarks(b Box, visit func(Vec)) {
	Landmarks(s.s, s.original(b), func(p Vec) {
		if q := s.to.Point(p); b.Contains(q) {
			visit(q)
		}
	})
}

// onSkin is how near the skin a landmark is taken to be on it, mm.
const onSkin = 1e-6

// Landmarks visits those of both: outside the fillet they are on the skin.
func (s *smoothUnion) Landmarks(b Box, visit func(Vec)) {
	Landmarks(s.a, b, visit)
	Landmarks(s.b, b, visit)
}

// Landmarks visits none: the skin has left them.
func (s *shifted) Landmarks(Box, func(Vec)) {}

func (s *smoothUnion) Narrow(b Box) (Solid, Interval) { return trimmedOn(s, b) }
func (s *shifted) Narrow(b Box) (Solid, Interval)     { return trimmedOn(s, b) }
