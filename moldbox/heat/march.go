package heat

import "math"

// pace says how long steps may be.
type pace struct {
	first float64 // s after a break
	share float64 // of the time since the pour or opening
	most  float64 // s
}

func usualPace() pace { return pace{first: 0.002, share: 0.12, most: 30} }

// march goes on until a time since the pour, and calls seen after each step with
// the time before it. It reports false when seen does, or when steps get
// too short.
func (s *state) march(until, since float64, p pace, seen func(from float64) bool) bool {
	for s.time < until-1e-9 {
		step := math.Min(p.most, math.Max(p.first, p.share*(s.time-since)))
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
