package geom

import (
	"math"
	"slices"
)

// sheetsOf adds to list a slab for each part that s is combined of within b.
// It returns false when a part is not known to be thinner than thickness, or
// there are more than mostSheets.
func sheetsOf(s Solid, b Box, thickness float64, list []Slab) ([]Slab, bool) {
	var kids []Solid
	switch s := s.(type) {
	case *union:
		kids = s.kids
	case *intersection:
		kids = s.kids
	case *complement:
		return sheetsOf(s.s, b, thickness, list)
	default:
		l, ok := SlabOf(s, b)
		if slices.Contains(list, l) { // faces of two parts in one plane
			return list, ok
		}
		return append(list, l), ok && 2*l.W <= thickness && len(list) < mostSheets
	}
	ok := true
	for _, k := range kids {
		if list, ok = sheetsOf(k, b, thickness, list); !ok {
			return list, false
		}
	}
	return list, true
}

// mostSheets is the most parts that may meet in a cell of any size: three make
// a corner.
const mostSheets = 3

// sheetCorners calls visit with the points at which three of the sheets' middle
// planes and the faces of b meet, one of them a sheet: if the sheets are planes,
// these are all corners that the skin can have in b and on its faces.
func sheetCorners(sheets []Slab, b Box, visit func(Vec)) {
	planes := append([]Slab(nil), sheets...)
	for i := range 3 {
		var n Vec
		n.setAlong(i, 1)
		planes = append(planes, Slab{N: n, D: b.Min.along(i)}, Slab{N: n, D: b.Max.along(i)})
	}
	near := b.Grow(1e-9)
	for i := range sheets {
		for j := i + 1; j < len(planes); j++ {
			cross := planes[i].N.Cross(planes[j].N)
			for k := j + 1; k < len(planes); k++ {
				det := cross.Dot(planes[k].N)
				if math.Abs(det) < 1e-9 {
					continue
				}
				p := planes[j].N.Cross(planes[k].N).Mul(planes[i].D).
					Add(planes[k].N.Cross(planes[i].N).Mul(planes[j].D)).
					Add(cross.Mul(planes[k].D)).Mul(1 / det)
				if near.Contains(p) {
					visit(p)
				}
			}
		}
	}
}
