package making

import (
	"context"
	"fmt"
	"runtime"

	"halfpour/geom/parallel"
	"halfpour/moldbox"
	"halfpour/moldbox/heat"
	"halfpour/pourplan"
)

// shownShots is of how many shots a plan tells how warm the mold is before each.
const shownShots = 6

// rest is what is computed of a shot beyond how it freezes: nothing but the plan asks
// for it.
type rest struct {
	solids *moldbox.Mold    // that the shot was computed of
	shots  *moldbox.Casting // of them
	trials []pourplan.Trial

	// Nil where it has not begun: the rhythm, and the shot with all that is computed of it.
	rhythm *later[*heat.Rhythmic]
	whole  *later[*moldbox.MeasuredCast]
}

// finishCast computes the trials and the rhythm of the computed shot, if there is one
// and they are to come.
func (m *Mold) finishCast(ctx context.Context) (err error) {
	if m.cast == nil || m.cast.rest == nil {
		return nil
	}
	var cast *moldbox.MeasuredCast
	if begun := m.cast.rest.whole; begun != nil {
		cast, err = begun.wait(ctx)
	} else {
		cast, err = m.cast.whole(ctx, parallel.Pieces(ctx, 1+len(m.cast.rest.trials)))
	}
	if err != nil {
		return err
	}
	m.cast.cast, m.cast.rest = cast, nil
	return nil
}

// goOn begins the rest, unless ahead is nil, and leaves processors for what goes on
// meanwhile.
func (s *shot) goOn(ahead context.Context) {
	if ahead != nil && s.rest != nil {
		s.rest.whole = goOn(func() (*moldbox.MeasuredCast, error) { return s.whole(ahead, max(1, runtime.GOMAXPROCS(0)/2)) })
	}
}

// leaveRest waits for the end of what was begun of a shot that nobody asks for any more.
func (m *Mold) leaveRest() {
	if m.cast == nil || m.cast.rest == nil {
		return
	}
	r := m.cast.rest
	if r.whole != nil {
		<-r.whole.done
	}
	if r.rhythm != nil {
		<-r.rhythm.done
	}
	r.whole, r.rhythm = nil, nil
}

// whole is the shot with its trials and its rhythm.
func (s *shot) whole(ctx context.Context, workers int) (*moldbox.MeasuredCast, error) {
	cast, rest := *s.cast, s.rest
	frozen := make([]*moldbox.CastTrial, len(rest.trials))
	err := parallel.For(ctx, 1+len(frozen), workers, func(i int) {
		if i > 0 {
			frozen[i-1], _ = parallel.Share(ctx, fmt.Sprintf("trial %d", i), func() (*moldbox.CastTrial, error) {
				return rest.try(ctx, rest.trials[i-1], s.cases.Limits[:]), ctx.Err()
			})
		} else if rest.rhythm != nil {
			cast.Rhythm, _ = rest.rhythm.wait(ctx)
		} else if open := pourplan.OpenAfter(cast); open > 0 {
			cast.Rhythm, _ = rhythm(ctx, rest.solids, s.cases, open)
		}
	})
	for _, t := range frozen {
		if t != nil {
			cast.Trials = append(cast.Trials, *t)
		}
	}
	return &cast, err
}

// rhythm is nil when nothing comes out.
func rhythm(ctx context.Context, solids *moldbox.Mold, cases pourplan.CastCases, open float64) (*heat.Rhythmic, error) {
	ask := heat.Rhythm{Every: pourplan.Brisk(open), Open: open, Shots: shownShots, Wanted: cases.Best.MoldC}
	r, err := parallel.Share(ctx, "rhythm", func() (heat.Rhythmic, error) { return solids.RhythmRoughly(ctx, cases.Best, ask) })
	if err != nil {
		return nil, err
	}
	return &r, nil
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

// later is a piece of work that goes on by itself until it is asked for.
type later[T any] struct {
	done chan struct{}
	made T
	err  error
}

func goOn[T any](do func() (T, error)) *later[T] {
	l := &later[T]{done: make(chan struct{})}
	go func() {
		defer close(l.done)
		l.made, l.err = do()
	}()
	return l
}

// wait returns what the work comes to, or as ctx ends.
func (l *later[T]) wait(ctx context.Context) (made T, err error) {
	select {
	case <-l.done:
		return l.made, l.err
	case <-ctx.Done():
		return made, ctx.Err()
	}
}
