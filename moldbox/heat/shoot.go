package heat

import (
	"context"
	"math"
)

// shoot takes the mold through one shot, from the pour to the next.
func (s *state) shoot(ctx context.Context, opt *Options, p pace, last bool) (Shot, []Snapshot, error) {
	w := newWatch(s, opt)
	before := append([]float64(nil), s.temperature...)
	var kept []Snapshot
	waiting := opt.Snapshots
	stop := func() bool { return w.solidAll() && s.time >= opt.Open-1e-9 || ctx.Err() != nil }
	see := func(from float64) bool {
		w.see(from)
		return !stop()
	}
	// until goes on to a time, with a stop at each moment to keep.
	freezing := func() bool { return !w.solidAll() }
	until := func(to, since float64, seen func(float64) bool) {
		for last && len(waiting) > 0 && waiting[0] <= to {
			if !s.march(waiting[0], since, p, freezing, seen) {
				return
			}
			kept = append(kept, s.snapshot(w))
			waiting = waiting[1:]
		}
		s.march(to, since, p, freezing, seen)
	}
	until(math.Min(opt.Open, opt.Longest), 0, see)
	if !stop() {
		until(opt.Longest, 0, see)
	}
	if err := ctx.Err(); err != nil {
		return Shot{}, nil, err
	}
	if s.time < opt.Longest-1e-9 && !stop() {
		return Shot{}, nil, ErrSteps
	}
	w.shot.Reach, w.shot.Sides = s.reach(before, opt.Reach), s.sides(before)
	rest := opt.Least
	if !last {
		rest = opt.Every
	}
	wait := func(to, since float64) error {
		until(to, since, func(from float64) bool { w.seeOpen(from); return ctx.Err() == nil })
		if err := ctx.Err(); err != nil {
			return err
		}
		if s.time < to-1e-9 {
			return ErrSteps
		}
		return nil
	}
	since := 0.0
	if opt.Every > 0 && s.time < opt.Every {
		since = s.time
		w.shot.Opened = s.time
		s.opened()
		if shut := s.time + opt.Lies; opt.Lies > 0 && shut < rest {
			if err := wait(shut, since); err != nil {
				return Shot{}, nil, err
			}
			since = s.time
			s.shut()
		}
	}
	if rest > s.time {
		if err := wait(rest, since); err != nil {
			return Shot{}, nil, err
		}
	}
	return w.finish(), kept, nil
}

// seeOpen is see once the metal is solid or gone.
func (w *watch) seeOpen(from float64) {
	if w.s.empty {
		w.skin(from)
		return
	}
	w.see(from)
}
