package geom

import (
	"math"
	"slices"
)

// patch is the surface within one leaf: closed loops of vertices on the cell's
// faces, each filled with triangles inside the cell. A cone of triangles from
// a point inside a convex cell over a loop on its faces never crosses itself,
// and cells touch only along loops, so a mesh of such patches is closed,
// manifold and free of self-intersections by construction. The outline of the
// surface is sampled face by face, as in "cubical marching squares" (Ho, Wu, Chen,
// Chuang & Ouhyoung, Eurographics 2005).
type patch struct {
	loops []loop
	err   float64 // how far a patch that is not certain was found from the surface, mm

	// What the loops were sampled from, all in a row, and the loops as they came
	// out, of the trial to begin with: what has not changed in a leaf need not be
	// sampled again.
	from []Vec
	old  []loop
}

type loop struct {
	ids   []int32
	apex  Vec
	coned bool // filled from the apex; otherwise from vertex start
	start int  // of ids
}

// sampling holds the vertices that outlines are sampled from: crossings with
// the surface's normal, corners of chords with a zero normal.
type sampling struct {
	at     []Vec
	normal []Vec
}

// addLinks enters the outline of a face in a leaf that lies on its lesser
// (lower) or greater side. corner is the vertex of a bent chord.
func (o *faceSurface) addLinks(l *leaf, lower bool, corner int32) {
	if l == nil {
		return
	}
	o.chords(func(enter, leave int32) {
		from, to := enter, leave
		if !lower {
			from, to = to, from
		}
		if o.bent {
			l.links = append(l.links, link{from, corner}, link{corner, to})
			return
		}
		l.links = append(l.links, link{from, to})
	})
	for _, p := range o.pairs {
		from, to := p[0], p[1]
		if !lower {
			from, to = to, from
		}
		l.links = append(l.links, link{from, to})
	}
}

// closeLoops joins links end to end. Two straight links there and back enclose
// nothing and are dropped: the neighbours' triangles meet along them. A loop
// begins at its first point in the order of coordinates, however links come.
func closeLoops(links []link, d *sampling) [][]int32 {
	var loops [][]int32
	var room [32]bool
	used := room[:]
	if len(links) > len(room) {
		used = make([]bool, len(links))
	}
	next := nextLink(links)
	for i := range links {
		if used[i] {
			continue
		}
		ids := make([]int32, 0, len(links))
		for j := i; !used[j]; {
			used[j] = true
			ids = append(ids, links[j].from)
			k := next(links[j].to)
			if k < 0 {
				break
			}
			j = k
		}
		if len(ids) > 2 {
			turnToFirst(ids, d)
			loops = append(loops, ids)
		}
	}
	return loops
}

// turnToFirst turns a loop so that its first point in the order of coordinates
// leads.
func turnToFirst(ids []int32, d *sampling) {
	first := 0
	for i := range ids {
		if d.at[ids[i]].before(d.at[ids[first]]) {
			first = i
		}
	}
	slices.Reverse(ids[:first])
	slices.Reverse(ids[first:])
	slices.Reverse(ids)
}

// nextLink returns a search for the link that starts at a vertex.
func nextLink(links []link) func(id int32) int {
	if len(links) <= 16 {
		return func(id int32) int {
			for i := range links {
				if links[i].from == id {
					return i
				}
			}
			return -1
		}
	}
	at := make(map[int32]int, len(links))
	for i, l := range links {
		at[l.from] = i
	}
	return func(id int32) int {
		if i, ok := at[id]; ok {
			return i
		}
		return -1
	}
}

