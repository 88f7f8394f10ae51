package geom

import (
	"cmp"
	"errors"
	"math"
	"slices"
)

// Where a solid has the same in several places, as alike heads in a row, the cells of one
// place are split, sampled and thinned, and what comes out is copied to the others. So
// that cells fit, the lattice's steps are made to go into the way between the places, and
// places are compared cell by cell: in unit cells of one size.

// repeats are the places of a tree that have the same.
type repeats struct {
	finest float64    // vertices are rounded to it, mm: what 24 bits hold at all places
	unit   int32      // size of the cells that are compared and copied, in finest steps
	stands []standing // meshes as they stand in the solid
	groups []*repeatGroup
	copies map[[3]int32]*repeatCopy // by the least corner of a unit cell that is a copy
	homes  map[[3]int32]int16       // group, plus 1, by the least corner of a unit cell that is copied
}

// standing is a mesh as it stands.
type standing struct {
	mesh *TriMesh
	to   Transform
	box  Box
}

// repeatGroup is a mesh that stands in several places, turned the same way.
type repeatGroup struct {
	home   int // of stands
	copies []*repeatCopy
	border []borderCell // unit cells that are copied and have a neighbour that is not
	seam   []link       // see repeats_seam.go
}

// repeatCopy is a place that has what its home has.
type repeatCopy struct {
	group *repeatGroup
	stand int      // of stands
	steps [3]int32 // from the home
	by    Vec      // the same in mm
	seam  []link   // see repeats_seam.go
}

// borderCell is a unit cell, and the ways to those of its neighbours that are not copied.
type borderCell struct {
	at   [3]int32
	ways [][3]int32
}

// errUnlike is that what should be alike came out in different ways.
var errUnlike = errors.New("geom: alike places were not drawn alike")

// unitCell is about the size of unit cells, mm: they are larger than those that
// need splitting, and few between two places are drawn for nothing.
const unitCell = 4

// standsOf lists the meshes in s.
func standsOf(s Solid) (list []standing) {
	var walk func(s Solid)
	add := func(m *MeshSolid, to Transform) {
		list = append(list, standing{m.mesh, to, to.Box(m.box)})
	}
	walk = func(s Solid) {
		switch s := s.(type) {
		case *union:
			for _, k := range s.children {
				walk(k)
			}
		case *intersection:
			for _, k := range s.children {
				walk(k)
			}
		case *complement:
			walk(s.s)
		case *shifted:
			walk(s.s)
		case *smoothUnion:
			walk(s.a)
			walk(s.b)
		case *MeshSolid:
			add(s, Identity())
		case *placed:
			if m, ok := s.s.(*MeshSolid); ok {
				add(m, s.to)
			}
		}
	}
	walk(s)
	return list
}

// newRepeats groups the meshes in s that stand in several places; nil where there
// are none.
func newRepeats(s Solid) *repeats {
	r := &repeats{stands: standsOf(s), copies: map[[3]int32]*repeatCopy{}, homes: map[[3]int32]int16{}}
	used := make([]bool, len(r.stands))
	for i, home := range r.stands {
		if used[i] {
			continue
		}
		g := &repeatGroup{home: i}
		for j := i + 1; j < len(r.stands); j++ {
			k := &r.stands[j]
			by := k.to.move.Sub(home.to.move)
			if k.mesh != home.mesh || used[j] || !home.to.movedTo(k.to, by) {
				continue
			}
			used[j] = true
			if by.Norm() > unitCell { // a mesh may be there twice
				g.copies = append(g.copies, &repeatCopy{group: g, stand: j, by: by})
			}
		}
		if len(g.copies) > 0 {
			r.groups = append(r.groups, g)
		}
	}
	if len(r.groups) == 0 {
		return nil
	}
	box := s.BoundingBox()
	most := box.Min.Abs().Max(box.Max.Abs())
	_, exp := math.Frexp(1.01 * max(most.X, most.Y, most.Z))
	r.finest = math.Ldexp(1, exp-24)
	slices.SortStableFunc(r.groups, func(a, b *repeatGroup) int { return cmp.Compare(b.worth(r), a.worth(r)) })
	return r
}

// worth is how many facets need not be drawn.
func (g *repeatGroup) worth(r *repeats) int {
	return len(g.copies) * len(r.stands[g.home].mesh.Triangles)
}

// steps returns the lattice's steps, none greater than step, of which whole unit cells go
// into the ways from home to copies along each axis; a way for which that cannot be had
// is dropped. It sets the unit, a power of two of steps.
func (r *repeats) steps(step float64) Vec {
	r.unit = 1
	for 2*float64(r.unit)*step <= unitCell {
		r.unit *= 2
	}
	unit := float64(r.unit)
	steps := wholeSteps(r.ways(), unit*step).Mul(1 / unit)
	for k := range 3 {
		if steps.along(k) == 0 {
			steps.setAlong(k, step)
		}
	}
	for _, g := range r.groups {
		g.copies = slices.DeleteFunc(g.copies, func(c *repeatCopy) bool {
			for k := range 3 {
				n := math.Round(c.by.along(k) / (unit * steps.along(k)))
				c.steps[k] = int32(n) * r.unit
				if math.Abs(n*unit*steps.along(k)-c.by.along(k)) > alikeWithin {
					return true
				}
			}
			return false
		})
	}
	r.groups = slices.DeleteFunc(r.groups, func(g *repeatGroup) bool { return len(g.copies) == 0 })
	return steps
}

// ways lists those from homes to copies.
func (r *repeats) ways() (list []Vec) {
	for _, g := range r.groups {
		for _, c := range g.copies {
			list = append(list, c.by)
		}
	}
	return list
}

// wholeSteps returns steps no longer than wanted, nor less than half, of which along each axis
// a whole number goes into the shortest of the ways that is a step at least; 0 along an axis
// where none goes.
func wholeSteps(ways []Vec, wanted float64) (steps Vec) {
	for k := range 3 {
		pitch := math.Inf(1)
		for _, w := range ways {
			if way := math.Abs(w.along(k)); way >= wanted {
				pitch = min(pitch, way)
			}
		}
		if !math.IsInf(pitch, 1) {
			steps.setAlong(k, pitch/math.Ceil(pitch/wanted))
		}
	}
	return steps
}

// unitOf returns the least corner of the unit cell that the finest cell at p is in.
func (r *repeats) unitOf(p [3]int32) [3]int32 {
	return [3]int32{p[0] &^ (r.unit - 1), p[1] &^ (r.unit - 1), p[2] &^ (r.unit - 1)}
}

// homeOf moves a point of a copy to its home; others stay.
func (t *octree) homeOf(p Vec) Vec {
	if t.repeats != nil {
		if c := t.repeats.copies[t.repeats.unitOf(t.finest(p))]; c != nil {
			return p.Sub(c.by)
		}
	}
	return p
}

// copiesOf returns where a point of a home is in its copies.
func (t *octree) copiesOf(p Vec) (list []Vec) {
	if t.repeats == nil {
		return nil
	}
	if n := t.repeats.homes[t.repeats.unitOf(t.finest(p))]; n > 0 {
		for _, c := range t.repeats.groups[n-1].copies {
			list = append(list, p.Add(c.by))
		}
	}
	return list
}
