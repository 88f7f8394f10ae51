package geom

import (
	"context"
	"fmt"
)

// thin simplifies what is sampled and makes sure that what comes out does not
// cross itself: where it does, the facets about may from then on only move
// within their planes, and thinning begins anew. Pieces of facets, which stay in
// the facets' planes, are not looked at among themselves. reach is how far
// round a crossing, in mm. It returns an error where what is sampled crosses
// itself.
func thin(ctx context.Context, k *surface, budget, reach float64) (*simplified, error) {
	gentle := clearOfOthers(k.sampled, k.gentle)
	for {
		out, err := simplify(ctx, k.sampled, gentle, budget)
		if err != nil {
			return nil, err
		}
		sound := make([]bool, len(out.from))
		for t, from := range out.from {
			sound[t] = k.piece[from]
		}
		crossings, err := selfCrossings(ctx, out.TriMesh, mostCrossings, sound)
		if err != nil {
			return nil, err
		}
		if len(crossings) == 0 {
			return out, nil
		}
		if !holdStill(k.sampled, gentle, out.TriMesh, crossings, reach) {
			return nil, crossingError{crossings}
		}
	}
}

// crossingError says that a mesh crosses itself and cannot be mended.
type crossingError struct{ all []Crossing }

func (e crossingError) Error() string {
	return fmt.Sprintf("geom: the mesh crosses itself: %v", e.all[0])
}

// uncross splits the leaves at places where what is sampled crosses or touches itself,
// in which loops that share a leaf come near each other. It returns false where there
// are none.
func (t *octree) uncross(ctx context.Context, places []Vec) bool {
	t.redraw()
	any := false
	for _, p := range places {
		var list []*leaf
		t.touching(Box{p, p}, func(l *leaf) {
			if l.faceted == nil && l.size > 1 {
				list = append(list, l)
			}
		})
		for _, l := range list {
			t.splitLeaf(ctx, l, nil, l.keen)
		}
		any = any || len(list) > 0
	}
	return any
}

// mostCrossings is how many crossings are mended in one go.
const mostCrossings = 1000

// clearOfOthers keeps the marks of triangles that share no vertex with an
// unmarked one.
func clearOfOthers(m *TriMesh, marks []bool) []bool {
	mixed := make([]bool, len(m.Vertices))
	for i, t := range m.Triangles {
		if !marks[i] {
			mixed[t[0]], mixed[t[1]], mixed[t[2]] = true, true, true
		}
	}
	clear := make([]bool, len(marks))
	for i, t := range m.Triangles {
		clear[i] = marks[i] && !mixed[t[0]] && !mixed[t[1]] && !mixed[t[2]]
	}
	return clear
}

// holdStill takes the marks off the triangles of m near crossings in out, and
// reports whether there were any.
func holdStill(m *TriMesh, marks []bool, out *TriMesh, crossings []Crossing, reach float64) bool {
	near := make([]Box, 0, len(crossings))
	all := EmptyBox()
	for _, c := range crossings {
		b := EmptyBox()
		for _, t := range [2]int{c.A, c.B} {
			p, q, r := out.Corners(t)
			b = b.Include(p).Include(q).Include(r)
		}
		b = b.Grow(reach)
		near = append(near, b)
		all = all.Union(b)
	}
	any := false
	for i := range m.Triangles {
		if !marks[i] {
			continue
		}
		p, q, r := m.Corners(i)
		b := BoxOf(p, q, r)
		if b.gap(all) > 0 {
			continue
		}
		for k := range near {
			if b.gap(near[k]) <= 0 {
				marks[i], any = false, true
				break
			}
		}
	}
	return any
}
