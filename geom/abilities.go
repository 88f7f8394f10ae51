package geom

// The optional abilities of a solid. Each makes meshing and measuring cheaper
// or sharper and none changes what comes out; they are found by type
// assertion through the functions of the same name below.
type (
	// Ranger gives an interval that holds every value on b. It may be loose,
	// never wrong.
	Ranger interface{ Range(b Box) Interval }

	// ValuePruner gives a solid whose Evaluate equals the receiver's at every
	// point of b (to the last bit), and that is cheaper to ask.
	ValuePruner interface{ PruneByValue(b Box) Solid }

	// Gradienter gives the value together with the direction in which it grows:
	// a unit vector, on the surface the outward normal. Where the surface has an
	// edge it is the normal of one of the sides.
	Gradienter interface{ Gradient(p Vec) (float64, Vec) }

	// Slabber gives a Slab that holds on b, or false when it knows none. A
	// false says nothing; a true must be right.
	Slabber interface{ Slab(b Box) (Slab, bool) }

	// SignPruner gives a solid that is inside and outside at the same points of
	// b as the receiver, and whose values may differ otherwise, with an
	// interval that tells the sides: above 0 only where all of b is outside,
	// below 0 only where all of it is inside. Unlike PruneByValue it may drop every
	// part whose surface is not in b: the octree lives by it.
	SignPruner interface{ PruneBySign(b Box) (Solid, Interval) }

	// Landmarker calls visit with the points in b at which the surface may leave
	// what samples elsewhere suggest, such as the vertices of a mesh, perhaps
	// more than once. In a combination some of them are not on the surface of the
	// whole.
	Landmarker interface{ Landmarks(b Box, visit func(Vec)) }

	// BeyondEvaluator gives the value at p, or, where that is within near mm of 0, any
	// value that is.
	BeyondEvaluator interface {
		EvaluateBeyond(p Vec, near float64) float64
	}

	// Able is a solid that has them all.
	Able interface {
		Solid
		Ranger
		ValuePruner
		Gradienter
		Slabber
		SignPruner
		Landmarker
		BeyondEvaluator
	}
)

// What is made of other solids, or of a mesh, hands on every ability.
var _ = []Able{(*union)(nil), (*intersection)(nil), (*complement)(nil), (*smoothUnion)(nil), (*shifted)(nil), (*placed)(nil),
	(*MeshSolid)(nil), (*meshBody)(nil), (*prunedMesh)(nil)}

// Slab says where the surface of a solid can be within a box: every point of the
// box with N·p-D < -W is inside the solid, every point with N·p-D > W is
// outside it. N is a unit vector; W is half the thickness, in mm, 0 when the
// surface is a plane there.
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

// PruneByValue returns a solid equal to s everywhere on b, usually cheaper.
func PruneByValue(s Solid, b Box) Solid {
	if t, ok := s.(ValuePruner); ok {
		return t.PruneByValue(b)
	}
	return s
}

// Gradient returns the value at p and the unit direction in which it grows. For
// a solid that does not say, the direction comes from differences over 1e-5 mm.
func Gradient(s Solid, p Vec) (float64, Vec) {
	if g, ok := s.(Gradienter); ok {
		return g.Gradient(p)
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

// PruneBySign returns a solid that agrees with s in sign at every point of b,
// usually cheaper to ask, and an interval that tells the sides of b.
func PruneBySign(s Solid, b Box) (Solid, Interval) {
	if n, ok := s.(SignPruner); ok {
		return n.PruneBySign(b)
	}
	return prunedOn(s, b)
}

// prunedOn prunes a solid by Range and PruneByValue.
func prunedOn(s Solid, b Box) (Solid, Interval) {
	r := Range(s, b)
	if r.settled() {
		return s, r
	}
	return PruneByValue(s, b), r
}

// Landmarks visits the landmarks of s in b, if it has any.
func Landmarks(s Solid, b Box, visit func(Vec)) {
	if l, ok := s.(Landmarker); ok {
		l.Landmarks(b, visit)
	}
}

// Landmarks visits those of the children.
func (s *union) Landmarks(b Box, visit func(Vec)) {
	for _, k := range s.children {
		Landmarks(k, b, visit)
	}
}

// Landmarks visits those of the children.
func (s *intersection) Landmarks(b Box, visit func(Vec)) {
	for _, k := range s.children {
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

// onSurface is how near the surface a landmark is taken to be on it, mm.
const onSurface = 1e-6

// Landmarks visits those of both: outside the fillet they are on the surface.
func (s *smoothUnion) Landmarks(b Box, visit func(Vec)) {
	Landmarks(s.a, b, visit)
	Landmarks(s.b, b, visit)
}

// Landmarks visits none: the surface has left them.
func (s *shifted) Landmarks(Box, func(Vec)) {}

func (s *smoothUnion) PruneBySign(b Box) (Solid, Interval) { return prunedOn(s, b) }
func (s *shifted) PruneBySign(b Box) (Solid, Interval)     { return prunedOn(s, b) }
