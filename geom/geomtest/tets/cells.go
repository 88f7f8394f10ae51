package tets

import (
	"fmt"
	"math"

	"halfpour/geom"
)

// lattice is a box of root cells, each halved as often as size asks. Places on
// it are whole numbers: the finest cell is two wide, so that middles are too.
type lattice struct {
	box    geom.Box
	unit   geom.Vec // of one step, mm
	root   int32    // size of a root cell in steps
	plane  int32    // along Z
	leaves map[cell]bool
	corner map[place]bool
}

type place [3]int32

// cell is a cube of the lattice by its lowest corner.
type cell struct {
	low  place
	size int32
}

func (p place) add(axis int, by int32) place {
	p[axis] += by
	return p
}

func (c cell) middle() place {
	h := c.size / 2
	return place{c.low[0] + h, c.low[1] + h, c.low[2] + h}
}

// at is where a place lies.
func (l *lattice) at(p place) geom.Vec {
	m := l.box.Min
	return geom.Vec{X: m.X + float64(p[0])*l.unit.X, Y: m.Y + float64(p[1])*l.unit.Y, Z: m.Z + float64(p[2])*l.unit.Z}
}

// newLattice cuts the box into cells.
func newLattice(s geom.Solid, box geom.Box, opt Options) (*lattice, error) {
	l := &lattice{box: box, root: 2 << opt.Halvings, leaves: map[cell]bool{}, corner: map[place]bool{}}
	d := box.Max.Sub(box.Min)
	count := func(length float64) int32 {
		return max(1, int32(math.Round(length/(opt.Finest*float64(int(1)<<opt.Halvings)))))
	}
	n := place{count(d.X), count(d.Y), count(d.Z)}
	steps := func(n int32) float64 { return float64(n * l.root) }
	l.unit = geom.Vec{X: d.X / steps(n[0]), Y: d.Y / steps(n[1]), Z: d.Z / steps(n[2])}
	plane := (opt.Plane - box.Min.Z) / l.unit.Z
	l.plane = int32(math.Round(plane))
	if opt.Plane != 0 && (math.Abs(plane-float64(l.plane)) > 1e-6 || l.plane%l.root != 0) {
		return nil, fmt.Errorf("the plane at z = %g is not between root cells %g high", opt.Plane, l.unit.Z*float64(l.root))
	}
	for x := range n[0] {
		for y := range n[1] {
			for z := range n[2] {
				l.split(s, cell{place{x * l.root, y * l.root, z * l.root}, l.root}, opt.Size)
			}
		}
	}
	return l, nil
}

func (l *lattice) split(s geom.Solid, c cell, size func(d float64) float64) {
	d := s.Evaluate(l.at(c.middle()))
	crossed := math.Abs(d) <= l.unit.Norm()*float64(c.size)/2
	width := math.Cbrt(l.unit.X*l.unit.Y*l.unit.Z) * float64(c.size)
	half := c.size / 2
	if c.size > 2 && (crossed || width > size(d)) {
		for i := range int32(8) {
			low := place{c.low[0] + half*(i&1), c.low[1] + half*(i>>1&1), c.low[2] + half*(i>>2)}
			l.split(s, cell{low, half}, size)
		}
		return
	}
	l.leaves[c] = true
	for i := range int32(8) {
		l.corner[place{c.low[0] + c.size*(i&1), c.low[1] + c.size*(i>>1&1), c.low[2] + c.size*(i>>2)}] = true
	}
}

// tetrahedra visits those of one leaf, and of each pair of alike neighbours
// once. Faces between unlike leaves and on the box are cut into a fan round
// their middle, the same from both sides; edges are cut wherever a corner is on
// them. So all tetrahedra fit together.
func (l *lattice) tetrahedra(c cell, visit func(a, b, c, d place)) {
	apex := c.middle()
	for axis := range 3 {
		for _, up := range []bool{false, true} {
			by := -c.size
			low := c.low
			if up {
				by = c.size
				low = low.add(axis, c.size)
			}
			other := cell{c.low.add(axis, by), c.size}
			switch {
			case !l.leaves[other], axis == 2 && low[2] == l.plane:
				l.fan(apex, low, axis, c.size, visit)
			case up:
				l.around(low, axis, c.size, func(a, b place) { visit(apex, other.middle(), a, b) })
			}
		}
	}
}

// fan visits the tetrahedra from apex to a square, or to its quarters when the
// leaves beyond are smaller.
func (l *lattice) fan(apex, low place, axis int, size int32, visit func(a, b, c, d place)) {
	u, v := (axis+1)%3, (axis+2)%3
	middle := low.add(u, size/2).add(v, size/2)
	if !l.corner[middle] {
		l.around(low, axis, size, func(a, b place) { visit(apex, middle, a, b) })
		return
	}
	for i := range int32(4) {
		l.fan(apex, low.add(u, size/2*(i&1)).add(v, size/2*(i>>1)), axis, size/2, visit)
	}
}

// around visits the pieces of a square's edges in turn.
func (l *lattice) around(low place, axis int, size int32, visit func(a, b place)) {
	u, v := (axis+1)%3, (axis+2)%3
	c := [4]place{low, low.add(u, size), low.add(u, size).add(v, size), low.add(v, size)}
	for i := range c {
		l.chain(c[i], c[(i+1)%4], visit)
	}
}

func (l *lattice) chain(a, b place, visit func(a, b place)) {
	m := place{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2}
	if m != a && l.corner[m] {
		l.chain(a, m, visit)
		l.chain(m, b, visit)
		return
	}
	visit(a, b)
}
