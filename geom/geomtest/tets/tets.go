// Package tets cuts a box into tetrahedra that fit the surface of a solid in
// it, for finite-element programs that are held against ours.
//
// The way is that of isosurface stuffing (Labelle & Shewchuk, SIGGRAPH 2007): a
// body-centred lattice, fine at the surface; lattice points near the surface
// move onto it; what still crosses it is cut. Edges of the solid are cut off by
// about the finest cell.
package tets

import (
	"errors"
	"math"
	"math/bits"
	"slices"

	"halfpour/geom"
)

// Mesh is a box of tetrahedra, each of positive volume by the right-hand rule.
type Mesh struct {
	Points []geom.Vec
	Tets   [][4]int32
	Region []int  // of each tetrahedron: SolidRegion or RestRegion
	Faces  []Face // on the box and on the solid's surface
}

// Face is the face of a tetrahedron that lies across from one of its corners.
// On the solid's surface it is that of the tetrahedron inside.
type Face struct {
	Tet    int32
	Corner int
	Label  int
}

// near is how near to the surface, in shares of an edge, a point is moved onto it.
const near = 0.25

// onIt is how near one must be to count as on it where it is, as a point must
// that would leave a side of the box.
const onIt = 0.02

type builder struct {
	l      *lattice
	s      geom.Solid
	index  map[place]int32
	points []geom.Vec
	sides  []uint8 // of the box that a point is on, one bit each
	value  []float64
	cuts   map[[2]int32]int32 // new points on edges
}

// Options say how fine a mesh is.
type Options struct {
	Finest   float64 // width of the cells at the surface, about, mm
	Halvings int     // the widest are Finest doubled so often

	// Size is the wanted width of a cell by the distance of its middle from the
	// surface, below 0 inside; mm.
	Size func(d float64) float64

	// Plane, when not 0, is a height z that no tetrahedron crosses.
	Plane float64
}

// errApart says that the tetrahedra do not fit together.
var errApart = errors.New("tetrahedra do not fit together")

// New cuts the box. It fails when the widest cells do not fit to the plane.
func New(s geom.Solid, box geom.Box, opt Options) (*Mesh, error) {
	l, err := newLattice(s, box, opt)
	if err != nil {
		return nil, err
	}
	b := builder{l: l, s: s, index: map[place]int32{}, cuts: map[[2]int32]int32{}}
	leaves := make([]cell, 0, len(b.l.leaves))
	for c := range b.l.leaves {
		leaves = append(leaves, c)
	}
	slices.SortFunc(leaves, func(a, b cell) int { return slices.Compare(a.low[:], b.low[:]) })
	var tets [][4]int32
	for _, c := range leaves {
		b.l.tetrahedra(c, func(p, q, r, s place) { tets = append(tets, [4]int32{b.point(p), b.point(q), b.point(r), b.point(s)}) })
	}
	b.warp(tets)
	m := &Mesh{}
	for _, t := range tets {
		b.cut(t, m)
	}
	m.Points = b.points
	if !b.label(m) {
		return nil, errApart
	}
	m.drop()
	return m, nil
}

func (b *builder) point(p place) int32 {
	i, ok := b.index[p]
	if !ok {
		i = int32(len(b.points))
		b.index[p] = i
		at := b.l.at(p)
		b.points = append(b.points, at)
		b.value = append(b.value, b.s.Evaluate(at))
		b.sides = append(b.sides, b.l.sides(p))
	}
	return i
}

// sides tells which sides of the box a place is on.
func (l *lattice) sides(p place) (on uint8) {
	d := l.box.Max.Sub(l.box.Min)
	for axis, last := range []float64{d.X / l.unit.X, d.Y / l.unit.Y, d.Z / l.unit.Z} {
		if p[axis] == 0 {
			on |= 1 << (2 * axis)
		}
		if p[axis] == int32(math.Round(last)) {
			on |= 2 << (2 * axis)
		}
	}
	return on
}

var edges = [6][2]int{{0, 1}, {0, 2}, {0, 3}, {1, 2}, {1, 3}, {2, 3}}

func (b *builder) crosses(i, j int32) bool { return b.value[i]*b.value[j] < 0 }

// crossing is where the surface cuts an edge, as a share of it.
func (b *builder) crossing(i, j int32) float64 {
	p, d := b.points[i], b.points[j].Sub(b.points[i])
	f := func(t float64) float64 { return b.s.Evaluate(p.Add(d.Mul(t))) }
	return geom.Root(f, 0, 1, b.value[i], b.value[j], 1e-6, 0)
}

