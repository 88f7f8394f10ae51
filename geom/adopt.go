package geom

// Adopt takes a solid of another library whose vectors are structs of X, Y, Z
// float64 and whose boxes are structs of Min, Max. The solid must keep laws 1
// and 3 and be inside its box; law 2, which other libraries do not ask for, is
// seen to here.
func Adopt[V ~struct{ X, Y, Z float64 }, B ~struct{ Min, Max V }](s interface {
	Evaluate(V) float64
	BoundingBox() B
}) Solid {
	b := struct{ Min, Max V }(s.BoundingBox())
	return &adopted[V, B]{s, Box{Vec(b.Min), Vec(b.Max)}}
}

type adopted[V ~struct{ X, Y, Z float64 }, B ~struct{ Min, Max V }] struct {
	s interface {
		Evaluate(V) float64
		BoundingBox() B
	}
	box Box
}

func (a *adopted[V, B]) BoundingBox() Box { return a.box }

func (a *adopted[V, B]) Evaluate(p Vec) float64 {
	v := a.s.Evaluate(V(p))
	if d := a.box.Distance(p); d > 0 {
		return max(v, d)
	}
	return v
}

// Lent is a solid in the vectors and boxes of another library.
type Lent[V ~struct{ X, Y, Z float64 }, B ~struct{ Min, Max V }] struct{ Solid Solid }

// Lend is the reverse of Adopt: it gives s the method set of another library.
func Lend[V ~struct{ X, Y, Z float64 }, B ~struct{ Min, Max V }](s Solid) Lent[V, B] {
	return Lent[V, B]{s}
}

// Evaluate returns the value of the solid at p.
func (l Lent[V, B]) Evaluate(p V) float64 { return l.Solid.Evaluate(Vec(p)) }

// BoundingBox returns the box of the solid.
func (l Lent[V, B]) BoundingBox() B {
	b := l.Solid.BoundingBox()
	return B(struct{ Min, Max V }{V(b.Min), V(b.Max)})
}
