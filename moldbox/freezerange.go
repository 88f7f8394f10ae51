package moldbox

import (
	"context"
	"math"
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
// at their slow ends. It fails as Freeze does. A time is +Inf when the metal
// would never be solid.
func (m *Mold) FreezeRange(ctx context.Context, best Hot, unknowns []Unknown) (FreezeRange, error) {
	solid := func(h Hot) (float64, error) {
		f, err := m.Freeze(ctx, h, nil)
		return f.Solid, err
	}
	var r FreezeRange
	var err error
	if r.Best, err = solid(best); err != nil {
		return FreezeRange{}, err
	}
	worst := best
	var low, high float64
	for _, u := range unknowns {
		part := RangePart{Name: u.Name}
		for _, change := range []func(*Hot){u.Fast, u.Slow} {
			if change == nil {
				continue
			}
			h := best
			change(&h)
			t, err := solid(h)
			if err != nil {
				return FreezeRange{}, err
			}
			part.Sooner, part.Later = math.Min(part.Sooner, t-r.Best), math.Max(part.Later, t-r.Best)
		}
		if u.Slow != nil {
			u.Slow(&worst)
		}
		low, high = low+part.Sooner*part.Sooner, high+part.Later*part.Later
		r.Parts = append(r.Parts, part)
	}
	r.Low, r.High = r.Best-math.Sqrt(low), r.Best+math.Sqrt(high)
	r.Most, err = solid(worst)
	return r, err
}