// warp moves points near the surface onto it, each along its edge with the
// nearest crossing; points on a side of the box stay on it.
func (b *builder) warp(tets [][4]int32) {
	type move struct {
		length float64
		to     geom.Vec
	}
	best := map[int32]move{}
	seen := map[[2]int32]bool{}
	offer := func(i, j int32, share float64) {
		d := b.points[j].Sub(b.points[i])
		m := move{share * d.Norm(), b.points[i].Add(d.Mul(share))}
		if b.sides[i]&^b.sides[j] != 0 {
			m.to = b.points[i]
			share *= near / onIt
		}
		if share > near {
			return
		}
		if old, ok := best[i]; !ok || m.length < old.length {
			best[i] = m
		}
	}
	for _, t := range tets {
		for _, e := range edges {
			i, j := min(t[e[0]], t[e[1]]), max(t[e[0]], t[e[1]])
			if seen[[2]int32{i, j}] || !b.crosses(i, j) {
				continue
			}
			seen[[2]int32{i, j}] = true
			share := b.crossing(i, j)
			offer(i, j, share)
			offer(j, i, 1-share)
		}
	}
	for i, m := range best {
		b.points[i], b.value[i] = m.to, 0
	}
}

// cut halves a tetrahedron at its crossed edges, the lowest first: so
// neighbours cut their common face alike.
func (b *builder) cut(t [4]int32, m *Mesh) {
	var first [2]int32
	var at [2]int
	found := false
	for _, e := range edges {
		key := [2]int32{min(t[e[0]], t[e[1]]), max(t[e[0]], t[e[1]])}
		if b.crosses(key[0], key[1]) && (!found || slices.Compare(key[:], first[:]) < 0) {
			first, at, found = key, e, true
		}
	}
	if !found {
		b.keep(t, m)
		return
	}
	i, ok := b.cuts[first]
	if !ok {
		i = int32(len(b.points))
		share := b.crossing(first[0], first[1])
		p, q := b.points[first[0]], b.points[first[1]]
		b.points = append(b.points, p.Add(q.Sub(p).Mul(share)))
		b.value = append(b.value, 0)
		b.sides = append(b.sides, b.sides[first[0]]&b.sides[first[1]])
		b.cuts[first] = i
	}
	for _, end := range at {
		half := t
		half[end] = i
		b.cut(half, m)
	}
}

// keep adds a tetrahedron that the surface does not cross.
func (b *builder) keep(t [4]int32, m *Mesh) {
	p := [4]geom.Vec{b.points[t[0]], b.points[t[1]], b.points[t[2]], b.points[t[3]]}
	volume := p[1].Sub(p[0]).Cross(p[2].Sub(p[0])).Dot(p[3].Sub(p[0])) / 6
	if volume < 0 {
		t[2], t[3] = t[3], t[2]
	}
	sum := 0.0
	for _, i := range t {
		sum += b.value[i]
	}
	if sum == 0 { // all four on the surface
		sum = b.s.Evaluate(p[0].Add(p[1]).Add(p[2]).Add(p[3]).Mul(0.25))
	}
	m.Tets = append(m.Tets, t)
	region := RestRegion
	if sum < 0 {
		region = SolidRegion
	}
	m.Region = append(m.Region, region)
}

// label finds the faces on the box and on the surface, and reports whether all
// others have a tetrahedron on both sides.
func (b *builder) label(m *Mesh) bool {
	seen := map[[3]int32]Face{}
	for n, t := range m.Tets {
		for k := range t {
			key := [3]int32{t[(k+1)%4], t[(k+2)%4], t[(k+3)%4]}
			slices.Sort(key[:])
			f := Face{Tet: int32(n), Corner: k}
			if side := b.sides[key[0]] & b.sides[key[1]] & b.sides[key[2]]; side != 0 {
				f.Label = bits.TrailingZeros8(side) + 1
				if m.Region[n] == SolidRegion {
					f.Label += InSolid
				}
				m.Faces = append(m.Faces, f)
				continue
			}
			other, ok := seen[key]
			if !ok {
				seen[key] = f
				continue
			}
			delete(seen, key)
			if m.Region[other.Tet] == SolidRegion {
				f = other
			}
			if m.Region[other.Tet] != m.Region[n] {
				f.Label = Surface
				m.Faces = append(m.Faces, f)
			}
		}
	}
	return len(seen) == 0
}

// drop leaves out points that no tetrahedron uses.
func (m *Mesh) drop() {
	to := make([]int32, len(m.Points))
	var kept []geom.Vec
	for n, t := range m.Tets {
		for k, i := range t {
			if to[i] == 0 {
				kept = append(kept, m.Points[i])
				to[i] = int32(len(kept))
			}
			m.Tets[n][k] = to[i] - 1
		}
	}
	m.Points = kept
}
