package making

import (
	"context"
	"slices"
	"sync"

	"golang.org/x/sync/errgroup"

	"halfpour/geom"
	"halfpour/geom/parallel"
	"halfpour/moldbox"
	"halfpour/moldbox/head"
	"halfpour/pourplan"
)

// Make makes everything of all molds; what is made to a tolerance over RoughTolerance
// is for a look. It fails with MoldErrors, a StopError, or as its context.
func (r *Run) Make(ctx context.Context, opt Options) error {
	if err := r.Open(ctx, opt.Progress); err != nil {
		return err
	}
	if stopped := r.stopped(); stopped != nil && !opt.Anyway {
		return &StopError{stopped}
	}
	ahead, stop := context.WithCancel(ctx)
	defer func() {
		stop()
		for _, m := range r.Molds {
			m.leaveRest()
		}
	}()
	if err := r.each(ctx, func(ctx context.Context, m *Mold) error { return m.castToMake(ctx, ahead, opt) }); err != nil {
		return err
	}
	if stopped := r.stopped(); stopped != nil && !opt.Anyway {
		return &StopError{stopped}
	}
	if err := r.each(ctx, func(within context.Context, m *Mold) error { return m.make(within, ctx, opt) }); err != nil {
		return err
	}
	return r.listAll()
}

// Check builds all molds, measures rubber to a share of it and plans; it makes
// no frames. Findings that say stop are no error. It fails with MoldErrors or
// as its context.
func (r *Run) Check(ctx context.Context, share float64, progress Progress) error {
	if err := r.Open(ctx, progress); err != nil {
		return err
	}
	if err := r.each(ctx, func(ctx context.Context, m *Mold) error { return m.check(ctx, share, progress) }); err != nil {
		return err
	}
	return r.listAll()
}

// Open reads heads and builds the molds' solids, which gives their findings;
// Check and Make do it if need be. It fails with MoldErrors or as its context.
func (r *Run) Open(ctx context.Context, progress Progress) error {
	return r.each(ctx, func(ctx context.Context, m *Mold) error { return m.open(ctx, progress) })
}

// open reads the heads and builds the mold's solids, once.
func (m *Mold) open(ctx context.Context, progress Progress) error {
	if m.opened {
		return nil
	}
	progress.tell(m, Reading, Reading)
	if err := m.build(ctx); err != nil {
		return m.Job.Explain(err)
	}
	m.opened, m.given = true, m.Findings
	m.Findings = slices.Concat(m.given, m.headFindings(), m.Job.RubberFindings(), m.Job.CoatFindings(), m.Job.SocketFindings(m.Solids), m.Solids.Findings)
	progress.tell(m, Reading, "read")
	return ctx.Err()
}

// build makes the mold. Meanwhile it looks for heads that cut through
// themselves, as few do; with one, it makes the mold again.
func (m *Mold) build(ctx context.Context) error {
	if err := m.readHeads(ctx); err != nil {
		return err
	}
	if m.sameAsEarlier() {
		m.made = m.earlier
		return nil
	}
	var solids *moldbox.Mold
	var buildErr error // of no matter when a head has to be taken otherwise
	crossed := false
	group, within := errgroup.WithContext(ctx)
	group.Go(func() error {
		solids, buildErr = moldbox.Build(within, m.spec)
		return nil
	})
	group.Go(func() (err error) {
		crossed, err = m.lookForCrossings(within)
		return err
	})
	if err := group.Wait(); err != nil {
		return err
	}
	if crossed {
		if err := m.readHeads(ctx); err != nil {
			return err
		}
		solids, buildErr = moldbox.Build(ctx, m.spec)
	}
	m.Solids = solids
	for _, from := range []*moldbox.Mold{m.earlier.Solids, m.unfitted.Solids} {
		if buildErr == nil && from != nil {
			solids.KeepLumps(from)
		}
	}
	return buildErr
}

