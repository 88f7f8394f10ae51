package making

import (
	"context"
	"math"
	"slices"

	"golang.org/x/sync/errgroup"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/pourplan"
)

// A mold for a look is coarser the larger it is, as it is seen whole: by 0.1 mm for each
// 40 mm, which is about two dots of a screen.
const (
	finestLook   = 0.2 // mm
	coarsestLook = 0.5
)

// lookTolerance is that of a mold with trays of a size, mm.
func lookTolerance(tray geom.Vec) float64 {
	steps := math.Ceil(max(tray.X, tray.Y) / 40)
	return min(max(steps/10, finestLook), coarsestLook)
}

// Look makes of open molds what a page shows: Coarse is the mold with heads of fewer
// facets, Frames are of it, coarsely meshed. Nothing is proved, and what
// was measured stays. It fails with MoldErrors or as its context.
func (r *Run) Look(ctx context.Context) error {
	return r.each(ctx, func(ctx context.Context, m *Mold) error { return m.look(ctx) })
}

// Draw makes the drawings of molds that Check has planned. It fails as Look does.
func (r *Run) Draw(ctx context.Context) error {
	return r.each(ctx, func(ctx context.Context, m *Mold) error { return m.draw(ctx) })
}

func (m *Mold) draw(ctx context.Context) (err error) {
	if m.Drawings, err = pourplan.RenderDrawings(ctx, m.Solids, m.Plan.Findings); err != nil {
		return err
	}
	m.Hooks, err = pourplan.RenderHookDrawings(ctx, m.Solids)
	return err
}

// looked is what Look has made.
type looked struct {
	coarse *moldbox.Mold
	frames [2]*geom.TriMesh
}

func (m *Mold) look(ctx context.Context) error {
	if l := m.looked; l != nil {
		m.Coarse, m.Frames = l.coarse, l.frames
		return nil
	}
	if err := m.fitsMemory(); err != nil {
		return err
	}
	tolerance := lookTolerance(m.Solids.Left.Inside.Size())
	m.Coarse = m.thinned(ctx, tolerance)
	group, within := errgroup.WithContext(ctx)
	for i, half := range m.Coarse.Halves() {
		group.Go(func() (err error) {
			m.Frames[i], err = geom.Mesh(within, half.Frame, geom.MeshOptions{Tolerance: tolerance})
			return err
		})
	}
	err := group.Wait()
	if err == nil {
		m.looked = &looked{m.Coarse, m.Frames}
	}
	return err
}

// thinned is the mold with heads of fewer facets, which may move by so many mm.
func (m *Mold) thinned(ctx context.Context, by float64) *moldbox.Mold {
	heads := make([]geom.Solid, len(m.bored))
	for i, mesh := range m.cavityHeads() {
		c := &m.Solids.Cavities[i]
		heads[i] = m.shelf.thin(ctx, mesh, by/(c.Scale*c.Shrink))
	}
	return m.Solids.Coarse(heads)
}

// thinned names a head for a look.
type thinned struct {
	mesh *geom.TriMesh
	by   float64 // mm that its facets may move
}

// thinnings is in how many turns a head gets fewer facets: what moved once may move
// again in the next, so that few are left.
const thinnings = 3

// thin is the solid of a mesh with fewer facets, made once; nil where it makes none.
// What they may move is rounded down, so that a head of nearly the same size has it too.
func (s *shelf) thin(ctx context.Context, mesh *geom.TriMesh, by float64) geom.Solid {
	s.thinning.Lock()
	defer s.thinning.Unlock()
	by = math.Exp2(math.Floor(4*math.Log2(by)) / 4)
	key := thinned{mesh, by}
	if solid, known := s.thinned[key]; known {
		return solid
	}
	var thinner []*geom.TriMesh
	for range thinnings {
		fewer, err := geom.Thin(ctx, mesh, by/thinnings)
		if err != nil || fewer == nil {
			break
		}
		mesh = fewer
		thinner = append(thinner, fewer)
	}
	var solid geom.Solid
	for _, fewer := range slices.Backward(thinner) {
		if made, bad := geom.NewMeshSolid(fewer); bad == nil {
			solid = made
			break
		}
	}
	if ctx.Err() == nil {
		s.thinned[key] = solid
	}
	return solid
}
