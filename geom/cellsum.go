package geom

// cellSum measures the part of a region in a box from the polygons of its surface
// there. Points are relative to the box's least corner o.
//
// The boundary of that part is surface and parts of the box's faces. As seen from
// o the three lesser faces are edge-on, so the part is the signed sum of the
// cones from o over the surface and over its parts of the three greater faces.
// Each of those is, from the face's corner f nearest to o, the sum of
// triangles over the chords that the surface leaves in it and over its parts of
// the face's two greater sides; and each of those, from the side's corner e
// nearest to o, the sum of the ways to the points where chords end, and to the
// box's greatest corner when that is in the region. So nothing need be sorted
// or joined.
type cellSum struct {
	size Vec
	full bool    // all moments are wanted, not the volume alone
	area float64 // of the surface, mm²
	moments
}

// flagged is a convex polygon in the box; bit k of a corner's flags says that
// it is on the greater face across axis k.
type flagged struct {
	n    int
	at   [maxFlagged]Vec
	flag [maxFlagged]uint8
}

// maxFlagged has room for four corners and the cuts of six faces and three
// sheets.
const maxFlagged = 14

// add adds a polygon of surface, counter-clockwise seen from outside.
func (c *cellSum) add(p *flagged) {
	if p.n < 3 {
		return
	}
	normal := Vec{}
	for i := 2; i < p.n; i++ {
		c.addCone(p.at[0], p.at[i-1], p.at[i])
		normal = normal.Add(p.at[i-1].Sub(p.at[0]).Cross(p.at[i].Sub(p.at[0])))
	}
	c.area += 0.5 * normal.Norm()
	last := p.n - 1
	for i := range p.n {
		if both := p.flag[last] & p.flag[i]; both != 0 {
			for k := range 3 {
				if both>>k&1 != 0 {
					c.addChord(k, p.at[last], p.flag[last], p.at[i], p.flag[i])
				}
			}
		}
		last = i
	}
}

// addChord adds what a side of a polygon from a to b, in the greater face
// across axis k, bounds of that face. The face is bounded the other way round.
func (c *cellSum) addChord(k int, a Vec, fa uint8, b Vec, fb uint8) {
	var f Vec
	f.setAlong(k, c.size.along(k))
	c.addCone(f, b, a)
	for j := range 3 {
		if j == k {
			continue
		}
		e := f
		e.setAlong(j, c.size.along(j))
		// The chord run from b to a leaves the side at b and reaches it at a.
		if fb>>j&1 != 0 {
			c.addCone(f, e, b)
		}
		if fa>>j&1 != 0 {
			c.addCone(f, a, e)
		}
	}
}

// addCone adds the tetrahedron of the origin and a, b, c.
func (c *cellSum) addCone(p, q, r Vec) {
	if c.full {
		c.moments.addCone(p, q, r)
	} else {
		c.volume += p.Dot(q.Cross(r)) / 6
	}
}

// addCorner adds the ways to the greatest corner, which is in the region.
func (c *cellSum) addCorner() {
	m := momentsOfBox(c.size)
	c.moments.add(&m)
}

// faceCut is a plane along an axis at which a polygon is cut.
type faceCut struct {
	axis  int
	at    float64
	above bool // what is kept
}

// clip keeps the part of p within the box, its least faces included.
func (p *flagged) clip(size Vec) {
	for k := range 3 {
		least, most := p.span(k)
		if least < 0 {
			p.cut(faceCut{k, 0, true})
		}
		if top := size.along(k); most >= top {
			p.cut(faceCut{k, top, false})
		}
	}
}

func (p *flagged) span(k int) (least, most float64) {
	least = p.at[0].along(k)
	most = least
	for i := 1; i < p.n; i++ {
		x := p.at[i].along(k)
		least, most = min(least, x), max(most, x)
	}
	return least, most
}

// cut keeps what is above or below a plane; on a greater face the new corners
// are flagged.
func (p *flagged) cut(c faceCut) {
	if p.n == 0 {
		return
	}
	was := *p
	p.n = 0
	bit := uint8(0)
	if !c.above {
		bit = 1 << c.axis
	}
	keeps := func(i int) bool {
		x := was.at[i].along(c.axis)
		return x >= c.at == c.above
	}
	last := was.n - 1
	kept := keeps(last)
	for i := range was.n {
		k := keeps(i)
		if k != kept {
			// Neighbours share the edge: both must find the same point.
			a, b := was.at[last], was.at[i]
			if b.before(a) {
				a, b = b, a
			}
			x := a.along(c.axis)
			at := a.Lerp(b, (c.at-x)/(b.along(c.axis)-x))
			at.setAlong(c.axis, c.at)
			p.push(at, was.flag[last]&was.flag[i]|bit)
		}
		if k {
			p.push(was.at[i], was.flag[i])
		}
		last, kept = i, k
	}
}

func (p *flagged) push(at Vec, flag uint8) {
	if p.n < maxFlagged {
		p.at[p.n], p.flag[p.n] = at, flag
		p.n++
	}
}

// before orders points.
func (a Vec) before(b Vec) bool {
	if a.X != b.X {
		return a.X < b.X
	}
	if a.Y != b.Y {
		return a.Y < b.Y
	}
	return a.Z < b.Z
}

// split parts p at the plane n·x = d.
func (p *flagged) split(n Vec, d float64) (below, above flagged) {
	last := p.n - 1
	if last < 0 {
		return
	}
	was := n.Dot(p.at[last]) - d
	for i := range p.n {
		h := n.Dot(p.at[i]) - d
		if (h < 0) != (was < 0) {
			at, flag := p.at[last].Lerp(p.at[i], was/(was-h)), p.flag[last]&p.flag[i]
			below.push(at, flag)
			above.push(at, flag)
		}
		if h < 0 {
			below.push(p.at[i], p.flag[i])
		} else {
			above.push(p.at[i], p.flag[i])
		}
		last, was = i, h
	}
	return below, above
}

// reverse turns p over.
func (p *flagged) reverse() {
	for i, j := 0, p.n-1; i < j; i, j = i+1, j-1 {
		p.at[i], p.at[j] = p.at[j], p.at[i]
		p.flag[i], p.flag[j] = p.flag[j], p.flag[i]
	}
}