// readHeads reads the heads and sets what the mold is made to.
func (m *Mold) readHeads(ctx context.Context) (err error) {
	m.heads, m.hooks, m.bored = map[string]*head.Head{}, map[string]*moldbox.HookBody{}, nil
	m.spec, err = m.Job.SpecWithBodies(func(file string) (geom.Solid, error) {
		h, err := m.shelf.get(ctx, file)
		if err != nil {
			return nil, err
		}
		m.heads[file] = h
		return h.Solid, m.checkUnit(file, h)
	}, pourplan.Bodies{Hook: func(file string, mmPerUnit float64) (*moldbox.HookBody, error) {
		b, err := m.shelf.hook(ctx, file, mmPerUnit)
		m.hooks[file] = b
		return b, err
	}, Wire: func(file string, mmPerUnit float64) (*moldbox.WireBody, error) {
		return m.shelf.wire(ctx, file, mmPerUnit)
	}, Bored: func(t pourplan.HeadTable, v moldbox.Cavity) (geom.Solid, error) {
		b, err := m.shelf.bored(ctx, m.heads[t.File], t, v)
		if err != nil {
			return nil, err
		}
		m.bored = append(m.bored, b)
		if len(b.bores) == 0 {
			return v.Head, nil
		}
		return b.solid, nil
	}})
	if err != nil {
		return err
	}
	return m.spec.CheckHeads() // before looking for crossings, which takes long
}

// stopped are the molds that must not be made.
func (r *Run) stopped() (list []*Mold) {
	for _, m := range r.Molds {
		if m.Says(moldbox.Stop) {
			list = append(list, m)
		}
	}
	return list
}

// check measures the rubber to a share of it, and plans.
func (m *Mold) check(ctx context.Context, share float64, progress Progress) error {
	progress.tell(m, Measuring, "measuring rubber")
	both, within := errgroup.WithContext(ctx)
	both.Go(func() error { return m.finishCast(within) })
	both.Go(func() error { return m.measureRoughly(within, share) })
	if err := both.Wait(); err != nil {
		return err
	}
	m.Measured = *m.checked
	m.Measured.Cast = m.computed()
	err := m.plan()
	progress.tell(m, Measuring, "measured")
	return err
}

// measureRoughly measures the rubber to a share of it, and plastic when it costs
// something, unless that is done.
func (m *Mold) measureRoughly(ctx context.Context, share float64) error {
	if m.checked == nil || m.share > share {
		in, err := m.Solids.Measure(ctx, share, m.cavityHeads())
		if err != nil {
			return err
		}
		m.checked, m.share = &in, share
	}
	if m.Job.Cost.Plastic != nil && m.checked.Left.Plastic == 0 {
		return m.Solids.MeasurePlastic(ctx, m.checked)
	}
	return nil
}

// mostMeanwhile is how many triangles a frame may have for its pictures to be drawn while
// the other one is made: that takes memory.
const mostMeanwhile = 200_000

// largeMold is from how many facets of its heads on a mold is large.
const largeMold = 1_000_000

// make makes everything of an open mold. The frames are meshed while its figures and
// drawings come, as parts of either keep only one processor busy, and so do pictures of
// the half that is made first while the other one is, which may go on until drawing ends.
// Engines that share the work do one piece at a time: figures first, pictures last.
func (m *Mold) make(ctx, drawing context.Context, opt Options) error {
	if err := m.fitsMemory(); err != nil {
		return err
	}
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	var figuresErr error
	var figures sync.WaitGroup
	measured, drafted := make(chan struct{}), make(chan *pourplan.Plan, 2)
	figures.Go(func() {
		if figuresErr = m.figures(ctx, opt.Progress, measured); figuresErr != nil {
			cancel()
		}
		drafted <- m.Plan
		drafted <- m.Plan
	})
	if parallel.Shared(ctx) {
		figures.Wait()
	}
	var rubber [2]*later[struct{}]
	defer func() { // nothing goes on in a mold that nobody waits for
		for _, r := range rubber {
			if r != nil {
				<-r.done
			}
		}
	}()
	meshed := func(half int, mesh *geom.TriMesh) {
		m.Frames[half] = mesh
		rubber[half] = goOn(func() (_ struct{}, err error) {
			if m.Rubber[half], err = m.Solids.RubberMesh(ctx, half, mesh); err == nil && !parallel.Shared(ctx) && len(mesh.Triangles) <= mostMeanwhile {
				go func() { m.drawEarly(drawing, half, <-drafted) }()
			}
			return
		})
	}
	made := func(half int, f moldbox.FrameMesh) {
		if rubber[half] == nil { // made elsewhere, or of heads with fewer facets
			meshed(half, f.Mesh)
		}
	}
	frames, err := m.makeFrames(ctx, moldbox.FrameOptions{
		Tolerance: m.tolerance(opt), Heads: m.cavityHeads(), OneByOne: m.Facets() > largeMold,
		Rubber: func(ctx context.Context) ([2]geom.Integral, error) {
			select {
			case <-measured:
				return [2]geom.Integral{m.Measured.Left.Rubber, m.Measured.Right.Rubber}, nil
			case <-ctx.Done():
				return [2]geom.Integral{}, ctx.Err()
			}
		},
		Meshed:   meshed,
		Made:     made,
		Progress: func(half, step string) { opt.Progress.tell(m, half+" frame", step) },
	})
	if figures.Wait(); figuresErr != nil {
		return figuresErr
	}
	if err != nil {
		return m.blameCrossed(err)
	}
	for i := range rubber {
		if _, err := rubber[i].wait(ctx); err != nil {
			return err
		}
	}
	m.Proof.Left, m.Proof.Right = frames[0].Proof, frames[1].Proof
	m.Measured.Left.Mesh, m.Measured.Right.Mesh = &m.Proof.Left, &m.Proof.Right
	m.Measured.Left.Hanging, m.Measured.Right.Hanging = frames[0].Hanging, frames[1].Hanging
	return m.plan()
}

