package making

import (
	"context"
	"reflect"
	"slices"

	"golang.org/x/sync/errgroup"

	"halfpour/geom/parallel"
	"halfpour/moldbox"
	"halfpour/moldbox/heat"
	"halfpour/pourplan"
)

// Cast computes how a shot freezes in each mold, and makes molds anew whose heads
// come to another weight by what is fed in them. Make does it; Check goes by rules of
// thumb unless Cast is called before. Both then compute the rest that the plan says of
// a shot. It fails with MoldErrors or as its context.
func (r *Run) Cast(ctx context.Context, progress Progress) error {
	if err := r.Open(ctx, progress); err != nil {
		return err
	}
	return r.each(ctx, func(ctx context.Context, m *Mold) error { return m.castOnce(ctx, nil, progress) })
}

// castToMake computes how a shot freezes, as Cast does, and begins the rest that the plan
// says of it: that goes on under ahead. For a look rules of thumb do, as for Check.
func (m *Mold) castToMake(ctx, ahead context.Context, opt Options) error {
	if m.Rough = m.tolerance(opt) > RoughTolerance; m.Rough {
		return nil
	}
	if parallel.Shared(ctx) {
		ahead = nil // engines that share the work do one piece at a time
	}
	return m.castOnce(ctx, ahead, opt.Progress)
}

// shot is a computed shot, and what it was computed of.
type shot struct {
	cases pourplan.CastCases
	cast  *moldbox.MeasuredCast // without trials and rhythm as long as they are to come
	rest  *rest                 // nil when they have come
}

// castOnce computes how a shot freezes, unless that is done or the last run has it.
// Where it is not known what metal does, or nothing comes out, the plan goes by rules
// of thumb. Unless ahead is nil, the rest is begun under it: on two processors it keeps
// the one busy that the shot and the mold made anew leave idle.
func (m *Mold) castOnce(ctx, ahead context.Context, progress Progress) error {
	cases, known := m.Job.CastCases()
	if !known || m.cast != nil {
		return nil
	}
	progress.tell(m, Measuring, "casting a shot")
	if m.shot == nil || !reflect.DeepEqual(m.shot.cases, cases) {
		shot, err := m.computeShot(ctx, ahead, cases)
		if err != nil || shot == nil {
			return err
		}
		m.shot = shot
	}
	m.cast = m.shot
	cast := *m.cast.cast
	m.Job = m.Job.WithCast(cast)
	m.cast.goOn(ahead)
	if err := m.refit(ctx); err != nil {
		return err
	}
	// It is known better now: the plan warns of it, and this stops.
	stops := m.Job.SkinStops(cast)
	m.Findings = slices.DeleteFunc(m.Findings, func(f moldbox.Finding) bool {
		return f.Code == pourplan.TooHotCode && (f.Severity == moldbox.Warn || stops != nil)
	})
	m.Findings = append(m.Findings, stops...)
	return nil
}

// computeShot is nil when nothing comes out.
func (m *Mold) computeShot(ctx, ahead context.Context, cases pourplan.CastCases) (*shot, error) {
	var best, slow moldbox.Frozen
	var begun *later[*heat.Rhythmic]
	shots := m.Solids.Casting()
	both, together := errgroup.WithContext(ctx)
	both.Go(func() (err error) {
		best, err = parallel.Share(together, "shot", func() (moldbox.Frozen, error) {
			return shots.FreezeSeen(together, cases.Best, cases.Limits[:])
		})
		return err
	})
	both.Go(func() (err error) {
		slow, err = parallel.Share(together, "slow shot", func() (moldbox.Frozen, error) {
			return m.Solids.FreezeRoughly(together, cases.Slow, cases.Limits[:])
		})
		if open := pourplan.OpenAfter(moldbox.MeasuredCast{Slow: slow}); err == nil && ahead != nil && open > 0 {
			solids := m.Solids
			begun = goOn(func() (*heat.Rhythmic, error) { return rhythm(ahead, solids, cases, open) })
		}
		return err
	})
	if both.Wait() != nil {
		return nil, ctx.Err()
	}
	cast := &moldbox.MeasuredCast{Best: best, Slow: slow}
	var metal []float64
	for i, c := range m.Solids.Cavities {
		at, _ := m.Solids.InHead(i, best.Heads[i].CutOffAt)
		cast.LastInHead, metal = append(cast.LastInHead, at), append(metal, c.MetalVolume)
	}
	trials := m.Job.CastTrials(*cast, metal, m.Job.FillTimes(m.Solids.Cavities, m.Solids.Left.Inside.Max.Y))
	if open := pourplan.OpenAfter(*cast); open > 0 {
		cast.Every = pourplan.Brisk(open)
	} else {
		begun = nil
	}
	return &shot{cases, cast, &rest{solids: m.Solids, shots: shots, trials: trials, rhythm: begun}}, nil
}

// refit makes a mold anew when its heads are of other sizes by the job of now.
func (m *Mold) refit(ctx context.Context) error {
	was := m.made
	if err := m.readHeads(ctx); err != nil {
		return m.Job.Explain(err)
	}
	if slices.EqualFunc(was.spec.Cavities, m.spec.Cavities, func(a, b moldbox.Cavity) bool { return a.MetalVolume == b.MetalVolume }) {
		return nil
	}
	m.unfitted = was
	m.made, m.earlier = made{}, made{}
	m.opened, m.Findings = false, m.given
	return m.open(ctx, nil)
}

// Cuts are of the computed shot; nil when there is none.
func (m *Mold) Cuts() []moldbox.HeatCut {
	if m.cast == nil {
		return nil
	}
	return m.cast.cast.Best.Cuts
}
