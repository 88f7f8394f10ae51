package geom

// Landmarker is an optional ability of a Solid: it calls visit with the points
// in b at which its skin may leave what samples elsewhere suggest, such as the
// vertices of a mesh, perhaps more than once. In a combination some of them
// are not on the skin of the whole.
type Landmarker interface {
	Landmarks(b Box, visit func(Vec))
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