// sample fills the loops of a leaf.
func (t *octree) sample(l *leaf, d *sampling) {
	if l.faceted != nil {
		l.faceted.fill(t.leafBox(l), d, len(d.at))
		return
	}
	loops := closeLoops(l.links, d)
	if len(loops) == 0 {
		l.patch = patch{}
		return
	}
	if l.patch.redo(loops, d) {
		return
	}
	was := l.patch
	l.patch = patch{from: pointsOf(loops, d), loops: make([]loop, 0, len(loops))}
	b := t.leafBox(l)
	w := t.witness(l, b)
	for _, ids := range loops {
		lp := loop{ids: ids}
		start, ok := flatFan(l, b, ids, d)
		if ok {
			// A smaller neighbour may have added vertices after the trial; and in
			// a thin slab that meets a face at a small angle the loop may still
			// end short of the surface.
			fan := fanOf(start, ids, d)
			var err float64
			if l.thin {
				err, _ = w.missed(fan)
			} else {
				err, _ = w.error(fan, t.tol)
			}
			ok = err <= t.tol
		}
		if ok {
			lp.start = start
		} else {
			lp.coned = true
			const enough = 0.6
			err, kept := math.Inf(1), false
			if len(loops) == 1 && was.isCone() {
				lp.apex = was.old[0].apex
				err, kept = w.regrown(&was, coneOf(lp.apex, ids, d), enough*t.tol)
			}
			if !kept {
				lp.apex, err = t.apex(l, b, ids, d, &w, len(loops) > 1, enough*t.tol)
			}
			l.patch.err = max(l.patch.err, err)
		}
		l.patch.loops = append(l.patch.loops, lp)
	}
	l.patch.old = l.patch.loops
}

// redo takes over the loops of an earlier sampling when they run through the
// same points, with the vertices' new numbers.
func (p *patch) redo(loops [][]int32, d *sampling) bool {
	same, n := len(loops) == len(p.old), 0
	for _, ids := range loops {
		for _, id := range ids {
			same = same && n < len(p.from) && samePoint(p.from[n], d.at[id])
			n++
		}
	}
	same = same && n == len(p.from)
	for i := range loops {
		same = same && len(loops[i]) == len(p.old[i].ids)
	}
	if !same {
		return false
	}
	p.loops = make([]loop, len(loops))
	for i, ids := range loops {
		p.loops[i] = p.old[i]
		p.loops[i].ids = ids
	}
	return true
}

// samePoint reports whether two points are one crossing, as two cells found it.
func samePoint(a, b Vec) bool {
	way := a.Sub(b)
	return way.Dot(way) <= onSurface*onSurface
}

// pointsOf returns the points that loops run through, all in a row.
func pointsOf(loops [][]int32, d *sampling) []Vec {
	n := 0
	for _, ids := range loops {
		n += len(ids)
	}
	points := make([]Vec, 0, n)
	for _, ids := range loops {
		for _, id := range ids {
			points = append(points, d.at[id])
		}
	}
	return points
}

// isCone reports whether the patch was one cone.
func (p *patch) isCone() bool { return len(p.old) == 1 && p.old[0].coned }

// has reports whether the only loop ran from a to b.
func (p *patch) has(a, b Vec) bool {
	for i, q := range p.from {
		if samePoint(q, a) && samePoint(p.from[(i+1)%len(p.from)], b) {
			return true
		}
	}
	return false
}

// flatFan chooses the vertex from which to fill a small loop of a flat leaf
// without an apex: that with the best worst triangle, of those that keep within the
// cell. Larger loops have vertices in line on one face and need an apex.
func flatFan(l *leaf, b Box, ids []int32, d *sampling) (int, bool) {
	n := len(ids)
	if !l.flat || n > 6 || n != len(l.links) {
		return 0, false
	}
	var normal Vec
	for _, id := range ids {
		normal = normal.Add(d.normal[id])
	}
	normal = normal.Unit()
	best, at := 1e-3, -1
	for s := range ids {
		worst := math.Inf(1)
		for k := 1; k+1 < n; k++ {
			if k > 1 && onOneFace(b, d.at[ids[s]], d.at[ids[(s+k)%n]]) {
				worst = math.Inf(-1) // the neighbour may have the same edge
			}
			worst = min(worst, quality(d.at[ids[s]], d.at[ids[(s+k)%n]], d.at[ids[(s+k+1)%n]], normal))
		}
		if worst > best {
			best, at = worst, s
		}
	}
	return at, at >= 0
}

// onOneFace reports whether p and q, in the cell b, lie on one of its faces.
func onOneFace(b Box, p, q Vec) bool {
	for axis := range 3 {
		x := p.along(axis)
		if x == q.along(axis) && (x == b.Min.along(axis) || x == b.Max.along(axis)) {
			return true
		}
	}
	return false
}

