package making

import (
	"context"
	"reflect"
	"slices"

	"halfpour/moldbox"
	"halfpour/pourplan"
)

// Cast computes how a shot freezes in each mold, and makes molds anew whose heads
// come to another weight by what is fed in them. Make does it; Check goes by rules of
// thumb unless Cast is called before. It fails with MoldErrors or as its context.
func (r *Run) Cast(ctx context.Context, progress Progress) error {
	if err := r.Open(ctx, progress); err != nil {
		return err
	}
	return r.each(ctx, func(ctx context.Context, m *Mold) error { return m.castOnce(ctx, progress) })
}

// shot is a computed shot, and what it was computed of.
type shot struct {
	cases pourplan.CastCases
	cast  *moldbox.MeasuredCast
}

// castOnce computes a shot, unless that is done or the last run has it. Where it is
// not known what metal does, or nothing comes out, the plan goes by rules of thumb.
func (m *Mold) castOnce(ctx context.Context, progress Progress) error {
	cases, known := m.Job.CastCases()
	if !known || m.cast != nil {
		return nil
	}
	progress.tell(m, Measuring, "casting a shot")
	if m.shot.cast == nil || !reflect.DeepEqual(m.shot.cases, cases) {
		best, err := m.Solids.Freeze(ctx, cases.Best, cases.Limits[:])
		var slow moldbox.Frozen
		if err == nil {
			slow, err = m.Solids.FreezeRoughly(ctx, cases.Slow, cases.Limits[:])
		}
		if err != nil {
			return ctx.Err()
		}
		m.shot = shot{cases, &moldbox.MeasuredCast{Best: best, Slow: slow}}
	}
	m.cast = m.shot.cast
	m.Job = m.Job.WithCast(*m.cast)
	return m.refit(ctx)
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
