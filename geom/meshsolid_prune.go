package geom

import "math"

// prunedMesh is a mesh solid for the points of one box: it knows all
// triangles that can be nearest to one of them, and asks each in turn.
type prunedMesh struct {
	whole  *meshBody
	centre Vec
	list   []nearTriangle
}

// nearTriangle is a triangle, at least how far it is from the centre that the
// list was made for, by which lists are sorted, and the ball that holds it.
type nearTriangle struct {
	from float32
	slot int32
	ball ball32
}

// maxList is the greatest number of triangles that is worth a list: asking
// more one by one takes longer than a search of the tree.
const maxList = 100

// meshPruning chooses the triangles that can be nearest to a point of a box.
type meshPruning struct {
	boxFrame
	tree  *bvh
	limit float64 // no point of the box is farther than this from the mesh
	n     int
	list  [maxList]nearTriangle
}

// begin takes the nearest point to the box's centre.
func (c *meshPruning) begin(h *hit) {
	d := math.Sqrt(h.square)
	c.limit = min(d+c.radius, c.farthest(&c.tree.triangles[h.slot]))
	c.limit += c.tree.slack + 1e-9*c.limit
}

// offer adds the triangle unless it is farther from the whole box than the
// nearest triangle can be from any point of it. It returns false when the list
// is full.
func (c *meshPruning) offer(slot int32) bool {
	t := &c.tree.triangles[slot]
	if c.boundsGap(t) > c.limit {
		return true
	}
	way, _ := t.closest(c.centre)
	d := way.Norm()
	if c.beyond(way, d) > c.limit {
		return true
	}
	if c.n == maxList {
		return false
	}
	x := nearTriangle{down32(d - c.tree.slack - 1e-12*d), slot, c.tree.balls[slot]}
	i := c.n
	for ; i > 0 && x.before(c.list[i-1]); i-- {
		c.list[i] = c.list[i-1]
	}
	c.list[i] = x
	c.n++
	return true
}

func (x nearTriangle) before(y nearTriangle) bool {
	return x.from < y.from || x.from == y.from && x.slot < y.slot
}

// hopeless reports whether the list is all but sure to overflow, d being the
// distance of the centre: half of the flat surface that would be within reach
// holds too many triangles of mean size.
func (c *meshPruning) hopeless(d float64) bool {
	r := c.limit + min(c.half.X, c.half.Y, c.half.Z)
	return 0.5*math.Pi*(r*r-d*d) > maxList*c.tree.meanArea
}

func (c *meshPruning) solid(whole *meshBody) *prunedMesh {
	return &prunedMesh{whole, c.centre, append([]nearTriangle(nil), c.list[:c.n]...)}
}

// PruneByValue returns a solid that keeps the triangles that can be nearest to a point
// of b, or s itself while they are many.
func (s *meshBody) PruneByValue(b Box) Solid {
	c := meshPruning{boxFrame: frameOf(b), tree: s.tree}
	h := s.tree.nearest(c.centre)
	if b.IsEmpty() || !h.found() {
		return s
	}
	c.begin(&h)
	if c.hopeless(math.Sqrt(h.square)) {
		return s
	}
	full := false
	s.tree.near(&c.box, c.limit, func(slot int32) float64 {
		if full = !c.offer(slot); full {
			return -1
		}
		return c.limit
	})
	if full {
		return s
	}
	return c.solid(s)
}

// BoundingBox returns that of the whole mesh.
func (s *prunedMesh) BoundingBox() Box { return s.whole.box }

// Evaluate returns the exact signed distance to the whole mesh.
func (s *prunedMesh) Evaluate(p Vec) float64 {
	h := s.nearest(p)
	return s.whole.value(p, &h)
}

// Gradient is as for the whole mesh.
func (s *prunedMesh) Gradient(p Vec) (float64, Vec) {
	h := s.nearest(p)
	return s.whole.gradient(p, &h)
}

// nearest finds what the whole tree would find.
func (s *prunedMesh) nearest(p Vec) hit { return s.nearestBeyond(p, -1) }

// nearestBeyond is nearest where no triangle is within near of p; else it is any that is.
func (s *prunedMesh) nearestBeyond(p Vec, near float64) hit {
	enough := squareOf(near)
	best := noHit
	off := p.Dist(s.centre)
	limit, within := math.MaxFloat64, math.Inf(1)
	for i := range s.list {
		x := &s.list[i]
		if float64(x.from) > limit {
			break
		}
		if x.ball.beyond(p, within) {
			continue
		}
		if best.try(&s.whole.tree.triangles[x.slot], x.slot, p) {
			if best.square <= enough {
				return best
			}
			within = s.whole.tree.reach(math.Sqrt(best.square))
			limit = within + off
		}
	}
	return best
}

// PruneByValue shortens the list.
func (s *prunedMesh) PruneByValue(b Box) Solid {
	if len(s.list) < 3 || b.IsEmpty() {
		return s
	}
	c := meshPruning{boxFrame: frameOf(b), tree: s.whole.tree}
	h := s.nearest(c.centre)
	if !h.found() {
		return s
	}
	c.begin(&h)
	off := c.centre.Dist(s.centre) + c.radius
	for _, x := range s.list {
		if float64(x.from)-off > c.limit {
			break
		}
		c.offer(x.slot) // is never full: the list was not longer
	}
	if c.n == len(s.list) && c.n <= 8 { // too few to be worth a better order
		return s
	}
	return c.solid(s.whole)
}
