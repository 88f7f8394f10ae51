package geom

import "math"

// pending is a part of the tree still to be searched, and how far it is.
type pending struct {
	ref    bvhRef
	square float64
}

// nearest returns the nearest point of the mesh to p; of equally near
// triangles the one in the first slot.
func (t *bvh) nearest(p Vec) hit { return t.nearestBeyond(p, -1) }

// nearestBeyond is nearest where no point of the mesh is within near of p; else it is any
// that is.
func (t *bvh) nearestBeyond(p Vec, near float64) hit {
	enough := squareOf(near)
	best := noHit
	limit, within := math.MaxFloat64, math.Inf(1)
	var stack [maxDepth]pending
	top, ref := 0, bvhRef(0)
	for {
		for ref >= 0 {
			n := &t.nodes[ref]
			s0, s1 := n.squareTo(0, p), n.squareTo(1, p)
			near, far := 0, 1
			if s1 < s0 {
				near, far, s0, s1 = 1, 0, s1, s0
			}
			if s0 > limit {
				ref = noRef
				break
			}
			if s1 <= limit {
				stack[top] = pending{n.child[far], s1}
				top++
			}
			ref = n.child[near]
		}
		first, end := ref.slots()
		for i := first; i < end; i++ {
			if t.balls[i].beyond(p, within) {
				continue
			}
			if best.try(&t.triangles[i], i, p) {
				if best.square <= enough {
					return best
				}
				within = t.reach(math.Sqrt(best.square))
				limit = within * within
			}
		}
		for {
			if top == 0 {
				return best
			}
			top--
			if stack[top].square <= limit {
				ref = stack[top].ref
				break
			}
		}
	}
}

// reachSquared is reach for squares of distances.
func (t *bvh) reachSquared(square float64) float64 {
	d := t.reach(math.Sqrt(square))
	return d * d
}

// noRef is a leaf without triangles.
const noRef = bvhRef(^0)

// near calls visit for every triangle of which the leaf is within the distance
// d of b, the nearer leaves first by and large. What visit returns is the
// distance to go on with; below 0 ends the search.
func (t *bvh) near(b *Box, d float64, visit func(slot int32) float64) {
	limit := t.reachSquared(d * d)
	var stack [maxDepth]pending
	top, ref := 0, bvhRef(0)
	for {
		for ref >= 0 {
			n := &t.nodes[ref]
			s0, s1 := n.squareToBox(0, b), n.squareToBox(1, b)
			near, far := 0, 1
			if s1 < s0 {
				near, far, s0, s1 = 1, 0, s1, s0
			}
			if s0 > limit {
				ref = noRef
				break
			}
			if s1 <= limit {
				stack[top] = pending{n.child[far], s1}
				top++
			}
			ref = n.child[near]
		}
		first, end := ref.slots()
		for i := first; i < end; i++ {
			d := visit(i)
			if d < 0 {
				return
			}
			limit = t.reachSquared(d * d)
		}
		for {
			if top == 0 {
				return
			}
			top--
			if stack[top].square <= limit {
				ref = stack[top].ref
				break
			}
		}
	}
}

// measure returns the enclosed volume in mm³, as TriMesh.Volume does, the area of the
// triangles in mm² and the least box around them.
func (t *bvh) measure() (volume, area float64, box Box) {
	type sum struct {
		volume, area float64
		box          Box
	}
	origin := t.nodes[0].box(0).Centre()
	sums := make([]sum, chunksOf(len(t.triangles)))
	inChunks(len(t.triangles), func(chunk, from, to int) {
		s := sum{box: EmptyBox()}
		for i := from; i < to; i++ {
			u := &t.triangles[i]
			s.volume += u.a.Sub(origin).Dot(u.b.Sub(origin).Cross(u.c.Sub(origin))) / 6
			s.area += u.normal().Norm() / 2
			b := u.bounds()
			s.box.Min = Vec{min(s.box.Min.X, b.Min.X), min(s.box.Min.Y, b.Min.Y), min(s.box.Min.Z, b.Min.Z)}
			s.box.Max = Vec{max(s.box.Max.X, b.Max.X), max(s.box.Max.Y, b.Max.Y), max(s.box.Max.Z, b.Max.Z)}
		}
		sums[chunk] = s
	})
	box = EmptyBox()
	for _, s := range sums {
		volume, area, box = volume+s.volume, area+s.area, box.Union(s.box)
	}
	return volume, area, box
}
