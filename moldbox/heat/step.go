package heat

import "math"

// When a step's equations count as solved: what is missing of all balances is no
// more than settled of the heat that moved. What is missing goes into the next
// step. mostRounds is after how many corrections a step is made shorter.
const (
	settled    = 1e-4
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
	for e, way := range s.m.way {
		s.m.value[e] = step * s.flow[way]
	}
	start := append([]float64(nil), s.heat...)
	for i, h := range s.heat {
		s.wanted[i] = -s.volume[i]*(one*h+two*s.before[i]) + s.owed[i]
		if s.gone(int32(i)) {
			s.wanted[i] = s.volume[i] * now * h
			continue
		}
		if s.step > 0 {
			s.heat[i] += 0.9 * (h - s.before[i]) * step / s.step
			s.settle(i)
		}
	}
	for round := 0; round < mostRounds; round++ {
		if missing := s.residual(step, now); missing < settled*s.moved(start) {
			s.accept(start, step, now, one, two)
			return true
		}
		s.slopes(now)
		s.m.factor()
		s.sweeps += s.m.solve(s.rest, s.change, 0.03)
		s.rounds++
		for i, d := range s.change {
			s.heat[i] += s.of[i].store[s.stretch[i]] * d
			s.settle(i)
		}
	}
	copy(s.heat, start)
	for i := range s.heat {
		s.settle(i)
	}
	return false
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
// the sum of what is missing.
func (s *state) residual(step, now float64) float64 {
	air := s.g.scene.AirC
	for i, t := range s.temperature {
		s.rest[i] = s.wanted[i] - now*s.volume[i]*s.heat[i] - step*s.lost[i]*(t-air)
		s.change[i] = step * s.lost[i]
	}
	for i := range s.links {
		if f := s.flow[i]; f > 0 {
			l := &s.links[i]
			q := step * f * (s.temperature[l.b] - s.temperature[l.a])
			s.rest[l.a] += q
			s.rest[l.b] -= q
			s.change[l.a] += step * f
			s.change[l.b] += step * f
		}
	}
	sum := 0.0
	for _, r := range s.rest {
		sum += math.Abs(r)
	}
	return sum
}

// slopes sets the matrix: its diagonal from the parts' own store of heat and
// all ways that lead from it, which residual has left in change.
func (s *state) slopes(now float64) {
	for i := range s.m.diagonal {
		s.m.diagonal[i] = s.change[i] + now*s.volume[i]*s.of[i].store[s.stretch[i]]
	}
}

// accept ends a step.
func (s *state) accept(start []float64, step, now, one, two float64) {
	gone := 0.0
	for i, t := range s.temperature {
		gone += step * s.lost[i] * (t - s.g.scene.AirC)
	}
	out := (gone - one*s.outside[0] - two*s.outside[1]) / now
	s.outside = [2]float64{out, s.outside[0]}
	copy(s.owed, s.rest)
	s.before = start
	s.time += step
	s.step = step
	s.steps++
}
