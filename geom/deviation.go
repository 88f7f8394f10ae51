package geom

import (
	"context"
	"math"
	"sort"
	"sync"

	"halfpour/geom/parallel"
)

// Deviation returns the greatest distance found between the mesh and the surface
// of s, in mm, and where: at the middle of every facet and of every edge. s
// must know its distance near the surface exactly; a solid that under-states it
// is under-stated here. It stops with ctx's error.
func Deviation(ctx context.Context, m *TriMesh, s Solid) (float64, Vec, error) {
	groups := m.groups(deviationBlock)
	var mu sync.Mutex
	worst, at := 0.0, Vec{}
	err := parallel.For(ctx, len(groups), 0, func(i int) {
		w, p := m.groupDeviation(groups[i], s)
		mu.Lock()
		defer mu.Unlock()
		if w > worst || w == worst && p.before(at) {
			worst, at = w, p
		}
	})
	return worst, at, err
}

const deviationBlock = 4.0 // mm: facets are looked at in blocks, for which the solid is pruned

// groups sorts the facets by the block that their middle is in.
func (m *TriMesh) groups(block float64) [][]int32 {
	type key [3]int32
	byBlock := map[key][]int32{}
	for t := range m.Triangles {
		a, b, c := m.Corners(t)
		p := a.Add(b).Add(c).Mul(1 / (3 * block))
		k := key{int32(math.Floor(p.X)), int32(math.Floor(p.Y)), int32(math.Floor(p.Z))}
		byBlock[k] = append(byBlock[k], int32(t))
	}
	groups := make([][]int32, 0, len(byBlock))
	for _, g := range byBlock {
		groups = append(groups, g)
	}
	sort.Slice(groups, func(i, j int) bool { return groups[i][0] < groups[j][0] })
	return groups
}

func (m *TriMesh) groupDeviation(group []int32, s Solid) (float64, Vec) {
	b := EmptyBox()
	for _, t := range group {
		p, q, r := m.Corners(int(t))
		b = b.Include(p).Include(q).Include(r)
	}
	s = PruneByValue(s, b)
	worst, at := 0.0, Vec{}
	for _, t := range group {
		p, q, r := m.Corners(int(t))
		for _, x := range [4]Vec{p.Add(q).Add(r).Mul(1.0 / 3), p.Lerp(q, 0.5), q.Lerp(r, 0.5), r.Lerp(p, 0.5)} {
			if d := math.Abs(s.Evaluate(x)); d > worst {
				worst, at = d, x
			}
		}
	}
	return worst, at
}
