package geom

import (
	"context"
	"fmt"
)

// thin simplifies what is sampled, as uncrossed does, adds the whole facets and copies what is
// to be copied. It returns an error where the mesh crosses itself or touches itself along an
// edge, and where what is sampled, facets and copies do not fit together.
func thin(ctx context.Context, k *surface, budget, reach float64, workers int) (m *TriMesh, err error) {
	var open []int32
	out, crossings, err := uncrossed(ctx, k.sampled, clearOfOthers(k.sampled, k.gentle), budget, reach, k.ways, func(s *simplified) (*TriMesh, []Crossing, error) {
		drawn := k.joined(s)
		var start []int
		if m, start, err = k.complete(ctx, drawn, workers); err != nil {
			return nil, nil, err
		}
		copies, err := k.copy(ctx, m, drawn, start, workers)
		if err != nil {
			return nil, nil, err
		}
		open = s.openEdges()
		list, err := k.crossings(ctx, m, drawn, start, copies, open)
		return m, append(list, flattened(drawn.TriMesh)...), err
	})
	if err != nil {
		return nil, err
	}
	at := out.crowded
	for _, c := range crossings {
		at = append(at, c.At)
	}
	if len(at) > 0 {
		return nil, crossingError{at}
	}
	if err := k.fits(out, open); err != nil {
		return nil, err
	}
	return m, nil
}

// Thin returns a mesh with fewer triangles, as Simplify does, that does not cross itself
// either; nil where m crosses itself. Its vertices are rounded to 32 bits, as files hold
// them. It stops with ctx's error.
func Thin(ctx context.Context, m *TriMesh, distance float64) (*TriMesh, error) {
	gentle := make([]bool, len(m.Triangles))
	for t := range gentle {
		gentle[t] = true
	}
	out, crossings, err := uncrossed(ctx, m, gentle, distance, reachShare*distance, nil, func(s *simplified) (*TriMesh, []Crossing, error) {
		s.round32()
		list, err := SelfCrossings(ctx, s.TriMesh, mostCrossings)
		return s.TriMesh, append(list, flattened(s.TriMesh)...), err
	})
	if err != nil || len(crossings) > 0 {
		return nil, err
	}
	return out.TriMesh, nil
}

// reachShare is how far round a crossing facets stay in their planes, in the distances
// that others may move.
const reachShare = 25

// uncrossed simplifies a mesh and makes sure that what comes out does not cross itself:
// where it does, the facets about may from then on only move within their planes, and
// thinning begins anew; needles stay where that does not help.
// reach is how far round a crossing, in mm; look returns the mesh that is made of what comes
// out, with corners rounded to 32 bits, as files hold them, and where that crosses itself or
// is flattened; copies are the ways to where in it parts of m are too. It returns the
// crossings that stay.
func uncrossed(ctx context.Context, m *TriMesh, gentle []bool, budget, reach float64, copies []Vec, look func(*simplified) (*TriMesh, []Crossing, error)) (*simplified, []Crossing, error) {
	for blunt := true; ; {
		out, err := simplify(ctx, m, gentle, budget, blunt)
		if err != nil {
			return nil, nil, err
		}
		all, crossings, err := look(out)
		if err != nil {
			return nil, nil, err
		}
		switch {
		case len(crossings) == 0:
			return out, nil, nil
		case holdStill(m, gentle, all, crossings, reach, copies):
		case blunt:
			blunt = false
		default:
			return out, crossings, nil
		}
	}
}

// flattened lists the triangles that have no area, or a corner where another vertex is
// too: rounding does that to slivers.
func flattened(m *TriMesh) (list []Crossing) {
	places := NewWelder(len(m.Vertices))
	twice := make([]bool, len(m.Vertices))
	for v, p := range m.Vertices {
		distinct := len(places.points)
		twice[v] = int(places.Index(p)) < distinct
	}
	for t, v := range m.Triangles {
		p, q, r := m.Corners(t)
		if _, ok := seenAlong(p, q, r); !ok || twice[v[0]] || twice[v[1]] || twice[v[2]] {
			list = append(list, Crossing{t, t, 3, BoxOf(p, q, r).Centre()})
		}
	}
	return list
}

// crossingError says where a mesh crosses or touches itself and cannot be mended.
type crossingError struct{ at []Vec }

func (e crossingError) Error() string {
	return fmt.Sprintf("geom: the mesh crosses or touches itself near (%.1f, %.1f, %.1f) mm", e.at[0].X, e.at[0].Y, e.at[0].Z)
}

// uncross splits the leaves at places where what is sampled crosses or touches itself,
// in which loops that share a leaf come near each other; where there are only pieces of
// facets, it has them sampled instead. It returns false where there are neither.
func (t *octree) uncross(ctx context.Context, places []Vec) bool {
	t.redraw()
	any := false
	for _, p := range places {
		var list, faceted []*leaf
		p = t.homeOf(p)
		t.touching(Box{p, p}, func(l *leaf, _ Vec) {
			switch {
			case l.faceted != nil:
				faceted = append(faceted, l)
			case l.size > 1:
				list = append(list, l)
			}
		})
		if len(list) == 0 {
			list = faceted
		}
		for _, l := range list {
			l.sampled = l.sampled || l.faceted != nil
			t.splitLeaf(ctx, l, nil, l.keen)
		}
		any = any || len(list) > 0
	}
	return any
}

// round32 rounds the vertices to 32 bits.
func (m *TriMesh) round32() {
	for v, p := range m.Vertices {
		m.Vertices[v] = p.rounded32()
	}
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

// holdStill takes the marks off the triangles of m near crossings in out, where they may be
// at home or in a copy, and reports whether there were any.
func holdStill(m *TriMesh, marks []bool, out *TriMesh, crossings []Crossing, reach float64, copies []Vec) bool {
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
		for _, by := range copies {
			near = append(near, Box{b.Min.Sub(by), b.Max.Sub(by)})
		}
	}
	for _, b := range near {
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
