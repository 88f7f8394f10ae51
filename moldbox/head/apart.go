package head

import (
	"context"
	"errors"
	"fmt"

	"halfpour/geom"
	"halfpour/moldbox"
)

// takeHooksApart moves shells that look like hooks out of a mesh that holds more, and
// reports whether it did: metal is cast round a hook.
func (h *Head) takeHooksApart(ctx context.Context) (bool, error) {
	shells := h.Mesh.Shells()
	if len(shells) < 2 {
		return false, nil
	}
	var hooks []*geom.TriMesh
	var rest []int32
	for _, triangles := range shells {
		if ctx.Err() != nil {
			return false, ctx.Err()
		}
		if shell := partOf(h.Mesh, triangles); moldbox.LikeHook(ctx, shell) {
			hooks = append(hooks, shell)
		} else {
			rest = append(rest, triangles...)
		}
	}
	if len(hooks) == 0 || len(rest) == 0 {
		return false, nil
	}
	h.Hooks, h.Mesh = hooks, partOf(h.Mesh, rest)
	return true, nil
}

// partOf is the mesh of some of the triangles, with no other vertices.
func partOf(m *geom.TriMesh, triangles []int32) *geom.TriMesh {
	part, index := &geom.TriMesh{}, map[int32]int32{}
	for _, t := range triangles {
		var corners [3]int32
		for k, v := range m.Triangles[t] {
			if _, known := index[v]; !known {
				index[v] = int32(len(part.Vertices))
				part.Vertices = append(part.Vertices, m.Vertices[v])
			}
			corners[k] = index[v]
		}
		part.Triangles = append(part.Triangles, corners)
	}
	return part
}

// Hook measures the hook that a file holds: the body apart from a head, or all of
// it. It fails with an Error, or as its context.
func (h *Head) Hook(ctx context.Context, mmPerUnit float64) (*moldbox.HookBody, error) {
	mesh := h.Mesh
	switch len(h.Hooks) {
	case 0:
	case 1:
		mesh = h.Hooks[0]
	default:
		return nil, refuse(h.Name, "not-a-hook", counted(len(h.Hooks), "body", "bodies")+" look like hooks", "export one hook")
	}
	return measuredBody(ctx, h.Name, mesh, mmPerUnit, moldbox.MeasureHook)
}

// Wire measures the wire that a file holds. It fails with an Error, or as its context.
func (h *Head) Wire(ctx context.Context, mmPerUnit float64) (*moldbox.WireBody, error) {
	return measuredBody(ctx, h.Name, h.Mesh, mmPerUnit, moldbox.MeasureWire)
}

func measuredBody[B any](ctx context.Context, name string, mesh *geom.TriMesh, mmPerUnit float64, measure func(context.Context, *geom.TriMesh) (*B, error)) (*B, error) {
	if at, crossed, err := selfCrossing(ctx, mesh); err != nil {
		return nil, err
	} else if crossed {
		return nil, refuse(name, "not-a-hook", fmt.Sprintf("the wire's body cuts through or touches itself near (%.1f, %.1f, %.1f)", at.At.X, at.At.Y, at.At.Z),
			"join its parts in your CAD program and export it again")
	}
	if mmPerUnit != 1 {
		mesh = mesh.Transform(func(v geom.Vec) geom.Vec { return v.Mul(mmPerUnit) }, false)
	}
	body, err := measure(ctx, mesh)
	var no *moldbox.NotWire
	if errors.As(err, &no) {
		return nil, refuse(name, "not-a-hook", "the body "+no.Reason, no.Remedy)
	}
	return body, err
}
