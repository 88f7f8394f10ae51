package geom

import (
	"math"
	"math/bits"
)

// strand is the piece of an outline within one cell: from a crossing of one
// of the cell's sides to that of another, the solid on its left. The sides
// are named by numbers that neighbouring cells share.
type strand struct {
	from, to int
	points   []Vec2
}

// sectionTracer follows the surface through a tile.
type sectionTracer struct {
	sectionGrid
	strands []strand
}

// leafSide is the side of the blocks of cells that are traced node by node.
const leafSide = 4

// descend splits the cells until the surface cannot be in them or few are left.
func (t *sectionTracer) descend(s Solid, c patchCells) {
	b := t.box(c)
	r := Range(s, b)
	if r.Lo >= 0 || (r.Hi < 0 && !t.onEdge(c)) {
		return
	}
	s = PruneByValue(s, b)
	di, dj := c.i1-c.i0, c.j1-c.j0
	switch {
	case di <= leafSide && dj <= leafSide:
		t.leaf(s, c)
	case di >= dj:
		m := c.i0 + di/2
		t.descend(s, patchCells{c.i0, c.j0, m, c.j1})
		t.descend(s, patchCells{m, c.j0, c.i1, c.j1})
	default:
		m := c.j0 + dj/2
		t.descend(s, patchCells{c.i0, c.j0, c.i1, m})
		t.descend(s, patchCells{c.i0, m, c.i1, c.j1})
	}
}

// leaf asks every node once and traces the cells between them.
func (t *sectionTracer) leaf(s Solid, c patchCells) {
	var v [leafSide + 1][leafSide + 1]float64
	for j := c.j0; j <= c.j1; j++ {
		for i := c.i0; i <= c.i1; i++ {
			v[j-c.j0][i-c.i0] = t.value(s, i, j)
		}
	}
	for j := c.j0; j < c.j1; j++ {
		for i := c.i0; i < c.i1; i++ {
			a, b := v[j-c.j0], v[j-c.j0+1]
			k := i - c.i0
			cell := sectionCell{sectionTracer: t, s: s, i: i, j: j, v: [4]float64{a[k], a[k+1], b[k+1], b[k]}}
			cell.trace()
		}
	}
}

func (t *sectionTracer) value(s Solid, i, j int) float64 {
	if t.beyond(i, j) {
		return math.Inf(1)
	}
	p := t.node(i, j)
	return s.Evaluate(Vec{p.X, p.Y, 0})
}

// sectionCell is one cell; its nodes and sides are numbered counter-clockwise
// from the lower left and from the bottom.
type sectionCell struct {
	*sectionTracer
	s    Solid
	i, j int
	v    [4]float64
}

// trace adds the strands of the cell: none, one, or two where opposite nodes
// agree. Of those the value in the middle decides which way they run.
func (c *sectionCell) trace() {
	inside := uint8(0)
	for k, v := range c.v {
		if v < 0 {
			inside |= 1 << k
		}
	}
	switch bits.OnesCount8(inside) {
	case 0, 4:
		return
	}
	saddle := inside == 0b0101 || inside == 0b1010
	joined := saddle && c.middleInside()
	for k := range 4 {
		// The outline enters through a side that it finds outside, then inside,
		// going round counter-clockwise; the solid is on its left.
		if in := inside >> k & 1; in == 1 || inside>>((k+1)%4)&1 == 0 {
			continue
		}
		step := 1
		for inside>>((k+step+1)%4)&1 == 1 {
			step++
		}
		if joined {
			step = 3
		}
		c.add((k+step)%4, k)
	}
}

func (c *sectionCell) middleInside() bool {
	for k := range 4 {
		if c.beyond(c.corner(k)) {
			return false
		}
	}
	a, b := c.node(c.i, c.j), c.node(c.i+1, c.j+1)
	return c.at(a.Add(b).Mul(0.5)) < 0
}

func (c *sectionCell) at(p Vec2) float64 { return c.s.Evaluate(Vec{p.X, p.Y, 0}) }

// corner returns the node at corner k.
func (c *sectionCell) corner(k int) (i, j int) {
	return c.i + (k&1 ^ k>>1), c.j + k>>1
}

// side returns the number that side k has in the whole grid.
func (c *sectionCell) side(k int) int {
	i, j := c.i, c.j
	switch k {
	case 1:
		i++
	case 2:
		j++
	}
	return 2*(j*(c.lastX+1)+i) + k&1
}

// add puts the strand from side a to side b on the list.
func (c *sectionCell) add(a, b int) {
	p, q := c.cross(a), c.cross(b)
	points := c.follow([]Vec2{p}, p, q, 7)
	c.strands = append(c.strands, strand{c.side(a), c.side(b), append(points, q)})
}

// cross returns where the surface crosses side k. Both cells at a side ask from
// its lesser end, so that they agree to the last bit.
func (c *sectionCell) cross(k int) Vec2 {
	a, b := k, (k+1)%4
	if k >= 2 {
		a, b = b, a
	}
	ai, aj := c.corner(a)
	bi, bj := c.corner(b)
	p, q := c.node(ai, aj), c.node(bi, bj)
	switch {
	case c.beyond(ai, aj):
		return q
	case c.beyond(bi, bj):
		return p
	}
	return c.root(p, q, c.v[a], c.v[b])
}

// root returns a point of the surface between p and q, whose values differ in
// sign.
func (c *sectionCell) root(p, q Vec2, vp, vq float64) Vec2 {
	d, enough := q.Sub(p), c.tolerance*0.01
	on := func(x float64) float64 { return c.at(p.Add(d.Mul(x))) }
	return p.Add(d.Mul(Root(on, 0, 1, vp, vq, enough/d.Norm(), enough*1e-3)))
}

// follow appends points of the surface between p and q until the chords are
// true, at most 2^depth of them. Each is looked for across the middle of its
// chord, also beyond the cell: a notch may cross a side twice.
func (c *sectionCell) follow(points []Vec2, p, q Vec2, depth int) []Vec2 {
	d := q.Sub(p)
	length := d.Norm()
	if depth == 0 || length < c.tolerance {
		return points
	}
	m := p.Add(q).Mul(0.5)
	r, ok := c.march(m, Vec2{d.Y / length, -d.X / length}, 2*length)
	if !ok || r.Sub(m).Norm() < c.tolerance/4 {
		return points
	}
	points = c.follow(points, p, r, depth-1)
	return c.follow(append(points, r), r, q, depth-1)
}

// march goes from m, along out when m is inside and against it when not, by
// the distance known to be free of surface, and returns the first crossing
// within reach and window.
func (c *sectionCell) march(m, out Vec2, reach float64) (Vec2, bool) {
	v := c.at(m)
	if v >= 0 {
		out = out.Mul(-1)
	}
	reach = min(reach, c.room(m, out))
	on := func(t float64) Vec2 { return m.Add(out.Mul(t)) }
	last := 0.0
	for t, w := range March(func(t float64) float64 { return c.at(on(t)) }, 0, reach, v, c.tolerance/8) {
		if (w < 0) != (v < 0) {
			return c.root(on(last), on(t), v, w), true
		}
		last, v = t, w
	}
	return m, false
}

// room returns how far one can go from m in direction u within the window.
func (c *sectionCell) room(m, u Vec2) float64 {
	axis := func(x, dx, lo, hi float64) float64 {
		switch {
		case dx > 0:
			return (hi - x) / dx
		case dx < 0:
			return (lo - x) / dx
		}
		return math.Inf(1)
	}
	return max(0, min(axis(m.X, u.X, c.low.X, c.high.X), axis(m.Y, u.Y, c.low.Y, c.high.Y)))
}
