package geom

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"halfpour/geom/parallel"
)

// MeshOptions says how to mesh. The zero value meshes to 0.02 mm.
type MeshOptions struct {
	Tolerance float64 // greatest distance between mesh and surface, mm; 0 means 0.02
	Workers   int     // 0 means all processors; the mesh is the same for any

	// Progress, when set, hears of each stage and how far it is, 0 to 1. It
	// is called from one goroutine.
	Progress func(stage string, done float64)
}

// MinTolerance is the finest tolerance that Mesh takes, mm.
const MinTolerance = 0.002

// Mesh returns a closed, manifold, outward-facing mesh of the surface of s, not
// crossing itself. Its vertices are rounded to 32 bits, as files hold them. Sharp edges
// are kept, flat areas become few triangles.
// Corners of meshes come out to the tolerance, and so do their sharp edges, looked at
// each quarter of it; what is thinner than half the tolerance there may be cut short
// (see OnlyThinMissed). Elsewhere, where the solid has an edge or corner within a cell,
// the distance to the surface is sampled rather than certain; parts thinner than the
// tolerance may vanish, and pieces or bubbles less than five tolerances across do.
//
// Where nothing but the facets of one mesh solid is near, they come out as they
// are, however fine; where the side of a plane across an axis is near too, cut at it.
//
// The octree stops splitting where the surface is certainly within a slab as thin
// as the tolerance, or where a trial patch is. It returns ctx's error when
// cancelled, and an error for an unbounded or empty solid, for one too large for
// the tolerance, where the mesh would cross itself or misses a corner, and for a mesh
// solid that crosses itself and was not made by NewCrossedMeshSolid.
func Mesh(ctx context.Context, s Solid, opt MeshOptions) (*TriMesh, error) {
	tol := opt.Tolerance
	if tol == 0 {
		tol = 0.02
	}
	if tol < MinTolerance || math.IsNaN(tol) {
		return nil, fmt.Errorf("geom: tolerance must be at least %g mm, got %g mm", MinTolerance, tol)
	}
	box := s.BoundingBox()
	if box.IsEmpty() || !box.Min.IsFinite() || !box.Max.IsFinite() {
		return nil, errors.New("geom: cannot mesh a solid without a finite box")
	}
	if size := box.Size(); max(size.X, max(size.Y, size.Z)) > mostTolerances*tol {
		return nil, fmt.Errorf("geom: a solid of %.4g x %.4g x %.4g mm is too large for a tolerance of %g mm; take a coarser one",
			size.X, size.Y, size.Z, tol)
	}
	report := opt.Progress
	if report == nil {
		report = func(string, float64) {}
	}
	s = asFacets(s)
	run := meshing{box: box, tol: tol, workers: opt.Workers, report: report}
	m, err := run.mesh(ctx, s, false)
	if err == errUnlike {
		run.unlike = true
		m, err = run.mesh(ctx, s, false)
	}
	// Cells about sharp edges may be so small that what they hold crosses itself.
	if run.crossed(err) {
		run.edgesAsSampled = true
		m, err = run.mesh(ctx, s, false)
	}
	if run.crossed(err) {
		m, err = run.mesh(ctx, s, true)
	}
	if err != nil {
		return nil, err
	}
	report("done", 1)
	return m, nil
}

// meshing is one call of Mesh.
type meshing struct {
	box     Box
	tol     float64
	workers int
	report  func(stage string, done float64)

	edgesAsSampled bool // sharp edges are not sought between samples
	unlike         bool // nothing is copied
}

// crossed reports whether a mesh does not come out because what is sampled does not
// fit together.
func (r *meshing) crossed(err error) bool {
	var crossing crossingError
	return errors.As(err, &crossing) || err == errUnfit
}

// mesh takes the facets of meshes as they are where it can, or with sampled
// samples all: a mesh that crosses itself may not fit together with the rest.
func (r *meshing) mesh(ctx context.Context, s Solid, sampled bool) (*TriMesh, error) {
	// Most of the tolerance is for the patches, the rest for thinning them.
	var again *repeats
	if !r.unlike {
		again = newRepeats(s)
	}
	t := newOctree(r.box, patchShare*r.tol, coarsest, min(max(featureSize*r.tol, finestFeature), widestFeature), again)
	t.edgesAsSampled = r.edgesAsSampled
	r.report("splitting space", 0)
	if err := t.grow(ctx, s, sampled, r.workers); err != nil {
		return nil, err
	}
	m, doubtful, err := r.drawUncrossed(ctx, t)
	if err == nil && !t.seeking && len(missedBy(m, doubtful, r.tol)) > 0 {
		t.seeking = true
		m, doubtful, err = r.drawUncrossed(ctx, t)
	}
	if err != nil {
		return nil, err
	}
	return m, r.reach(s, m, doubtful)
}

