package geom

import (
	"cmp"
	"context"
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

// finder looks for what may be copied.
type finder struct {
	*octree
	*repeats
	units  map[[3]int32]*seed
	owners map[[3]int32]int
	likes  map[likeness]bool
}

type likeness struct {
	at   [3]int32
	copy *repeatCopy
}

// findRepeats chooses what is copied: unit cells nearer to a home than to other meshes that are,
// with all cells round them, what they are in each of the copies. units are those that may
// hold surface. It takes the leaves of the copies.
func (t *octree) findRepeats(ctx context.Context, units []seed) error {
	f := finder{t, t.repeats, make(map[[3]int32]*seed, len(units)), map[[3]int32]int{}, map[likeness]bool{}}
	for i := range units {
		f.units[units[i].corner()] = &units[i]
	}
	for n, g := range f.groups {
		var own []*seed
		for i := range units {
			if f.owner(units[i].corner()) == g.home {
				own = append(own, &units[i])
			}
		}
		f.dropUnlike(g, own)
		if len(g.copies) == 0 {
			continue
		}
		for i, u := range own {
			if i&63 == 0 && ctx.Err() != nil {
				return ctx.Err()
			}
			if f.copied(g, u.corner()) {
				f.homes[u.corner()] = int16(n + 1)
				u.group = int16(n + 1)
				if u.cell.leaf != nil {
					u.cell.leaf.group = u.group
					if f := u.cell.leaf.faceted; f != nil {
						f.group = u.group
					}
				}
			}
		}
		for _, u := range own {
			if u.group == 0 {
				continue
			}
			for _, c := range g.copies {
				at := moved(u.corner(), c.steps)
				f.repeats.copies[at] = c
				there := f.units[at]
				there.copied, there.cell.leaf = true, nil
			}
			if b := f.borderOf(u.corner()); len(b.ways) > 0 {
				g.border = append(g.border, b)
			}
		}
	}
	return nil
}

func (d *seed) corner() [3]int32 { return [3]int32{d.x, d.y, d.z} }

func moved(p, by [3]int32) [3]int32 { return [3]int32{p[0] + by[0], p[1] + by[1], p[2] + by[2]} }

// owner is which of the stands in groups a unit cell is nearest to.
func (f *finder) owner(at [3]int32) int {
	if o, ok := f.owners[at]; ok {
		return o
	}
	centre := f.box(at[0], at[1], at[2], f.unit).Centre()
	best, least := -1, [2]float64{math.Inf(1), math.Inf(1)}
	see := func(stand int) {
		b := f.stands[stand].box
		d := [2]float64{b.Distance(centre), b.Centre().Dist(centre)}
		if d[0] < least[0] || d[0] == least[0] && d[1] < least[1] {
			best, least = stand, d
		}
	}
	for _, g := range f.groups {
		see(g.home)
		for _, c := range g.copies {
			see(c.stand)
		}
	}
	f.owners[at] = best
	return best
}

// dropUnlike drops copies of which less than half is alike of what is in the best.
func (f *finder) dropUnlike(g *repeatGroup, own []*seed) {
	alike, most := map[*repeatCopy]int{}, 1
	for _, c := range g.copies {
		for _, u := range own {
			if f.like(u.corner(), c) {
				alike[c]++
			}
		}
		most = max(most, alike[c])
	}
	g.copies = slices.DeleteFunc(g.copies, func(c *repeatCopy) bool { return 2*alike[c] < most })
}

// copied reports whether a unit cell and all round it are as they are in all copies.
func (f *finder) copied(g *repeatGroup, at [3]int32) bool {
	for _, way := range ways {
		near := f.beside(at, way)
		if f.owner(near) != g.home {
			return false
		}
		for _, c := range g.copies {
			there := moved(near, c.steps)
			if f.owner(there) != c.stand || near == at && f.units[there] == nil || !f.like(near, c) {
				return false
			}
		}
	}
	return true
}

// ways are those from a cell to itself and its neighbours.
var ways = func() (list [][3]int32) {
	for i := int32(0); i < 27; i++ {
		list = append(list, [3]int32{i%3 - 1, i/3%3 - 1, i/9 - 1})
	}
	return list
}()

func (f *finder) beside(at, way [3]int32) [3]int32 {
	return [3]int32{at[0] + way[0]*f.unit, at[1] + way[1]*f.unit, at[2] + way[2]*f.unit}
}

// like reports whether a unit cell is as it is in a copy.
func (f *finder) like(at [3]int32, c *repeatCopy) bool {
	key := likeness{at, c}
	l, known := f.likes[key]
	if !known {
		l = f.compare(at, moved(at, c.steps), c.by)
		f.likes[key] = l
	}
	return l
}

func (f *finder) compare(a, b [3]int32, by Vec) bool {
	for k := range 3 {
		if min(a[k], b[k]) < 0 || max(a[k], b[k]) >= f.top {
			return false
		}
	}
	u, v := f.units[a], f.units[b]
	if u != nil && v != nil && (u.cell.leaf == nil) == (v.cell.leaf == nil) {
		return alike(u.solid, v.solid, by)
	}
	l, m := f.at(a, f.unit).leaf, f.at(b, f.unit).leaf
	switch {
	case u != nil && l == nil || v != nil && m == nil: // one is to be split
		return false
	case l == nil || m == nil:
		return l == m
	}
	s, _ := PruneBySign(l.solid, f.box(a[0], a[1], a[2], f.unit))
	o, _ := PruneBySign(m.solid, f.box(b[0], b[1], b[2], f.unit))
	return alike(s, o, by)
}

// borderOf lists the neighbours of a unit cell that are not copied and may have surface.
func (f *finder) borderOf(at [3]int32) borderCell {
	b := borderCell{at: at}
	for _, way := range ways {
		near := f.beside(at, way)
		if f.homes[near] == 0 && (f.units[near] != nil || f.at(near, f.unit).leaf != nil) {
			b.ways = append(b.ways, way)
		}
	}
	return b
}
