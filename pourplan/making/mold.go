package making

import (
	"context"
	"slices"

	"golang.org/x/sync/errgroup"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/moldbox/head"
	"halfpour/pourplan"
)

// Mold is one mold of a run, as far as it is made.
type Mold struct {
	pourplan.Mold // name, folder and job
	made
	Findings []moldbox.Finding // of the heads and the mold, behind those that a caller has put here
	Measured moldbox.Measured
	Plan     *pourplan.Plan

	Drawings []pourplan.Drawing
	Frames   [2]*geom.TriMesh // left and right, as their files hold them
	Rubber   [2]*geom.TriMesh // surfaces of the cured halves, as they lie in their frames
	Proof    moldbox.Proof

	shelf   *shelf
	earlier made // of the last run
	opened  bool
}

// made is what one run can leave to the next.
type made struct {
	Solids *moldbox.Mold

	heads   map[string]*head.Head // by their names in the job
	spec    moldbox.Spec          // that the solids were made to
	checked *moldbox.Measured     // nil when not measured by check
	share   float64               // to which check has measured the rubber
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
	m.opened, m.Findings = true, slices.Concat(m.Findings, m.headFindings(), m.Job.CoatFindings(), m.Job.SocketFindings(m.Solids), m.Solids.Findings)
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
	return buildErr
}

// check measures the rubber to a share of it, and plans.
func (m *Mold) check(ctx context.Context, share float64, progress Progress) (err error) {
	progress.tell(m, Measuring, "measuring rubber")
	if m.checked == nil || m.share > share {
		in, err := m.Solids.Measure(ctx, share, m.cavityHeads())
		if err != nil {
			return err
		}
		m.checked, m.share = &in, share
	}
	if m.Job.Cost.Plastic != nil && m.checked.Left.Plastic == 0 {
		if err := m.Solids.MeasurePlastic(ctx, m.checked); err != nil {
			return err
		}
	}
	m.Measured = *m.checked
	err = m.plan()
	progress.tell(m, Measuring, "measured")
	return err
}

// largeMold is from how many facets of its heads on a mold is large.
const largeMold = 1_000_000

// make makes everything of an open mold.
func (m *Mold) make(ctx context.Context, opt Options) (err error) {
	if err := m.fitsMemory(); err != nil {
		return err
	}
	heads := m.cavityHeads()
	opt.Progress.tell(m, Measuring, "measuring")
	if m.Measured, err = m.Solids.Measure(ctx, BuildShare, heads); err != nil {
		return err
	}
	opt.Progress.tell(m, Measuring, "adding up")
	if m.Proof.Whole, err = m.Solids.ProveWhole(ctx, m.Measured.Left.Rubber, m.Measured.Right.Rubber); err != nil {
		return err
	}
	opt.Progress.tell(m, Measuring, "cutting the drawings")
	if m.Drawings, err = pourplan.Draw(ctx, m.Solids); err != nil {
		return err
	}
	opt.Progress.tell(m, Measuring, "drawn")
	frames, err := m.Solids.MakeFrames(ctx, moldbox.FrameOptions{
		Tolerance: m.tolerance(opt), Heads: heads, OneByOne: m.Facets() > largeMold,
		Progress: func(half, step string) { opt.Progress.tell(m, half+" frame", step) },
	})
	if err != nil {
		return m.blameCrossed(err)
	}
	m.Frames = [2]*geom.TriMesh{frames[0].Mesh, frames[1].Mesh}
	m.Proof.Left, m.Proof.Right = frames[0].Proof, frames[1].Proof
	if m.Rubber, err = m.Solids.RubberMeshes(ctx, m.Frames); err != nil {
		return err
	}
	m.Measured.Left.Mesh, m.Measured.Right.Mesh = &m.Proof.Left, &m.Proof.Right
	return m.plan()
}

// plan computes the figures of what is measured.
func (m *Mold) plan() (err error) {
	in := m.Measured
	in.Findings = m.Findings
	m.Plan, err = pourplan.NewPlan(m.Job, in)
	return err
}

func (m *Mold) tolerance(opt Options) float64 {
	if opt.Tolerance > 0 {
		return opt.Tolerance
	}
	return float64(m.Job.Output.Tolerance)
}

// Says reports whether a finding is of a severity.
func (m *Mold) Says(s moldbox.Severity) bool {
	return slices.ContainsFunc(m.Findings, func(f moldbox.Finding) bool { return f.Severity == s })
}

func (p Progress) tell(m *Mold, part, step string) {
	if p != nil {
		p(Step{m, part, step})
	}
}
