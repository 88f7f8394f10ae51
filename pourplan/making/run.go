package making

import (
	"context"
	"runtime"

	"golang.org/x/sync/errgroup"

	"halfpour/geom"
	"halfpour/geom/parallel"
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
	r := &Run{Job: job, shelf: &shelf{read: heads, heads: map[string]*shelved{}, thinned: map[thinned]geom.Solid{}}}
	for _, m := range job.Molds() {
		r.Molds = append(r.Molds, &Mold{Mold: m, shelf: r.shelf})
	}
	return r
}

// How well the rubber is measured, as shares of it: it is bought by what a
// build says. A look needs no more than its proof does.
const (
	CheckShare = 1e-2
	LookShare  = 5e-4
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

// each does the same for every mold, as many at a time as there are processors:
// where one keeps only one of them busy, others go on. All molds are tried; what
// went wrong comes back in their order.
func (r *Run) each(ctx context.Context, do func(context.Context, *Mold) error) error {
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(runtime.GOMAXPROCS(0))
	errs := make([]error, len(r.Molds))
	for i, m := range r.Molds {
		group.Go(func() error {
			errs[i] = do(parallel.Of(ctx, m.Name), m)
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
