package heat

import "math"

// When a step's equations count as solved: what is missing of all balances is no
// more than settled of the heat that moved. What is missing goes into the next
// step, so that a tenth of it changes no figure by 2e-4 of it (measured on examples).
// mostRounds is after how many corrections a step is made shorter.
const (
	settled    = 3e-4
	mostRounds = 10
)

// weights are those of the second-order backward formula: what of the heat now,
// one and two steps ago makes step·flow. The first step after a break is of
// first order.
func weights(step, last float64) (now, one, two float64) {
	if last == 0 {
		return 1, -1, 0
	}
	r := step / last
	return (1 + 2*r) / (1 + r), -(1 + r), r * r / (1 + r)
}

// advance goes on by a step, s. It reports false, and changes nothing, when the
// equations could not be solved.
func (s *state) advance(step float64) bool {
	now, one, two := weights(step, s.step)
	at := s.time + step
	if s.step == 0 {
		r := (math.Sqrt(s.time) + math.Sqrt(at)) / 2 // the mean of 1/√t on the way
		at = r * r
	}
	s.conduct(at)
	start := append(s.start[:0], s.heat...)
	s.start = start
	s.begin(step, now, one, two)
	for range mostRounds {
		missing := s.residual(step, now)
		enough := settled * s.moved(start)
		if missing < enough {
			s.accept(step, now, one, two)
			return true
		}
		s.slopes(now)
		s.m.factor()
		// Near the end far enough to come to it, no further than the slopes hold.
		share := math.Max(1e-3, math.Min(0.01, 0.3*enough/missing))
		s.sweeps += s.m.solve(s.rest, s.change, share)
		s.rounds++
		for i := range s.heat {
			s.heat[i] += s.of[i].store[s.stretch[i]] * s.change[i]
			s.settle(i)
		}
	}
	copy(s.heat, start)
	for i := range s.heat {
		s.settle(i)
	}
	return false
}

// begin sets what each part's heat is to come to without flows, the matrix'
// entries beside the diagonal, and a first guess: on as before.
func (s *state) begin(step, now, one, two float64) {
	for e, way := range s.m.way {
		s.m.value[e] = step * s.flow[way]
	}
	for i, h := range s.held {
		if s.gone(int32(i)) {
			s.wanted[i] = s.volume[i] * now * s.heat[i]
			continue
		}
		s.wanted[i] = -s.volume[i] * (one*h + two*s.before[i])
		if s.step > 0 {
			s.heat[i] += 0.9 * (h - s.before[i]) * step / s.step
			s.settle(i)
		}
	}
}

// moved is how much heat went from part to part since start, J.
func (s *state) moved(start []float64) float64 {
	sum := 1e-9
	for i, h := range s.heat {
		sum += s.volume[i] * math.Abs(h-start[i])
	}
	return sum
}

// residual sets rest to what is missing of each part's balance, J, and returns
// the sum of what is missing. It leaves in change what the ways from each part
// conduct in the step, J/K.
func (s *state) residual(step, now float64) float64 {
	air, m := s.g.scene.AirC, s.m
	sum := 0.0
	for i, t := range s.temperature {
		all := step * s.lost[i]
		rest := s.wanted[i] - now*s.volume[i]*s.heat[i] - all*(t-air)
		for e := m.start[i]; e < m.start[i+1]; e++ {
			rest += m.value[e] * (s.temperature[m.column[e]] - t)
			all += m.value[e]
		}
		s.rest[i], s.change[i] = rest, all
		sum += math.Abs(rest)
	}
	return sum
}

// slopes sets the matrix' diagonal from the parts' own store of heat and from
// all ways that lead from them, which residual has left in change.
func (s *state) slopes(now float64) {
	for i, all := range s.change {
		s.m.diagonal[i] = all + now*s.volume[i]*s.of[i].store[s.stretch[i]]
	}
}

// accept ends a step.
func (s *state) accept(step, now, one, two float64) {
	gone := 0.0
	for i, t := range s.temperature {
		gone += step * s.lost[i] * (t - s.g.scene.AirC)
	}
	out := (gone - one*s.outside[0] - two*s.outside[1]) / now
	s.outside = [2]float64{out, s.outside[0]}
	s.before, s.held = s.held, s.before
	for i, missing := range s.rest {
		if s.gone(int32(i)) {
			s.held[i] = s.before[i]
		} else {
			s.held[i] = s.heat[i] + missing/(now*s.volume[i])
		}
	}
	s.time += step
	s.step = step
	s.steps++
}
