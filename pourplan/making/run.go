package making

import (
	"context"
	"runtime"

	"golang.org/x/sync/errgroup"

	"halfpour/moldbox"
	"halfpour/pourplan"
)

// Run is all molds of a job: one for each of its sizes, or the one.
type Run struct {
	Job   *pourplan.Job
	Molds []*Mold           // in the job's order, at least one
	List  *pourplan.RunList // what they take together; nil until there are plans, and of a job without sizes

	shelf *shelf
}

// New is a run of a checked job. Nothing is read or made yet.
func New(job *pourplan.Job, heads Heads) *Run {
	r := &Run{Job: job, shelf: &shelf{read: heads, heads: map[string]*shelved{}}}
	for _, m := range job.Molds() {
		r.Molds = append(r.Molds, &Mold{Mold: m, shelf: r.shelf})
	}
	return r
}

// How well the rubber is measured, as shares of it: it is bought by what a
// build says.
const (
	CheckShare = 1e-2
	BuildShare = 1e-4
)

// Options says how a run is made.
type Options struct {
	Tolerance float64  // between the frames' meshes and their solids, mm; 0 for the job's
	Anyway    bool     // although checks say stop
	Progress  Progress // nil to hear nothing
}

// Progress hears of every step as it begins, and of the end of a part. It is
// called from several goroutines at once.
type Progress func(Step)

// Step is what is done to a mold next.
type Step struct {
	Mold *Mold
	Part string // one of the four
	Name string // "measuring rubber"; at the end "read", "measured", "drawn" or "proved"
}

// The parts of a run. Both frames are made at once.
const (
	Reading    = "reading"
	Measuring  = "measuring"
	LeftFrame  = "left frame"
	RightFrame = "right frame"
)

// Make makes everything of all molds. It fails with MoldErrors, a StopError,
// or as its context.
func (r *Run) Make(ctx context.Context, opt Options) error {
	if err := r.Open(ctx, opt.Progress); err != nil {
		return err
	}
	if stopped := r.stopped(); stopped != nil && !opt.Anyway {
		return &StopError{stopped}
	}
	if err := r.each(ctx, func(ctx context.Context, m *Mold) error { return m.make(ctx, opt) }); err != nil {
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

// stopped are the molds that must not be made.
func (r *Run) stopped() (list []*Mold) {
	for _, m := range r.Molds {
		if m.Says(moldbox.Stop) {
			list = append(list, m)
		}
	}
	return list
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

// each does the same for every mold, as many at a time as there are processors:
// where one keeps only one of them busy, others go on. All molds are tried; what
// went wrong comes back in their order.
func (r *Run) each(ctx context.Context, do func(context.Context, *Mold) error) error {
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(runtime.GOMAXPROCS(0))
	errs := make([]error, len(r.Molds))
	for i, m := range r.Molds {
		group.Go(func() error {
			errs[i] = do(ctx, m)
			return ctx.Err()
		})
	}
	if err := group.Wait(); err != nil {
		return err
	}
	var all MoldErrors
	for i, err := range errs {
		if err != nil {
			all = append(all, MoldError{r.Molds[i].Mold, err})
		}
	}
	if all == nil {
		return nil
	}
	return all
}
