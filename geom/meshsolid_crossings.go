package geom

import (
	"context"
	"fmt"
	"slices"
	"sync"
)

// knownCrossings is where a mesh crosses itself, and where it nearly does, once somebody
// has looked.
type knownCrossings struct {
	mu     sync.Mutex
	looked bool
	all    []Crossing // some of them where there are many
	close  [][2]int32 // triangles that meet, or may after each corner has moved by up to wobble
	many   bool       // close does not have all
}

const (
	wobble    = 5e-5    // mm: rounding to 32 bits moves a corner less, 400 mm from the origin
	mostClose = 1 << 16 // pairs that are kept, and one more for every four triangles
)

// knownCrossings looks at most once.
func (s *meshBody) knownCrossings(ctx context.Context) (*knownCrossings, error) {
	k := &s.crossings
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.looked {
		return k, nil
	}
	limit := mostClose + len(s.mesh.Triangles)/4
	found, err := closePairs(ctx, s.mesh, limit)
	if err != nil {
		return nil, err
	}
	if k.many = len(found) == limit; k.many {
		found = nil
		k.all, err = SelfCrossings(ctx, s.mesh, mostCrossings)
	}
	for _, c := range found {
		k.close = append(k.close, [2]int32{int32(c.A), int32(c.B)})
		if c.cross && len(k.all) < mostCrossings {
			k.all = append(k.all, c.Crossing)
		}
	}
	k.looked = err == nil
	return k, err
}

// closePair is two triangles that may cross once they have wobbled.
type closePair struct {
	Crossing
	cross bool
}

// closePairs lists those of a closed mesh, at most limit, sorted as crossings are.
func closePairs(ctx context.Context, m *TriMesh, limit int) ([]closePair, error) {
	fans, err := m.soundFans(ctx, nil, wobble)
	if err != nil {
		return nil, err
	}
	tree, err := newPairTree(ctx, m, nil, wobble)
	if err != nil {
		return nil, err
	}
	found, err := inRounds(ctx, tree.tasks(), limit, func(task pairTask) (out []closePair) {
		tree.eachNear(task, func(a, b int32) bool {
			if fans.holdBoth(m, a, b) {
				return true
			}
			p, q := m.cornersOf(a), m.cornersOf(b)
			shared := sharedFirst(&p, &q)
			if !clearlyApart(&p, &q, shared, wobble) {
				out = append(out, closePair{crossingOf(a, b, shared, &p, &q), meetElsewhere(p, q, shared)})
			}
			return len(out) < limit
		})
		return out
	})
	slices.SortFunc(found, func(c, d closePair) int { return compareCrossings(c.Crossing, d.Crossing) })
	return found, err
}

// CutsItself reports whether a shell of the mesh cuts through or touches itself, or
// one that lies clear of it by its box. It looks at most once. The error is that of ctx.
func (s *MeshSolid) CutsItself(ctx context.Context) (bool, error) {
	for _, body := range s.bodies {
		known, err := body.knownCrossings(ctx)
		if err != nil || len(known.all) > 0 {
			return err == nil, err
		}
	}
	return false, nil
}

// facetsCross returns an error where facets that leaves take as they are cross: the
// nearest facet does not tell the sides of such a mesh, and the frame of a crossed
// head came out with hundreds of holes.
func (t *octree) facetsCross(ctx context.Context) error {
	for _, set := range t.sets {
		known, err := set.body.knownCrossings(ctx)
		if err != nil {
			return err
		}
		for _, c := range known.all {
			at, taken := set.to.Point(c.At), false
			t.touching(Box{at, at}, func(l *leaf, _ Vec) { taken = taken || l.faceted != nil && l.faceted.set == set })
			if taken {
				return fmt.Errorf("geom: a mesh that the solid is made of crosses itself near (%.1f, %.1f, %.1f) mm; make it a solid with NewCrossedMeshSolid", at.X, at.Y, at.Z)
			}
		}
	}
	return nil
}
