package geom

import (
	"cmp"
	"slices"
)

// twin is a triangle by its corners in rising order.
type twin struct {
	corners  [3]int32
	triangle int
	forwards bool // its corners go round as the sorted ones do
}

// twins returns all triangles in the order of their corners.
func (d *mender) twins() []twin {
	list := make([]twin, len(d.mesh.Triangles))
	for t, c := range d.mesh.Triangles {
		lead := 0
		for k := range c {
			if c[k] < c[lead] {
				lead = k
			}
		}
		a, b, e := c[lead], c[(lead+1)%3], c[(lead+2)%3]
		list[t] = twin{[3]int32{a, min(b, e), max(b, e)}, t, b < e}
	}
	slices.SortFunc(list, func(s, t twin) int {
		return cmp.Or(slices.Compare(s.corners[:], t.corners[:]), cmp.Compare(s.triangle, t.triangle))
	})
	return list
}

// leaveOutTwins keeps one of several triangles on the same corners. Of two
// that face each other it keeps the one that its neighbours run back along, or
// none: two alike facets face to face hold nothing.
func (d *mender) leaveOutTwins() {
	list := d.twins()
	drop := make([]bool, len(list))
	var facing [][2]int // a forward and a backward triangle on the same corners
	count, first := 0, len(list)
	leave := func(t int) {
		if !drop[t] {
			drop[t], count, first = true, count+1, min(first, t)
		}
	}
	for len(list) > 0 {
		n := 1
		for n < len(list) && list[n].corners == list[0].corners {
			n++
		}
		pair := [2]int{-1, -1}
		for _, w := range list[:n] {
			side := 0
			if w.forwards {
				side = 1
			}
			if pair[side] < 0 {
				pair[side] = w.triangle
			} else {
				leave(w.triangle)
			}
		}
		if pair[0] >= 0 && pair[1] >= 0 {
			facing = append(facing, pair)
		}
		list = list[n:]
	}
	if len(facing) > 0 {
		d.settleFacing(facing, drop, leave)
	}
	if count == 0 {
		return
	}
	at, _, _ := d.mesh.Corners(first)
	d.keep(func(t int) bool { return !drop[t] })
	d.done(LeftOutTwins, count, at, 0)
}

// settleFacing counts how often each edge of the pairs is run along, in which the two
// of a pair cancel out: a triangle stays when all its edges want it.
func (d *mender) settleFacing(facing [][2]int, drop []bool, leave func(int)) {
	want := map[[2]int32]int{} // runs from the first to the second that lack one back
	for _, p := range facing {
		c := d.mesh.Triangles[p[0]]
		for k := range c {
			want[[2]int32{c[k], c[(k+1)%3]}], want[[2]int32{c[(k+1)%3], c[k]}] = 0, 0
		}
	}
	for t, c := range d.mesh.Triangles {
		if drop[t] {
			continue
		}
		for k := range c {
			there, back := [2]int32{c[k], c[(k+1)%3]}, [2]int32{c[(k+1)%3], c[k]}
			if _, ok := want[there]; ok {
				want[there]--
				want[back]++
			}
		}
	}
	wanted := func(t int) bool {
		c := d.mesh.Triangles[t]
		for k := range c {
			if want[[2]int32{c[k], c[(k+1)%3]}] != 1 {
				return false
			}
		}
		return true
	}
	for _, p := range facing {
		for side := range p {
			if !wanted(p[side]) {
				leave(p[side])
			}
		}
	}
}
