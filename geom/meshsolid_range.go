package geom

import "math"

// surfaceLook finds whether the surface touches a box, and if not how far it stays
// away.
type surfaceLook struct {
	boxFrame
	tree  *bvh
	least float64 // no triangle seen is nearer to the box
	touch bool
}

// see looks at a triangle and returns the distance within which a triangle
// could still change the answer, below 0 when nothing can.
func (l *surfaceLook) see(slot int32) float64 {
	t := &l.tree.triangles[slot]
	low := l.boundsGap(t) - l.tree.slack
	if low <= 0 {
		way, _ := t.closest(l.centre)
		low = l.beyond(way, way.Norm()) - l.tree.slack
	}
	if low <= 0 {
		low = l.gap(t) - l.tree.slack
	}
	if low <= 0 {
		l.touch = true
		return -1
	}
	l.least = min(l.least, low)
	return l.least
}

// interval returns the range of the distance on the box, of which the nearest
// point to the centre and the value there are given.
func (l *surfaceLook) interval(h *hit, v float64) Interval {
	t := &l.tree.triangles[h.slot]
	d := math.Abs(v)
	most := l.tree.reach(min(d+l.radius, l.farthest(t)))
	if l.touch {
		spread := l.radius + l.tree.slack + 1e-12*d
		return Interval{max(v-spread, -most), min(v+spread, most)}
	}
	least := max(l.least, d-l.radius-l.tree.slack-1e-12*d)
	if v < 0 {
		return Interval{-most, -least}
	}
	return Interval{least, most}
}

// Range returns the values that the distance takes on b, or a little more.
// When the surface does not touch b, both ends have the sign of all values.
func (s *meshBody) Range(b Box) Interval {
	l := surfaceLook{boxFrame: frameOf(b), tree: s.tree}
	h := s.tree.nearest(l.centre)
	if !h.found() || b.IsEmpty() {
		return Interval{math.Inf(-1), math.Inf(1)}
	}
	v := s.value(l.centre, &h)
	l.least = math.Abs(v) + l.radius
	s.tree.near(&l.box, l.least, l.see)
	return l.interval(&h, v)
}

// Range is as for the whole mesh.
func (s *prunedMesh) Range(b Box) Interval {
	l := surfaceLook{boxFrame: frameOf(b), tree: s.whole.tree}
	h := s.nearest(l.centre)
	if !h.found() || b.IsEmpty() {
		return Interval{math.Inf(-1), math.Inf(1)}
	}
	v := s.whole.value(l.centre, &h)
	l.least = math.Abs(v) + l.radius
	off := l.centre.Dist(s.centre) + l.radius
	for _, x := range s.list {
		if float64(x.from)-off > l.least || l.see(x.slot) < 0 {
			break
		}
	}
	return l.interval(&h, v)
}
