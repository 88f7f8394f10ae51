package head

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"halfpour/geom"
	"halfpour/moldbox"
)

// takeHooksApart moves shells that look like hooks out of a mesh that holds more, and
// reports whether it did: metal is cast round a hook. A hook may be of several shells that
// touch each other, such as eye, shank and point.
func (h *Head) takeHooksApart(ctx context.Context) (bool, error) {
	shells := h.Mesh.Shells()
	if len(shells) < 2 {
		return false, nil
	}
	var hooks, thin []*geom.TriMesh
	var rest []int32
	var pieces [][]int32 // of thin
	largest := largestOf(h.Mesh, shells)
	for i, triangles := range shells {
		if ctx.Err() != nil {
			return false, ctx.Err()
		}
		switch shell := partOf(h.Mesh, triangles); {
		case moldbox.LikeHook(ctx, shell):
			hooks = append(hooks, shell)
		case i != largest && moldbox.LikeWire(shell):
			thin, pieces = append(thin, shell), append(pieces, triangles)
		default:
			rest = append(rest, triangles...)
		}
	}
	hooks, used, err := joinedHooks(ctx, hooks, thin)
	if err != nil {
		return false, err
	}
	onlyWires := h.onlyWires(shells)
	for i, triangles := range pieces {
		if !used[i] {
			rest = append(rest, triangles...)
			if long := moldbox.LongWire(ctx, thin[i]); long > 0 && !onlyWires {
				h.Wires = append(h.Wires, Wire{thin[i], long})
			}
		}
	}
	if len(hooks) == 0 || len(rest) == 0 || onlyWires {
		return false, nil
	}
	h.Hooks, h.Mesh = hooks, partOf(h.Mesh, rest)
	return true, nil
}

// joinedHooks joins thin shells to each other and to the hooks that they touch, and returns
// what looks like hooks, with which of the thin shells are in them.
func joinedHooks(ctx context.Context, hooks, thin []*geom.TriMesh) ([]*geom.TriMesh, []bool, error) {
	used := make([]bool, len(thin))
	if len(thin) == 0 || len(hooks)+len(thin) < 2 {
		return hooks, used, nil
	}
	joined, err := moldbox.JoinWires(ctx, slices.Concat(hooks, thin))
	if err != nil {
		return hooks, used, ctx.Err()
	}
	var out []*geom.TriMesh
	for _, triangles := range joined.Shells() {
		shell := partOf(joined, triangles)
		if !moldbox.LikeHook(ctx, shell) {
			continue
		}
		solid, err := geom.NewMeshSolid(shell)
		if err != nil {
			return nil, nil, err
		}
		in := func(m *geom.TriMesh) bool { return solid.Evaluate(m.Vertices[0]) < shell.Volume()/shell.Area() }
		more := false
		for i, m := range thin {
			if in(m) {
				used[i], more = true, true
			}
		}
		if own := slices.IndexFunc(hooks, in); own >= 0 && !more {
			shell = hooks[own] // as it was drawn
		}
		out = append(out, shell)
	}
	if len(out) < len(hooks) {
		return hooks, make([]bool, len(thin)), ctx.Err()
	}
	return out, used, ctx.Err()
}

// largestOf is the shell that holds most.
func largestOf(m *geom.TriMesh, shells [][]int32) (largest int) {
	most := 0.0
	for i, triangles := range shells {
		if v := partOf(m, triangles).Volume(); v > most {
			most, largest = v, i
		}
	}
	return largest
}

// sameWire is how much thicker the largest part of a hook is at most than its thickest
// other part, should that be the cone of a point. A head is thicker, and one with a bore for its
// hook may otherwise pass for a wire: most of its surface is the bore's.
const sameWire = 2.5

// onlyWires reports whether all shells look like wires about as thick as each other: then
// they are parts of one hook.
func (h *Head) onlyWires(shells [][]int32) bool {
	largest, others := largestOf(h.Mesh, shells), 0.0
	var most float64 // thickness of the largest
	for i, triangles := range shells {
		part := partOf(h.Mesh, triangles)
		if !moldbox.LikeWire(part) {
			return false
		}
		if thick := 4 * part.Volume() / part.Area(); i == largest {
			most = thick
		} else {
			others = math.Max(others, thick)
		}
	}
	return len(shells) < 2 || most <= sameWire*others
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
		if shells := mesh.Shells(); len(shells) > 1 && h.onlyWires(shells) {
			var parts []*geom.TriMesh
			for _, triangles := range shells {
				parts = append(parts, partOf(mesh, triangles))
			}
			joined, err := moldbox.JoinWires(ctx, parts)
			if err != nil {
				return nil, err
			}
			mesh = joined
		}
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
