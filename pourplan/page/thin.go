package page

import (
	"context"
	"slices"

	"halfpour/geom"
)

// surface is a mesh whose triangles are of several classes, such as those that
// rubber touches and those that it does not.
type surface struct {
	mesh  *geom.TriMesh
	class []uint8 // of each triangle
	kept  []bool  // vertices round which thinning moves no facet; nil: none
}

// How far facets are moved by the first turn of thinning, and by the last at most, mm.
const (
	leastThinning = 0.03
	mostThinning  = 1
)

// thinned returns the surface with about as many triangles as asked, or itself
// when it has no more. It is for looking at: facets move, but for those at kept
// vertices and where classes meet, in as few turns as leave so few, whatever the last
// one leaves.
func (s surface) thinned(ctx context.Context, triangles int) (surface, error) {
	few := triangles + triangles/5
	if len(s.mesh.Triangles) <= few {
		return s, nil
	}
	mesh, from, err := geom.Simplify(ctx, s.mesh, few, leastThinning, mostThinning, s.held())
	if err != nil {
		return s, err
	}
	class := make([]uint8, len(from))
	for t, old := range from {
		class[t] = s.class[old]
	}
	return surface{mesh: mesh, class: class}, nil
}

// held tells of each vertex whether it is kept or facets of different classes
// meet there.
func (s surface) held() []bool {
	const none = 0xff
	first := slices.Repeat([]uint8{none}, len(s.mesh.Vertices))
	held := make([]bool, len(s.mesh.Vertices))
	copy(held, s.kept)
	for t, corners := range s.mesh.Triangles {
		for _, v := range corners {
			if first[v] == none {
				first[v] = s.class[t]
			}
			held[v] = held[v] || first[v] != s.class[t]
		}
	}
	return held
}