// quality is twice the area that a triangle shows along the unit vector n over
// the square of its longest edge, negative when it faces away.
func quality(a, b, c, n Vec) float64 {
	u, v, w := b.Sub(a), c.Sub(b), a.Sub(c)
	long := max(u.Dot(u), max(v.Dot(v), w.Dot(w)))
	if long == 0 {
		return 0
	}
	return u.Cross(v).Dot(n) / long
}

// apex chooses the point from which to fill a loop: the corner or edge of the
// solid where the tangents at the loop meet, or the surface next to the loop's
// middle, the first that leaves the surface by no more than enough, else the one
// that leaves it least. It returns that greatest distance.
// Loops that share a cell keep to the middle of their own, which keeps them
// apart.
func (t *octree) apex(l *leaf, b Box, ids []int32, d *sampling, w *witness, shared bool, enough float64) (Vec, float64) {
	mid := Vec{}
	for _, id := range ids {
		mid = mid.Add(d.at[id])
	}
	mid = mid.Mul(1 / float64(len(ids)))
	best, err := mid, math.Inf(1)
	var missed Vec // the landmark farthest from the best patch so far
	try := func(p Vec) bool {
		p = clampInside(p, b, -1)
		e := math.Abs(w.solid.Evaluate(p))
		if e < err {
			far, at := w.error(coneOf(p, ids, d), err)
			if e = max(e, far); e < err {
				best, err, missed = p, e, at
			}
		}
		return err <= enough
	}
	switch {
	case shared:
		try(mid)
		return best, err
	case l.flat:
		try(slide(l.solid, mid, -1))
	case try(tangentMeet(mid, ids, d, 0.02)), try(slide(l.solid, mid, -1)), try(tangentMeet(mid, ids, d, 0.15)):
	default:
		try(mid)
	}
	if err > t.tol && missed != (Vec{}) {
		try(missed)
	}
	return best, err
}

// trial samples the patch that the leaf would have with neighbours of its own
// size, as a flat leaf or not, and returns its greatest sampled distance from
// the surface.
func (t *octree) trial(l *leaf, b Box, w *witness, flat bool) float64 {
	t.findOwn(l)
	try := leaf{solid: l.solid, x: l.x, y: l.y, z: l.z, size: l.size, values: l.values, flat: flat, own: l.own}
	d := t.outlineAlone(&try)
	if d == nil {
		return math.Inf(1)
	}
	loops := closeLoops(try.links, d)
	if len(loops) != 1 {
		return math.Inf(1)
	}
	lp, err := loop{ids: loops[0]}, 0.0
	if flat {
		var ok bool
		if lp.start, ok = flatFan(&try, b, lp.ids, d); !ok {
			return math.Inf(1)
		}
		err, _ = w.error(fanOf(lp.start, lp.ids, d), t.tol)
	} else {
		lp.coned = true
		lp.apex, err = t.apex(&try, b, lp.ids, d, w, false, t.tol)
	}
	if err <= t.tol { // to be taken over if no neighbour adds vertices
		l.patch = patch{err: err, from: pointsOf(loops, d), old: []loop{lp}}
	}
	return err
}

// outlineAlone links up a leaf from its own edges and faces, as if no
// neighbour were smaller. It returns nil where a face is crossed four times.
func (t *octree) outlineAlone(l *leaf) *sampling {
	const edges, faces = 12, 6
	var room [edges]crossing
	list := room[:0]
	d := &sampling{at: make([]Vec, 0, edges+faces), normal: make([]Vec, 0, edges+faces)}
	for e := range l.edges {
		if !l.crossed(e) {
			continue
		}
		c := crossing{leaf: l, edge: e}
		c.at, c.normal = t.locate(l, e)
		list = append(list, c)
		d.at, d.normal = append(d.at, c.at), append(d.normal, c.normal)
		l.edges[e] = int32(len(list))
	}
	for axis := 0; axis < 3; axis++ {
		for side := 0; side < 2; side++ {
			o, ok := l.outlineOn(axis, side)
			if !ok {
				continue
			}
			if o.four {
				return nil
			}
			t.refine(&o, list)
			corner := int32(len(d.at))
			if o.bent {
				d.at, d.normal = append(d.at, o.corner), append(d.normal, Vec{})
			}
			o.addLinks(l, side == 1, corner)
		}
	}
	return d
}
