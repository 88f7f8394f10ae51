package heat

import "math"

// pace says how long steps may be.
type pace struct {
	first  float64 // s after a pour
	opened float64 // s after the mold is opened
	share  float64 // of the time since the pour or opening
	steady float64 // while metal freezes: s, or
	slow   float64 // of the time since the pour, whichever is longer
}

func usualPace() pace { return pace{first: 0.002, opened: 0.5, share: 0.2, steady: 0.4, slow: 0.025} }

// step is how long the next one may be.
func (p pace) step(passed float64, freezing, open bool) float64 {
	first := p.first
	if open {
		first = p.opened
	}
	step := math.Max(first, p.share*passed)
	if freezing {
		step = math.Min(step, math.Max(p.steady, p.slow*passed))
	}
	return step
}

// march goes on until a time since the pour, and calls seen after each step with
// the time before it. It reports false when seen does, or when steps get
// too short. Metal is freezing until freezing says it is not.
func (s *state) march(until, since float64, p pace, freezing func() bool, seen func(from float64) bool) bool {
	for s.time < until-1e-9 {
		step := p.step(s.time-since, freezing(), s.empty)
		if s.step > 0 {
			step = math.Min(step, 1.5*s.step)
		}
		if left := until - s.time; step > left {
			step = left
		} else if 2*step > left {
			step = left / 2
		}
		from := s.time
		for !s.advance(step) {
			if step /= 4; step < 1e-7 {
				return false
			}
		}
		if !seen(from) {
			return false
		}
	}
	return true
}
