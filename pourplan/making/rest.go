package making

import (
	"context"
	"fmt"

	"halfpour/geom/parallel"
	"halfpour/moldbox"
	"halfpour/moldbox/heat"
	"halfpour/pourplan"
)

// rest is what is computed of a shot beyond how it freezes: nothing but the plan asks
// for it.
type rest struct {
	solids *moldbox.Mold    // that the shot was computed of
	shots  *moldbox.Casting // of them
	trials []pourplan.Trial
}

// finishCast computes the trials and the rhythm of the computed shot, if there is one
// and they are to come.
func (m *Mold) finishCast(ctx context.Context) error {
	if m.cast == nil || m.cast.rest == nil {
		return nil
	}
	cases, cast, rest := m.cast.cases, *m.cast.cast, m.cast.rest
	frozen := make([]*moldbox.CastTrial, len(rest.trials))
	n := len(frozen) + 1
	err := parallel.For(ctx, n, parallel.Pieces(ctx, n), func(i int) {
		if i > 0 {
			frozen[i-1], _ = parallel.Share(ctx, fmt.Sprintf("trial %d", i), func() (*moldbox.CastTrial, error) {
				return rest.try(ctx, rest.trials[i-1], cases.Limits[:]), ctx.Err()
			})
		} else if open := pourplan.OpenAfter(cast); open > 0 {
			ask := heat.Rhythm{Every: cast.Every, Open: open, Shots: shownShots, Wanted: cases.Best.MoldC}
			r, err := parallel.Share(ctx, "rhythm", func() (heat.Rhythmic, error) { return rest.solids.RhythmRoughly(ctx, cases.Best, ask) })
			if err == nil {
				cast.Rhythm = &r
			}
		}
	})
	if err != nil {
		return err
	}
	for _, t := range frozen {
		if t != nil {
			cast.Trials = append(cast.Trials, *t)
		}
	}
	m.cast.cast, m.cast.rest = &cast, nil
	return nil
}

// try computes a shot with a remedy; nil when nothing comes out.
func (r *rest) try(ctx context.Context, t pourplan.Trial, limits []float64) *moldbox.CastTrial {
	shots := r.shots
	if t.Mold != nil {
		mold, err := r.solids.Like(ctx, t.Mold)
		if err != nil {
			return nil // no such gate
		}
		shots = mold.Casting()
	}
	f, err := shots.Freeze(ctx, t.Hot, limits)
	if err != nil {
		return nil
	}
	return &moldbox.CastTrial{Against: t.Against, Change: t.Change, Shrinks: t.Shrinks, Frozen: f}
}

// shownShots is of how many shots a plan tells how warm the mold is before each.
const shownShots = 6
