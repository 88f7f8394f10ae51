package making

import (
	"context"

	"golang.org/x/sync/errgroup"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/pourplan"
)

// lookOff is how far facets of heads are moved for a look, mm: less than a dot of
// the screen shows where the whole mold is in view.
const lookOff = 0.05

// Look makes of open molds what a page shows: Coarse is the mold with heads of fewer
// facets, Frames are of it, meshed to a tolerance in mm. Nothing is proved, and what
// was measured stays. It fails with MoldErrors or as its context.
func (r *Run) Look(ctx context.Context, tolerance float64) error {
	return r.each(ctx, func(ctx context.Context, m *Mold) error { return m.look(ctx, tolerance) })
}

// Draw makes the drawings of open molds. It fails as Look does.
func (r *Run) Draw(ctx context.Context) error {
	return r.each(ctx, func(ctx context.Context, m *Mold) error { return m.draw(ctx) })
}

func (m *Mold) draw(ctx context.Context) (err error) {
	if m.Drawings, err = pourplan.RenderDrawings(ctx, m.Solids); err != nil {
		return err
	}
	m.Hooks, err = pourplan.RenderHookDrawings(ctx, m.Solids)
	return err
}

// looked is what Look has made.
type looked struct {
	tolerance float64
	coarse    *moldbox.Mold
	frames    [2]*geom.TriMesh
}

func (m *Mold) look(ctx context.Context, tolerance float64) error {
	if l := m.looked; l != nil && l.tolerance == tolerance {
		m.Coarse, m.Frames = l.coarse, l.frames
		return nil
	}
	if err := m.fitsMemory(); err != nil {
		return err
	}
	heads := make([]geom.Solid, len(m.bored))
	for i, mesh := range m.cavityHeads() {
		heads[i] = m.shelf.thin(ctx, mesh)
	}
	m.Coarse = m.Solids.Coarse(heads)
	group, within := errgroup.WithContext(ctx)
	for i, half := range m.Coarse.Halves() {
		group.Go(func() (err error) {
			m.Frames[i], err = geom.Mesh(within, half.Frame, geom.MeshOptions{Tolerance: tolerance})
			return err
		})
	}
	err := group.Wait()
	if err == nil {
		m.looked = &looked{tolerance, m.Coarse, m.Frames}
	}
	return err
}

// thin is the solid of a mesh with fewer facets, made once; nil where it makes none.
func (s *shelf) thin(ctx context.Context, mesh *geom.TriMesh) geom.Solid {
	s.thinning.Lock()
	defer s.thinning.Unlock()
	if solid, known := s.thinned[mesh]; known {
		return solid
	}
	var solid geom.Solid
	fewer, _, _, err := geom.Simplify(ctx, mesh, lookOff, func(int) bool { return false })
	if err == nil {
		if made, bad := geom.NewMeshSolid(fewer); bad == nil {
			solid = made
		}
	}
	if ctx.Err() == nil {
		s.thinned[mesh] = solid
	}
	return solid
}
