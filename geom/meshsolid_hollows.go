package geom

import (
	"context"
	"slices"
)

// Hollow is a shell of a mesh that faces inwards.
type Hollow struct {
	Triangle int     // its first
	At       Vec     // near there, mm
	Volume   float64 // of what it goes round, mm³, above 0
	Crosses  bool    // it cuts through a shell that faces outwards: no hollow, but one turned over
}

// FillHollows returns m without its hollows, and what those are. The mesh must
// be one that NewMeshSolid takes. The error is that of ctx.
func FillHollows(ctx context.Context, m *TriMesh) (*TriMesh, []Hollow, error) {
	edges, err := findEdges(m)
	if err != nil {
		return nil, nil, err
	}
	var hollows []Hollow
	var kept []int32
	var inner []meshShell
	for _, s := range findShells(m, edges) {
		if s.volume >= 0 || s.isSheet() {
			kept = append(kept, s.triangles...)
			continue
		}
		first := int(s.triangles[0])
		at, _, _ := m.Corners(first)
		hollows, inner = append(hollows, Hollow{Triangle: first, At: at, Volume: -s.volume}), append(inner, s)
	}
	if len(hollows) == 0 || len(kept) == 0 {
		return m, nil, nil
	}
	slices.Sort(kept)
	solid := m.part(kept)
	for i, s := range inner {
		if hollows[i].Crosses, err = crossesShell(ctx, solid, m.part(s.triangles)); err != nil {
			return nil, nil, err
		}
	}
	return solid, hollows, nil
}

// mostHollowCrossings bounds the search in a mesh that crosses itself all over.
const mostHollowCrossings = 1 << 16

// crossesShell reports whether triangles of a and of b meet; where there are
// more crossings than can be looked at, it takes them to.
func crossesShell(ctx context.Context, a, b *TriMesh) (bool, error) {
	box, both := b.BoundingBox(), &TriMesh{Vertices: a.Vertices}
	for t := range a.Triangles {
		p, q, r := a.Corners(t)
		if near := EmptyBox().Include(p).Include(q).Include(r); !near.Intersect(box).IsEmpty() {
			both.Triangles = append(both.Triangles, a.Triangles[t])
		}
	}
	first := len(both.Triangles)
	both.Triangles = append(both.Triangles, b.Triangles...)
	found, err := SelfCrossings(ctx, both, mostHollowCrossings)
	if len(found) == mostHollowCrossings {
		return true, err
	}
	for _, c := range found {
		if c.A < first && c.B >= first {
			return true, err
		}
	}
	return false, err
}
