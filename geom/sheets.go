package geom

import (
	"math"
	"slices"
)

// mostSheets is the most parts that may meet in a cell of any size: three make
// a corner.
const mostSheets = 3

// sheets is a solid in a box as a few thin slabs: bit m of holds tells whether
// it is solid where exactly the parts of the bits of m are.
type sheets struct {
	slabs []Slab
	parts []Solid
	holds uint8
	sense []int // by part: +1 when it adds to the solid, -1 when it takes from it
}

// sheetsOf finds the sheets that s is combined of within b. It returns false
// when a part is not known to be thinner than thickness, when there are too
// many, or one both adds and takes.
func sheetsOf(s Solid, b Box, thickness float64) (*sheets, bool) {
	h := &sheets{}
	holds, ok := h.combine(s, b, thickness, 1)
	h.holds = holds
	return h, ok
}

// combine adds the sheets of s and returns where they make it solid.
func (h *sheets) combine(s Solid, b Box, thickness float64, sense int) (holds uint8, ok bool) {
	switch s := s.(type) {
	case *union:
		for _, k := range s.children {
			part, ok := h.combine(k, b, thickness, sense)
			if !ok {
				return 0, false
			}
			holds |= part
		}
		return holds, true
	case *intersection:
		holds = 0xff
		for _, k := range s.children {
			part, ok := h.combine(k, b, thickness, sense)
			if !ok {
				return 0, false
			}
			holds &= part
		}
		return holds, true
	case *complement:
		holds, ok = h.combine(s.s, b, thickness, -sense)
		return ^holds, ok
	}
	l, ok := SlabOf(s, b)
	if !ok || 2*l.W > thickness {
		return 0, false
	}
	i := slices.Index(h.slabs, l) // faces of two parts may lie in one plane
	if i < 0 {
		if i = len(h.slabs); i == mostSheets {
			return 0, false
		}
		h.slabs, h.parts, h.sense = append(h.slabs, l), append(h.parts, s), append(h.sense, sense)
	}
	return [mostSheets]uint8{0b10101010, 0b11001100, 0b11110000}[i], h.sense[i] == sense
}

// corners calls visit with the points at which three of the sheets' middle
// planes and the faces of b meet, one of them a sheet: if the sheets are
// planes, these are all corners that the surface can have in b and on its faces.
func (h *sheets) corners(b Box, visit func(Vec)) {
	if h == nil {
		return
	}
	planes := append([]Slab(nil), h.slabs...)
	for i := range 3 {
		var n Vec
		n.setAlong(i, 1)
		planes = append(planes, Slab{N: n, D: b.Min.along(i)}, Slab{N: n, D: b.Max.along(i)})
	}
	near := b.Grow(1e-9)
	for i := range h.slabs {
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

// thickness returns the sum of the half thicknesses.
func (h *sheets) thickness() float64 {
	sum := 0.0
	if h != nil {
		for _, l := range h.slabs {
			sum += l.W
		}
	}
	return sum
}

// measure returns what a solid of the sheets, each taken as the side n·p < d
// of a plane, has in b; full with all moments.
func (h *sheets) measure(b Box, planes []Slab, full bool) cellSum {
	c := cellSum{size: b.Size(), full: full}
	const touch = 1e-9 // of the box: planes that come no nearer do not cut it
	reach := touch * (c.size.X + c.size.Y + c.size.Z)
	var d [mostSheets]float64 // of the planes, from the box's least corner
	fixed, always := 0, 0     // planes that do not cut the box, and those that all of it is inside of
	last := 0                 // the sides that the greatest corner is on
	for i, l := range planes {
		d[i] = l.D - l.N.Dot(b.Min)
		low := min(l.N.X, 0)*c.size.X + min(l.N.Y, 0)*c.size.Y + min(l.N.Z, 0)*c.size.Z
		high := max(l.N.X, 0)*c.size.X + max(l.N.Y, 0)*c.size.Y + max(l.N.Z, 0)*c.size.Z
		// A plane through the greatest corner is moved off it, so that rounding
		// does not tell the corner's side otherwise than the polygons do.
		if corner := l.N.Dot(c.size); math.Abs(corner-d[i]) < reach {
			d[i] = corner + 2*reach
		}
		switch corner := l.N.Dot(c.size); {
		case low >= d[i]-reach:
			fixed |= 1 << i
		case high <= d[i]+reach:
			fixed, always = fixed|1<<i, always|1<<i
		case corner < d[i]:
			last |= 1 << i
		}
	}
	if h.holds>>(last|always)&1 != 0 {
		c.addCorner()
	}
	for i, l := range planes {
		if fixed>>i&1 == 0 {
			p := planeIn(c.size, l.N, d[i])
			h.addSurface(&c, planes, &d, i, fixed, always, &p)
		}
	}
	return c
}

// addSurface adds the parts of p, a polygon of sheet i, that are surface: it is split
// at the other sheets. mask is those that it is inside of anyway.
func (h *sheets) addSurface(c *cellSum, planes []Slab, d *[mostSheets]float64, i, fixed, mask int, p *flagged) {
	var parts [1 << (mostSheets - 1)]flagged // no recursion: these stay on the stack
	var masks [len(parts)]int
	parts[0], masks[0] = *p, mask
	n := 1
	for j := range planes {
		if j == i || fixed>>j&1 != 0 {
			continue
		}
		for k := n - 1; k >= 0; k-- {
			var below, above flagged
			if parts[k].n >= 3 {
				below, above = parts[k].split(planes[j].N, d[j])
			}
			parts[2*k+1], masks[2*k+1] = above, masks[k]
			parts[2*k], masks[2*k] = below, masks[k]|1<<j
		}
		n *= 2
	}
	for k := range n {
		in, out := h.holds>>(masks[k]|1<<i)&1 != 0, h.holds>>masks[k]&1 != 0
		switch {
		case in && !out:
			c.add(&parts[k])
		case out && !in:
			parts[k].reverse()
			c.add(&parts[k])
		}
	}
}

// planeIn returns the part of the plane n·p = d in the box from the origin to
// size, counter-clockwise seen from where n points.
func planeIn(size, n Vec, d float64) flagged {
	centre := size.Mul(0.5)
	q := centre.Sub(n.Mul(n.Dot(centre) - d))
	u := Vec{X: 1}
	if math.Abs(n.X) > 0.6 {
		u = Vec{Y: 1}
	}
	u = u.Sub(n.Mul(n.Dot(u))).Unit()
	w := n.Cross(u)
	r := size.X + size.Y + size.Z
	u, w = u.Mul(r), w.Mul(r)
	p := flagged{n: 4}
	p.at[0], p.at[1], p.at[2], p.at[3] = q.Sub(u).Sub(w), q.Add(u).Sub(w), q.Add(u).Add(w), q.Sub(u).Add(w)
	p.clip(size)
	return p
}