// figures measures the mold, which closes measured, proves what it measured, plans
// and draws.
func (m *Mold) figures(ctx context.Context, progress Progress, measured chan<- struct{}) error {
	both, within := errgroup.WithContext(ctx)
	both.Go(func() error { return m.finishCast(within) })
	both.Go(func() (err error) {
		progress.tell(m, Measuring, "measuring")
		if m.Measured, err = m.Solids.Measure(within, m.MeasuredTo(), m.cavityHeads()); err != nil {
			return err
		}
		close(measured)
		progress.tell(m, Measuring, "adding up")
		m.Proof.Whole, err = parallel.Share(within, "adding up", func() (moldbox.WholeProof, error) {
			return m.Solids.ProveWhole(within, m.Measured.Left.Rubber, m.Measured.Right.Rubber)
		})
		return err
	})
	if err := both.Wait(); err != nil {
		return err
	}
	m.Measured.Cast = m.computed()
	if err := m.plan(); err != nil { // whose findings the drawings show; again later, with the frames
		return err
	}
	progress.tell(m, Measuring, "cutting the drawings")
	err := m.draw(ctx)
	progress.tell(m, Measuring, "drawn")
	if err == nil && !m.Rough && !parallel.Shared(ctx) { // while a frame keeps one processor busy
		err = m.Bodies().MakeAll(ctx)
	}
	return err
}

// thinnedShare is what of a rough tolerance heads may be off by fewer facets.
const thinnedShare = 0.35

// makeFrames makes frames for a look of heads with fewer facets, unless that does not
// come to the tolerance.
func (m *Mold) makeFrames(ctx context.Context, opt moldbox.FrameOptions) ([2]moldbox.FrameMesh, error) {
	if m.Rough {
		rough := opt
		rough.Meshed, rough.Made = nil, nil // not before both are sure
		rough.Drawn, rough.DrawnTolerance = m.thinned(ctx, thinnedShare*opt.Tolerance), (1-thinnedShare)*opt.Tolerance
		if frames, err := m.Solids.MakeFrames(parallel.Of(ctx, "rough"), rough); err == nil {
			m.Coarse = rough.Drawn
			for i := range frames {
				if opt.Made != nil {
					opt.Made(i, frames[i])
				}
			}
			return frames, nil
		}
	}
	return m.Solids.MakeFrames(ctx, opt)
}

// plan computes the figures of what is measured.
func (m *Mold) plan() (err error) {
	in := m.Measured
	in.Findings = m.Findings
	if m.Rough {
		in.Findings = slices.Concat(in.Findings, pourplan.LookFindings())
	}
	m.Plan, err = pourplan.NewPlan(m.Job, in)
	return err
}

// listAll adds up what the sizes take.
func (r *Run) listAll() (err error) {
	if len(r.Job.Size) == 0 {
		return nil
	}
	var molds []pourplan.PlannedMold
	for _, m := range r.Molds {
		molds = append(molds, pourplan.PlannedMold{Mold: m.Mold, Plan: m.Plan})
	}
	r.List, err = pourplan.NewRunList(r.Job, molds)
	return r.Job.Explain(err)
}
