package head

import (
	"context"
	"fmt"

	"halfpour/geom"
	"halfpour/moldbox"
)

// CrossedCode is of the finding that a head cuts through itself.
const CrossedCode = "head-crossed"

// crossedHead is the solid of a mesh that cuts through itself. It does not say
// which mesh it is: what a shell goes round twice counts twice in the mesh's
// volume, so that has to be integrated.
type crossedHead struct{ geom.Able }

// Remade is the solid of the head's mesh after a change to it, of the same kind as Solid.
func (h *Head) Remade(m *geom.TriMesh) (geom.Solid, error) {
	if _, crossed := h.Solid.(*crossedHead); !crossed {
		return geom.NewMeshSolid(m)
	}
	s, err := geom.NewCrossedMeshSolid(m)
	if err != nil {
		return nil, err
	}
	return &crossedHead{s}, nil
}

// LookForCrossing makes another solid of a head that cuts through itself, tells
// of it, and reports whether it did.
func (h *Head) LookForCrossing(ctx context.Context) (bool, error) {
	if h.looked {
		return false, nil
	}
	if s, plain := h.Solid.(*geom.MeshSolid); plain {
		if cuts, err := s.CutsItself(ctx); err != nil || !cuts {
			h.looked = err == nil
			return false, err
		}
	}
	at, crossed, err := selfCrossing(ctx, h.Mesh)
	if err != nil {
		return false, err
	}
	h.looked = true
	if !crossed {
		return false, nil
	}
	solid, err := geom.NewCrossedMeshSolid(h.Mesh)
	if err != nil {
		return false, refuse(h.Name, "mesh", err.Error())
	}
	h.Solid = &crossedHead{solid}
	h.note(CrossedCode, moldbox.Warn, fmt.Sprintf("a shell cuts through or touches itself, at triangles %d and %d", at.A, at.B),
		"join its parts in your CAD program; halfpour counts anything the shell encloses as inside")
	h.Findings[len(h.Findings)-1].HeadAt = &at.At
	return true, nil
}

// selfCrossing looks for a place where a shell of the mesh cuts through itself,
// touches or is folded flat: the sides of such a shell cannot be told by its
// nearest triangle. Shells that cut each other do not matter: each has its own
// sides. The indices of the crossing are the mesh's.
func selfCrossing(ctx context.Context, m *geom.TriMesh) (geom.Crossing, bool, error) {
	found, err := geom.SelfCrossings(ctx, m, 1)
	if err != nil || len(found) == 0 {
		return geom.Crossing{}, false, err
	}
	for _, triangles := range m.Shells() {
		found, err := geom.SelfCrossings(ctx, partOf(m, triangles), 1)
		if err != nil {
			return geom.Crossing{}, false, err
		}
		if len(found) > 0 {
			c := found[0]
			c.A, c.B = int(triangles[c.A]), int(triangles[c.B])
			return c, true, nil
		}
	}
	return geom.Crossing{}, false, nil
}
