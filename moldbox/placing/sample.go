package placing

import (
	"math"
	"sort"

	"halfpour/geom"
)

// spot is a point of the surface and the direction out of it.
type spot struct{ at, normal geom.Vec }

// surface is a head's surface as points that each stand for the same area.
type surface struct {
	solid geom.Solid
	spots []spot
	mid   geom.Vec // of the area
	size  float64  // greatest distance across its box, in the file's unit
}

// The steps of a sequence that fills the unit square evenly, by the plastic
// number: Roberts, "The unreasonable effectiveness of quasirandom sequences"
// (2018), from memory.
const stepU, stepV = 0.7548776662466927, 0.5698402909980532

// newSurface spreads n points over a mesh.
func newSurface(m *geom.TriMesh, solid geom.Solid, n int) *surface {
	sums := make([]float64, len(m.Triangles))
	total := 0.0
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		total += b.Sub(a).Cross(c.Sub(a)).Norm()
		sums[i] = total
	}
	s := &surface{solid: solid, size: m.BoundingBox().Size().Norm()}
	for k := range n {
		t := sort.SearchFloat64s(sums, (float64(k)+0.5)/float64(n)*total)
		a, b, c := m.Corners(min(t, len(sums)-1))
		u, v := math.Mod(0.5+stepU*float64(k), 1), math.Mod(0.5+stepV*float64(k), 1)
		if u+v > 1 {
			u, v = 1-u, 1-v
		}
		at := a.Add(b.Sub(a).Mul(u)).Add(c.Sub(a).Mul(v))
		s.spots = append(s.spots, spot{at, b.Sub(a).Cross(c.Sub(a)).Unit()})
		s.mid = s.mid.Add(at.Mul(1 / float64(n)))
	}
	return s
}

// few takes every k-th point, about n of them.
func (s *surface) few(n int) []spot {
	step := max(1, len(s.spots)/n)
	var list []spot
	for i := 0; i < len(s.spots); i += step {
		list = append(list, s.spots[i])
	}
	return list
}

// extent is from where to where the surface goes along a direction.
func (s *surface) extent(along geom.Vec) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range s.spots {
		x := p.at.Dot(along)
		low, high = math.Min(low, x), math.Max(high, x)
	}
	return low, high
}

// longest is the direction in the plane square to w along which the surface
// spreads most.
func (s *surface) longest(w geom.Vec) geom.Vec {
	e1, e2 := beside(w)
	var xx, xy, yy float64
	for _, p := range s.spots {
		d := p.at.Sub(s.mid)
		x, y := d.Dot(e1), d.Dot(e2)
		xx, xy, yy = xx+x*x, xy+x*y, yy+y*y
	}
	sin, cos := math.Sincos(math.Atan2(2*xy, xx-yy) / 2)
	return e1.Mul(cos).Add(e2.Mul(sin))
}

// beside are two directions square to w and to each other, along the file's axes
// where w is one.
func beside(w geom.Vec) (e1, e2 geom.Vec) {
	a := geom.Vec{X: 1}
	if math.Abs(w.X) > 0.8 {
		a = geom.Vec{Y: 1}
	}
	e1 = a.Sub(w.Mul(a.Dot(w))).Unit()
	return e1, w.Cross(e1)
}
