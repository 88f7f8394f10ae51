package geom

import "math"

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

// landmarkError returns how far the landmarks on the skin of s in b are from
// the patch at most, and which is.
func landmarkError(s Solid, b Box, patch []triangle) (worst float64, at Vec) {
	Landmarks(s, b, func(p Vec) {
		if math.Abs(s.Evaluate(p)) > onSkin {
			return
		}
		near := math.Inf(1)
		for i := range patch {
			way, _ := patch[i].closest(p)
			near = min(near, way.Dot(way))
		}
		if near > worst {
			worst, at = near, p
		}
	})
	return math.Sqrt(worst), at
}

// onSkin is how near the skin a landmark is taken to be on it, mm.
const onSkin = 1e-6

// fanOf returns the triangles of a loop, given in two runs, filled from its
// first vertex.
func fanOf(first, rest []int32, d *drawing) []triangle {
	ids := append(append(make([]int32, 0, len(first)+len(rest)), first...), rest...)
	fan := make([]triangle, 0, len(ids))
	for i := 1; i+1 < len(ids); i++ {
		fan = append(fan, triangle{d.at[ids[0]], d.at[ids[i]], d.at[ids[i+1]]})
	}
	return fan
}

// coneOf returns the triangles of a loop filled from an apex.
func coneOf(apex Vec, ids []int32, d *drawing) []triangle {
	cone := make([]triangle, len(ids))
	for i, id := range ids {
		cone[i] = triangle{apex, d.at[id], d.at[ids[(i+1)%len(ids)]]}
	}
	return cone
}
