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
// crossing itself. Sharp edges are kept, flat areas become few triangles.
// Where the solid has an edge or corner within a cell the distance to the surface
// is sampled rather than certain; parts thinner than the tolerance may vanish,
// and pieces or bubbles less than five tolerances across do.
//
// Where nothing but the facets of one mesh solid is near, they come out as they
// are, however fine.
//
// The octree stops splitting where the surface is certainly within a slab as thin
// as the tolerance, or where a trial patch is. It returns ctx's error when
// cancelled, and an error for an unbounded or empty solid, for one too large for
// the tolerance, and where the mesh would cross itself.
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
	if size := box.Size(); math.Max(size.X, math.Max(size.Y, size.Z)) > mostTolerances*tol {
		return nil, fmt.Errorf("geom: a solid of %.4g x %.4g x %.4g mm is too large for a tolerance of %g mm; take a coarser one",
			size.X, size.Y, size.Z, tol)
	}
	report := opt.Progress
	if report == nil {
		report = func(string, float64) {}
	}
	run := meshing{box: box, tol: tol, workers: opt.Workers, report: report}
	m, err := run.mesh(ctx, s, false)
	var crossing crossingError
	if errors.As(err, &crossing) || err == errUnfit {
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
}

// mesh takes the facets of meshes as they are where it can, or with sampled
// samples all: a mesh that crosses itself may not fit together with the rest.
func (r *meshing) mesh(ctx context.Context, s Solid, sampled bool) (*TriMesh, error) {
	// Most of the tolerance is for the patches, the rest for thinning them.
	t := newOctree(r.box, patchShare*r.tol, coarsest, math.Min(math.Max(featureSize*r.tol, finestFeature), widestFeature))
	r.report("splitting space", 0)
	if err := t.grow(ctx, s, sampled, r.workers); err != nil {
		return nil, err
	}
	m, doubtful, err := r.drawUncrossed(ctx, t, false)
	if err != nil || len(missedBy(m, doubtful, r.tol)) == 0 {
		return m, err
	}
	if m, doubtful, err = r.drawUncrossed(ctx, t, true); err == nil {
		m.raise(s, missedBy(m, doubtful, r.tol), r.tol)
	}
	return m, err
}

// drawUncrossed draws the surface and, where it crosses itself, splits the leaves
// there and draws it again.
func (r *meshing) drawUncrossed(ctx context.Context, t *octree, seek bool) (m *TriMesh, doubtful []unseenMark, err error) {
	for try := 0; ; try++ {
		m, doubtful, err = r.sample(ctx, t, seek)
		var crossing crossingError
		if try == mostUncrossings || !errors.As(err, &crossing) || !t.uncross(ctx, crossing) {
			return m, doubtful, err
		}
	}
}

// draw draws the surface in the leaves of the tree and thins it. With seek it splits
// leaves for the landmarks that are missed; it returns those that may be.
func (r *meshing) sample(ctx context.Context, t *octree, seek bool) (*TriMesh, []unseenMark, error) {
	r.report("sampling the surface", 0.5)
	k, doubtful, err := t.contour(ctx, seek, r.workers)
	if err != nil {
		return nil, nil, err
	}
	r.report("thinning flat areas", 0.8)
	simplified, err := thin(ctx, k, thinShare*r.tol, 5*r.tol)
	if err != nil {
		return nil, nil, err
	}
	m, err := k.complete(ctx, simplified, r.workers)
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
// neighbours add; with seek, or when one surely is, also where landmarks may be
// missed. It returns those that still may be.
func (t *octree) contour(ctx context.Context, seek bool, workers int) (*surface, []unseenMark, error) {
	t.redraw()
	finest := t.least
	for round := 1; ; round++ {
		d, list, err := t.sampleAll(ctx, workers)
		if err != nil {
			return nil, nil, err
		}
		leaves := t.root.leaves(nil)
		t.crossings = list
		missed := t.poor(leaves)
		k := t.assemble(leaves, d)
		small := k.smallComponents(smallComponent / patchShare * t.tol)
		unseen, err := t.unseen(ctx, leaves, k, small, patchLimit*t.tol, workers)
		if err != nil {
			return nil, nil, err
		}
		seek = seek || slices.ContainsFunc(unseen, func(u unseenMark) bool { return u.sure })
		seeking := seek && finest > 0 && len(unseen) > 0
		if len(missed) == 0 && !seeking || round == mostRounds {
			k.drop(small)
			return k, unseen, nil
		}
		t.redraw()
		for _, l := range missed {
			t.splitLeaf(ctx, l, nil)
		}
		if seeking {
			for _, u := range unseen {
				t.seek(ctx, u.at, patchLimit*t.tol, finest)
			}
			finest /= 2
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
	outlines := t.findOutlines(ctx)
	if err := inBatches(ctx, len(outlines), workers, func(i int) { t.refine(&outlines[i], list) }); err != nil {
		return nil, nil, err
	}
	d := linkUp(list, outlines)
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
func linkUp(list []crossing, outlines []faceSurface) *sampling {
	d := &sampling{at: make([]Vec, len(list)), normal: make([]Vec, len(list)), moved: map[int32]bool{}}
	for i := range list {
		if list[i].moved {
			d.moved[int32(i)] = true
		}
		d.at[i], d.normal[i] = list[i].at, list[i].normal
	}
	for i := range outlines {
		o := &outlines[i]
		if o.facets != nil {
			o.facets.linkUp(o, d)
			continue
		}
		corner := int32(len(d.at))
		if o.bent {
			d.at, d.normal = append(d.at, o.corner), append(d.normal, Vec{})
		}
		o.addLinks(o.lower, true, corner)
		o.addLinks(o.upper, false, corner)
	}
	return d
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
