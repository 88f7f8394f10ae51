package moldbox

import (
	"halfpour/geom"
	"halfpour/geom/heap"
)

// reachTol is how much larger than the solid a box of reach may be, mm.
const reachTol = 0.05

// headBox is the box of a placed head: of a mesh the corners', of any other
// solid the reach.
func headBox(head geom.Solid, place geom.Transform) geom.Box {
	if m, ok := meshOf(head); ok {
		b, seen := geom.EmptyBox(), make([]bool, len(m.Vertices))
		for _, t := range m.Triangles {
			for _, i := range t {
				if !seen[i] {
					seen[i], b = true, b.Include(place.Point(m.Vertices[i]))
				}
			}
		}
		return b
	}
	return reach(place.Solid(head))
}

// meshOf returns the mesh that a solid is made of, if it says so.
func meshOf(s geom.Solid) (*geom.TriMesh, bool) {
	m, ok := s.(interface{ Mesh() *geom.TriMesh })
	if !ok {
		return nil, false
	}
	return m.Mesh(), true
}

// reach returns a box around s that is at most reachTol too large on each
// side, however loose s.BoundingBox() is: what a turned mesh needs.
func reach(s geom.Solid) geom.Box {
	b := s.BoundingBox()
	if b.IsEmpty() {
		return b
	}
	b.Max.X = farthest(s, b, geom.Vec{X: 1})
	b.Min.X = -farthest(s, b, geom.Vec{X: -1})
	b.Max.Y = farthest(s, b, geom.Vec{Y: 1})
	b.Min.Y = -farthest(s, b, geom.Vec{Y: -1})
	b.Max.Z = farthest(s, b, geom.Vec{Z: 1})
	b.Min.Z = -farthest(s, b, geom.Vec{Z: -1})
	return b
}

// farthest returns a bound, at most reachTol too great, of dir·p over the
// solid within the box: cells are halved in the order of how far they could
// reach, until the farthest cannot beat a point known to be inside.
func farthest(s geom.Solid, b geom.Box, dir geom.Vec) float64 {
	most := 4000 // cells, enough for any head; a bound stays a bound
	var q heap.Heap[cell]
	q.Push(cell{s, b, ahead(b, dir)})
	known := -b.FarDistance(geom.Vec{})
	for q.Len() > 0 {
		c := q.Pop()
		if c.top <= known+reachTol || most == 0 {
			return c.top
		}
		most--
		mid := c.box.Centre()
		v := c.solid.Evaluate(mid)
		if v >= c.box.HalfDiagonal() {
			continue
		}
		if v < 0 {
			known = max(known, min(c.top, mid.Dot(dir)-v))
		}
		for i := 0; i < 8; i++ {
			child := geom.BoxOf(c.box.Corner(i), mid)
			if geom.Range(c.solid, child).Lo < 0 {
				q.Push(cell{geom.PruneByValue(c.solid, child), child, ahead(child, dir)})
			}
		}
	}
	return known
}

// ahead is the greatest dir·p in the box; dir is an axis.
func ahead(b geom.Box, dir geom.Vec) float64 {
	return max(b.Min.Dot(dir), b.Max.Dot(dir))
}

// cell is a box and the solid as it is in it.
type cell struct {
	solid geom.Solid
	box   geom.Box
	top   float64 // how far it could reach
}

// Before puts the cell first that could reach farthest.
func (c cell) Before(d cell) bool { return c.top > d.top }
