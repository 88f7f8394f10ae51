package geom

import (
	"context"
	"math"
	"slices"
)

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
