package geom

import (
	"context"
	"fmt"
	"sync"
)

// knownCrossings is where a mesh crosses itself, once somebody has looked.
type knownCrossings struct {
	mu     sync.Mutex
	looked bool
	all    []Crossing // some of them where there are many
}

// selfCrossings looks at most once.
func (s *meshBody) selfCrossings(ctx context.Context) ([]Crossing, error) {
	k := &s.crossings
	k.mu.Lock()
	defer k.mu.Unlock()
	if !k.looked {
		found, err := SelfCrossings(ctx, s.mesh, mostCrossings)
		if err != nil {
			return nil, err
		}
		k.all, k.looked = found, true
	}
	return k.all, nil
}

// CutsItself reports whether a shell of the mesh cuts through or touches itself, or
// one that lies clear of it by its box. It looks at most once. The error is that of ctx.
func (s *MeshSolid) CutsItself(ctx context.Context) (bool, error) {
	for _, body := range s.bodies {
		found, err := body.selfCrossings(ctx)
		if err != nil || len(found) > 0 {
			return len(found) > 0, err
		}
	}
	return false, nil
}

// facetsCross returns an error where facets that leaves take as they are cross: the
// nearest facet does not tell the sides of such a mesh, and the frame of a crossed
// head came out with hundreds of holes.
func (t *octree) facetsCross(ctx context.Context) error {
	for _, set := range t.sets {
		found, err := set.body.selfCrossings(ctx)
		if err != nil {
			return err
		}
		for _, c := range found {
			at, taken := set.to.Point(c.At), false
			t.touching(Box{at, at}, func(l *leaf) { taken = taken || l.faceted != nil && l.faceted.set == set })
			if taken {
				return fmt.Errorf("geom: a mesh that the solid is made of crosses itself near (%.1f, %.1f, %.1f) mm; make it a solid with NewCrossedMeshSolid", at.X, at.Y, at.Z)
			}
		}
	}
	return nil
}
