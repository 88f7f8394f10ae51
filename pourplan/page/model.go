package page

import (
	"context"
	"fmt"
	"slices"

	"halfpour/geom"
	"halfpour/geom/column"
	"halfpour/geom/parallel"
	"halfpour/moldbox"
)

// Model is what a page shows of a mold, made coarser than what is printed.
// It is made by NewModel.
type Model struct {
	trays   [2]tray // left, right
	metal   []body  // of the cavities, each kind once, then of a shared runner
	wires   []body
	pockets []pocket
	mold    *moldbox.Mold
}

// tray is a frame in print coordinates, and the rubber in it.
type tray struct {
	surface // classes outer, inner and level
	half    moldbox.Half
}

// The classes of a tray's surface. The frame is outer and inner; the rubber is
// inner, seen from its other side, and level.
const (
	outer = iota // of the frame, away from the rubber
	inner        // between frame and rubber
	level        // of the rubber, at the fill line
)

// body is a closed mesh in mold coordinates and the places where it stands.
type body struct {
	surface
	at []geom.Vec // by which it is moved
}

// pocket is air that stays while a cavity is cast.
type pocket struct {
	column.Pocket
	cavity string
}

// How many triangles are shown: enough for what a screen resolves, few enough
// for a phone.
const (
	trayTriangles  = 90000
	metalTriangles = 160000 // of all kinds of cavities
	wireTriangles  = 24000  // likewise
	mostOfAKind    = 40000
	leastOfAKind   = 2000
)

// share is how many triangles each of so many kinds may have.
func share(triangles, kinds int) int {
	return min(max(triangles/max(kinds, 1), leastOfAKind), mostOfAKind)
}

// NewModel makes the model of a mold out of meshes of what is in it, and of its frames,
// left and right, in print coordinates. It fails when a solid cannot be meshed or ctx
// ends.
func NewModel(ctx context.Context, bodies *moldbox.Bodies, frames [2]*geom.TriMesh) (*Model, error) {
	m := bodies.Mold
	out := &Model{mold: m}
	vents := ventsOf(m)
	steps := []func(context.Context) error{
		func(ctx context.Context) (err error) {
			out.trays[0], err = newTray(ctx, m.Left, frames[0], vents)
			return err
		},
		func(ctx context.Context) (err error) {
			out.trays[1], err = newTray(ctx, m.Right, frames[1], vents)
			return err
		},
		func(ctx context.Context) error { return out.addBodies(ctx, bodies) },
		func(ctx context.Context) (err error) { out.pockets, err = findPockets(ctx, m); return err },
	}
	errs := make([]error, len(steps))
	if err := parallel.For(ctx, len(steps), len(steps), func(i int) { errs[i] = steps[i](ctx) }); err != nil {
		return nil, err
	}
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// newTray tells the frame's facets that rubber touches from the others.
func newTray(ctx context.Context, half moldbox.Half, frame *geom.TriMesh, vents []geom.Solid) (tray, error) {
	s := surface{mesh: frame, class: make([]uint8, len(frame.Triangles)), kept: onSurface(frame, half.ToPrint, vents)}
	for t := range frame.Triangles {
		if t%4096 == 0 && ctx.Err() != nil {
			return tray{}, ctx.Err()
		}
		a, b, c := frame.Corners(t)
		if half.Fill.Evaluate(a.Add(b).Add(c).Mul(1.0/3)) < 0 {
			s.class[t] = inner
		}
	}
	s, err := s.thinned(ctx, trayTriangles)
	return tray{surface: s.levelled(half.FillHeight), half: half}, err
}

// levelled closes the inner facets at the fill line, the lid facing as the
// rubber's other facets do: the other way than the frame's.
func (s surface) levelled(height float64) surface {
	rubber := &geom.TriMesh{Vertices: slices.Clip(s.mesh.Vertices)}
	for t, v := range s.mesh.Triangles {
		if s.class[t] == inner {
			rubber.Triangles = append(rubber.Triangles, v)
		}
	}
	n := len(rubber.Triangles)
	rubber.CloseLevel(height)
	out := surface{mesh: &geom.TriMesh{Vertices: rubber.Vertices, Triangles: slices.Clip(s.mesh.Triangles)}, class: slices.Clip(s.class)}
	for _, l := range rubber.Triangles[n:] {
		out.mesh.Triangles = append(out.mesh.Triangles, [3]int32{l[1], l[0], l[2]})
		out.class = append(out.class, level)
	}
	return out
}

// addBodies adds metal and wires: of the cavities, alike ones once, then of a
// runner that they share.
func (m *Model) addBodies(ctx context.Context, bodies *moldbox.Bodies) error {
	if err := m.addCavities(ctx, bodies); err != nil || m.mold.Runner == nil {
		return err
	}
	mesh, err := bodies.Metal(ctx, -1)
	if err != nil {
		return fmt.Errorf("page: runner: %w", err)
	}
	b, err := newBody(ctx, mesh, mostOfAKind, m.mold.Runner.Vent)
	m.metal = append(m.metal, b)
	return err
}

func (m *Model) addCavities(ctx context.Context, bodies *moldbox.Bodies) error {
	metal, wires := map[int]int{}, map[int]int{}
	kinds := 0
	for i, c := range m.mold.Cavities {
		if c.AlikeTo == i {
			kinds++
		}
	}
	for i, c := range m.mold.Cavities {
		first := c.AlikeTo
		if k, ok := metal[first]; ok && first < i {
			by := c.Eye.Sub(m.mold.Cavities[first].Eye)
			m.metal[k].at = append(m.metal[k].at, by)
			if k, ok := wires[first]; ok {
				m.wires[k].at = append(m.wires[k].at, by)
			}
			continue
		}
		mesh, err := bodies.Metal(ctx, i)
		if err != nil {
			return fmt.Errorf("page: %s: %w", c.Name, err)
		}
		b, err := newBody(ctx, mesh, share(metalTriangles, kinds), c.Vent)
		if err != nil {
			return err
		}
		metal[i] = len(m.metal)
		m.metal = append(m.metal, b)
		if mesh, err = bodies.Wires(ctx, i); err != nil {
			return fmt.Errorf("page: wires of %s: %w", c.Name, err)
		}
		if mesh == nil {
			continue
		}
		if b, err = newBody(ctx, mesh, share(wireTriangles, kinds), nil); err != nil {
			return err
		}
		wires[i] = len(m.wires)
		m.wires = append(m.wires, b)
	}
	return nil
}

// newBody thins a mesh, but for what it shares with a vent.
func newBody(ctx context.Context, mesh *geom.TriMesh, triangles int, vent geom.Solid) (body, error) {
	all := surface{mesh: mesh, class: make([]uint8, len(mesh.Triangles))}
	if vent != nil {
		all.kept = onSurface(mesh, func(p geom.Vec) geom.Vec { return p }, []geom.Solid{vent})
	}
	all, err := all.thinned(ctx, triangles)
	return body{surface: all, at: []geom.Vec{{}}}, err
}
