package moldbox

import (
	"cmp"
	"context"
	"errors"
	"math"
	"reflect"

	"halfpour/geom/parallel"
)

// Unknown is one thing that is not known about a casting. Fast and Slow take it to
// the end of what may be at which metal freezes soonest and latest; either may be nil.
type Unknown struct {
	Name       string
	Fast, Slow func(*Hot)
}

// FreezeRange is when all metal of a shot is solid, s from the pour, and what its
// range is made of.
type FreezeRange struct {
	Best      float64
	Low, High float64     // likely: each unknown's difference squared, added up, and the root of it
	Most      float64     // with all unknowns at their slow end at once
	Parts     []RangePart // in the order asked
}

// RangePart is what one unknown alone makes of it: how many seconds sooner (no more
// than 0) and later (no less).
type RangePart struct {
	Name          string
	Sooner, Later float64
}

// FreezeRange computes a shot once for each end of each unknown, and once with all
// at their slow ends: roughly, as differences need no more. It fails as Freeze does.
// A time is +Inf when the metal would never be solid.
func (m *Mold) FreezeRange(ctx context.Context, best Hot, unknowns []Unknown) (FreezeRange, error) {
	// The first is the best, the last the slowest, between them each end.
	cases := []Hot{best}
	slowest := best
	for _, u := range unknowns {
		for _, change := range []func(*Hot){u.Fast, u.Slow} {
			h := best
			if change != nil {
				change(&h)
			}
			cases = append(cases, h)
		}
		if u.Slow != nil {
			u.Slow(&slowest)
		}
	}
	times, err := m.solidRoughly(ctx, append(cases, slowest))
	if err != nil {
		return FreezeRange{}, err
	}
	fine, err := m.Freeze(ctx, best, nil)
	if err != nil {
		return FreezeRange{}, err
	}
	if scale := fine.Solid / times[0]; !math.IsNaN(scale) && scale > 0 {
		for i := range times {
			times[i] *= scale
		}
	}
	r := FreezeRange{Best: fine.Solid, Most: times[len(times)-1]}
	var low, high float64
	for i, u := range unknowns {
		part := RangePart{Name: u.Name}
		for _, t := range times[1+2*i : 3+2*i] {
			if t != r.Best { // both may be endless
				part.Sooner, part.Later = math.Min(part.Sooner, t-r.Best), math.Max(part.Later, t-r.Best)
			}
		}
		low, high = low+part.Sooner*part.Sooner, high+part.Later*part.Later
		r.Parts = append(r.Parts, part)
	}
	r.Low, r.High = r.Best-math.Sqrt(low), r.Best+math.Sqrt(high)
	return r, nil
}

// solidRoughly is when all metal is solid in each case. Cases that are the same as the
// first are not computed again.
func (m *Mold) solidRoughly(ctx context.Context, cases []Hot) ([]float64, error) {
	times, errs := make([]float64, len(cases)), make([]error, len(cases))
	err := parallel.For(ctx, len(cases), 0, func(i int) {
		if i > 0 && reflect.DeepEqual(cases[i], cases[0]) {
			return
		}
		var f Frozen
		f, errs[i] = m.FreezeRoughly(ctx, cases[i], nil)
		times[i] = f.Solid
	})
	for i := range times {
		if times[i] == 0 {
			times[i] = times[0]
		}
	}
	return times, cmp.Or(err, errors.Join(errs...))
}
