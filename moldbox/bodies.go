package moldbox

import (
	"context"
	"sync"

	"halfpour/geom"
)

// Bodies are meshes of what is in a closed mold beside its rubber: metal and wires, each
// made when it is first asked for, of cavities that are alike once. They are safe for
// concurrent use.
type Bodies struct {
	Mold *Mold

	metalTolerance, wireTolerance float64 // mm
	metal, wires                  []lazyMesh
	runner                        lazyMesh
}

type lazyMesh struct {
	once sync.Once
	mesh *geom.TriMesh
	err  error
}

// NewBodies are those of a mold to tolerances in mm.
func NewBodies(m *Mold, metal, wires float64) *Bodies {
	return &Bodies{Mold: m, metalTolerance: metal, wireTolerance: wires,
		metal: make([]lazyMesh, len(m.Cavities)), wires: make([]lazyMesh, len(m.Cavities))}
}

// Metal is that of a cavity, as it lies in the first one that it is like; of the runner
// when i is -1. It fails as geom.Mesh does.
func (b *Bodies) Metal(ctx context.Context, i int) (*geom.TriMesh, error) {
	if i < 0 {
		return b.runner.of(ctx, b.Mold.Runner.Metal, b.metalTolerance)
	}
	first := b.Mold.Cavities[i].AlikeTo
	return b.metal[first].of(ctx, b.Mold.Cavities[first].Metal, b.metalTolerance)
}

// Wires are those of a cavity, as they lie in the first one that it is like; nil when
// there are none. It fails as geom.Mesh does.
func (b *Bodies) Wires(ctx context.Context, i int) (*geom.TriMesh, error) {
	first := b.Mold.Cavities[i].AlikeTo
	if b.Mold.Cavities[first].Wire == nil {
		return nil, nil
	}
	return b.wires[first].of(ctx, b.Mold.Cavities[first].Wire, b.wireTolerance)
}

// MakeAll makes those of all cavities. It fails as geom.Mesh does.
func (b *Bodies) MakeAll(ctx context.Context) error {
	for i := range b.Mold.Cavities {
		if _, err := b.Metal(ctx, i); err != nil {
			return err
		}
		if _, err := b.Wires(ctx, i); err != nil {
			return err
		}
	}
	return nil
}

func (l *lazyMesh) of(ctx context.Context, s geom.Solid, tolerance float64) (*geom.TriMesh, error) {
	l.once.Do(func() { l.mesh, l.err = geom.Mesh(ctx, s, geom.MeshOptions{Tolerance: tolerance}) })
	return l.mesh, l.err
}