// reach raises the mesh to landmarks of s that it misses, unless what it misses is
// thin. It returns an error where that does not go.
func (r *meshing) reach(s Solid, m *TriMesh, marks []unseenMark) error {
	missed := missedBy(m, marks, r.tol)
	if len(missed) == 0 {
		return nil
	}
	missed, err := thickOf(s, m, missed, r.tol)
	if err != nil || len(missed) == 0 {
		return err
	}
	m.raise(s, missed, r.tol)
	missed, err = thickOf(s, m, missed, r.tol)
	if err == nil && len(missed) > 0 {
		p := missed[0]
		err = fmt.Errorf("geom: the mesh comes no nearer than %g mm to the solid's corner near (%.2f, %.2f, %.2f) mm", r.tol, p.X, p.Y, p.Z)
	}
	return err
}

// drawUncrossed draws the surface and, where it crosses or touches itself, splits the
// leaves there and draws it again.
func (r *meshing) drawUncrossed(ctx context.Context, t *octree) (m *TriMesh, doubtful []unseenMark, err error) {
	for try := 0; ; try++ {
		m, doubtful, err = r.sample(ctx, t)
		var crossing crossingError
		if !errors.As(err, &crossing) || try == mostUncrossings || !t.uncross(ctx, crossing.at) {
			return m, doubtful, err
		}
	}
}

// sample samples the surface in the leaves of the tree and thins it. It returns the
// landmarks that may be missed.
func (r *meshing) sample(ctx context.Context, t *octree) (m *TriMesh, doubtful []unseenMark, err error) {
	r.report("sampling the surface", 0.5)
	k, doubtful, err := t.contour(ctx, r.workers)
	if err != nil {
		return nil, nil, err
	}
	r.report("thinning flat areas", 0.8)
	m, err = thin(ctx, k, thinShare*r.tol, reachShare*thinShare*r.tol, r.workers)
	return m, doubtful, err
}

const (
	patchShare     = 0.65 // of the tolerance, for patches
	thinShare      = 0.2  // of the tolerance, for thinning them
	featureSize    = 11.0 // tolerances: cells with edges start at this
	coarsest       = 8.0  // mm: greatest cell that may hold surface
	finestFeature  = 0.15 // mm: but need not start smaller
	widestFeature  = 0.7  // mm: nor may they start larger, lest probes miss what prints
	mostTolerances = 2e7  // in the solid's size: what 32-bit cell numbers hold, with room
	smallComponent = 5.0  // tolerances: pieces with a lesser diagonal are dropped
)

// contour samples the surface in the leaves of the tree, and splits and samples again
// where a patch turns out worse than its trial, for the vertices that smaller
// neighbours add; when one surely is, or the tree is seeking, also where landmarks
// may be missed. It returns those that still may be.
func (t *octree) contour(ctx context.Context, workers int) (*surface, []unseenMark, error) {
	t.redraw()
	finest := t.least
	for round := 1; ; round++ {
		d, list, err := t.sampleAll(ctx, workers)
		if err != nil {
			return nil, nil, err
		}
		if err := t.facetsCross(ctx); err != nil {
			return nil, nil, err
		}
		leaves := t.root.leaves(nil)
		t.crossings = list
		missed := t.poor(leaves)
		k := t.assemble(leaves, d)
		small := k.smallComponents(smallComponent/patchShare*t.tol, t.tol)
		unseen, err := t.unseen(ctx, leaves, k, small, patchLimit*t.tol, workers)
		if err != nil {
			return nil, nil, err
		}
		t.seeking = t.seeking || slices.ContainsFunc(unseen, func(u unseenMark) bool { return u.sure })
		seeking := t.seeking && slices.ContainsFunc(unseen, func(u unseenMark) bool { return len(t.about(u, finest)) > 0 })
		if len(missed) == 0 && !seeking || round == mostRounds {
			k.drop(small)
			for _, u := range unseen {
				for _, p := range t.copiesOf(u.at) {
					unseen = append(unseen, unseenMark{at: p, sure: u.sure})
				}
			}
			return k, unseen, k.part()
		}
		t.redraw()
		for _, l := range missed {
			t.splitLeaf(ctx, l, nil, l.keen)
		}
		if seeking {
			t.seek(ctx, unseen, finest)
			finest = max(1, finest/2)
		}
	}
}

