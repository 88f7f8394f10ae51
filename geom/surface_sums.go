package geom

// surfaceSum is what the volume within some triangles and the area of them follow
// from, for a volume seen from any point o: vol + o·way, mm³. In a mesh's own
// coordinates.
type surfaceSum struct {
	vol  float64 // seen from the origin
	way  Vec     // minus a third of the sum of area vectors, mm²
	area float64 // mm²
}

func (s *surfaceSum) add(t *surfaceSum) {
	s.vol += t.vol
	s.way = s.way.Add(t.way)
	s.area += t.area
}

func (s *surfaceSum) addTriangle(t *triangle) {
	n := t.normal().Mul(0.5)
	s.vol += t.a.Dot(n) / 3
	s.way = s.way.Sub(n.Mul(1.0 / 3))
	s.area += n.Norm()
}

// surfaceSums returns the sum of all triangles under each child of each node.
func (t *bvh) surfaceSums() [][2]surfaceSum {
	sums := make([][2]surfaceSum, len(t.nodes))
	for i := len(t.nodes) - 1; i >= 0; i-- { // children come after their parents
		for k, ref := range t.nodes[i].child {
			sum := &sums[i][k]
			if ref >= 0 {
				*sum = sums[ref][0]
				sum.add(&sums[ref][1])
				continue
			}
			for slot, end := ref.slots(); slot < end; slot++ {
				sum.addTriangle(&t.triangles[slot])
			}
		}
	}
	return sums
}

// sums are those of the tree, made when they are first asked for.
func (s *meshBody) sums() [][2]surfaceSum {
	s.sumsOnce.Do(func() { s.surfaceSums = s.tree.surfaceSums() })
	return s.surfaceSums
}

// inBox goes over the surface that a mesh has in a box: it calls whole, if that is
// not nil, with the sum of triangles that are all within it, and some with every
// other triangle that may be.
func (k *facetKey) inBox(b Box, whole func(*surfaceSum), some func(*triangle)) {
	const margin = 1e-9 // mm, for rounding: on the box's face is not within it
	inner := Box{b.Min.Add(Vec{margin, margin, margin}), b.Max.Sub(Vec{margin, margin, margin})}
	original := originalOf(k.to.Inverse(), b)
	t, sums := k.body.tree, k.body.sums()
	var stack [maxDepth]bvhRef
	for top := 1; top > 0; {
		top--
		at := stack[top]
		n := &t.nodes[at]
		for c, ref := range n.child {
			box := n.box(c)
			switch {
			case box.Intersect(original).IsEmpty():
			case whole != nil && inner.encloses(k.to.Box(box)):
				whole(&sums[at][c])
			case ref >= 0:
				stack[top] = ref
				top++
			default:
				for slot, end := ref.slots(); slot < end; slot++ {
					some(&t.triangles[slot])
				}
			}
		}
	}
}