// poor lists the leaves to be split since their patches miss the surface.
func (t *octree) poor(leaves []*leaf) (list []*leaf) {
	for _, l := range leaves {
		limit := patchLimit * t.tol
		if l.flat {
			limit = flatLimit * t.tol
		}
		if (l.patch.err > limit || l.faceted != nil && l.faceted.failed) && l.size > t.least {
			list = append(list, l)
		}
	}
	return list
}

// redraw makes the tree ready to be sampled again, crossings found.
func (t *octree) redraw() {
	if t.crossings == nil {
		return
	}
	keepCrossings(t.crossings)
	clearSampling(t.root.leaves(nil))
	t.crossings = nil
}

// A patch may miss the surface by so many of its tolerances before it is sampled
// again: up to the user's tolerance, of which flat leaves leave a part for
// thinning.
const (
	patchLimit = 0.98 / patchShare
	flatLimit  = 0.98 * (1 - thinShare) / patchShare
	mostRounds = 8

	mostUncrossings = 4 // how often leaves are split where what is sampled crosses itself
)

// sampleAll samples the patches of all leaves. It also returns the crossings.
func (t *octree) sampleAll(ctx context.Context, workers int) (*sampling, []crossing, error) {
	list, err := t.untangle(ctx, workers)
	if err != nil {
		return nil, nil, err
	}
	if err := inBatches(ctx, len(list), workers, func(i int) {
		if c := &list[i]; !c.found {
			c.at, c.normal = t.locate(c.leaf, c.edge)
		}
	}); err != nil {
		return nil, nil, err
	}
	outlines, err := t.findOutlines(ctx, workers, list)
	if err != nil {
		return nil, nil, err
	}
	d := t.linkUp(list, outlines)
	leaves := t.root.leaves(nil)
	return d, list, inBatches(ctx, len(leaves), workers, func(i int) { t.sample(leaves[i], d) })
}

// inBatches runs job(0) .. job(n-1) in chunks on the workers.
func inBatches(ctx context.Context, n, workers int, job func(i int)) error {
	const chunk = 256
	return parallel.For(ctx, (n+chunk-1)/chunk, workers, func(c int) {
		for i := c * chunk; i < min(n, (c+1)*chunk); i++ {
			job(i)
		}
	})
}

// linkUp numbers the vertices and hands each leaf its outlines.
func (t *octree) linkUp(list []crossing, parts [][]faceSurface) *sampling {
	if t.repeats != nil {
		t.repeats.clearSeams()
	}
	d := &sampling{at: make([]Vec, len(list)), normal: make([]Vec, len(list))}
	for i := range list {
		d.at[i], d.normal[i] = list[i].at, list[i].normal
	}
	for _, outlines := range parts {
		for i := range outlines {
			o := &outlines[i]
			copied := o.seamOf()
			had := copied.outlines()
			o.linkUp(d)
			if copied != nil {
				t.repeats.joinSeam(copied, had)
			}
		}
	}
	return d
}

func (o *faceSurface) linkUp(d *sampling) {
	if o.facets != nil {
		o.facets.linkUp(o, d)
		return
	}
	corner := int32(len(d.at))
	if o.bent {
		d.at, d.normal = append(d.at, o.corner), append(d.normal, Vec{})
	}
	o.addLinks(o.lower, true, corner)
	o.addLinks(o.upper, false, corner)
}

func (m *TriMesh) addLoop(p *loop) {
	n := len(p.ids)
	if p.coned {
		apex := int32(len(m.Vertices))
		m.Vertices = append(m.Vertices, p.apex)
		for i, id := range p.ids {
			m.Triangles = append(m.Triangles, [3]int32{apex, id, p.ids[(i+1)%n]})
		}
		return
	}
	at := func(i int) int32 { return p.ids[(p.start+i)%n] }
	for i := 1; i+1 < n; i++ {
		m.Triangles = append(m.Triangles, [3]int32{at(0), at(i), at(i + 1)})
	}
}
