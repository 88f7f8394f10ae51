package heat

import "math"

// stays reports whether a part is there between shots.
func (s *state) stays(i int) bool {
	b := s.g.parts[i].body
	return b == s.g.fill() || s.g.scene.Bodies[b].Role == Fixed
}

// staying is the heat of what stays between shots, in order of the parts.
func (s *state) staying() []float64 {
	var list []float64
	for i := range s.g.parts {
		if s.stays(i) {
			list = append(list, s.held[i])
		}
	}
	return list
}

// put gives what stays the heat of a list as staying makes it.
func (s *state) put(list []float64) {
	n := 0
	for i := range s.g.parts {
		if s.stays(i) {
			s.brought += s.volume[i] * (list[n] - s.held[i])
			s.heat[i], s.held[i] = list[n], list[n]
			s.settle(i)
			n++
		}
	}
}

// warm makes what stays so many times as much warmer than the air as it is.
func (s *state) warm(times float64) {
	list, n := s.staying(), 0
	for i, p := range s.g.parts {
		if s.stays(i) {
			substance := &s.g.scene.Fill
			if p.body < s.g.fill() {
				substance = &s.g.scene.Bodies[p.body].Substance
			}
			cold := substance.At(s.g.scene.AirC).H
			list[n] = cold + times*(list[n]-cold)
			n++
		}
	}
	s.put(list)
}

// round is what stays of the mold before a shot and after it, and a figure that goes
// linearly with the latter.
type round struct {
	before, after []float64
	figure        float64
}

// limit is where shots take what stays, and the figure, in the end, by Anderson's mixing: the mean of
// what is after them, with weights of sum 1, of which the same mean of what they
// change is least (Walker & Ni, SIAM J. Numer. Anal. 49 (2011) 1715, from memory). Rubber and
// boards are linear, so that few are needed, and each may begin where it likes.
func (s *state) limit(run []round) (out []float64, figure float64) {
	products := make([][]float64, len(run))
	for i, a := range run {
		products[i] = make([]float64, len(run))
		for j, b := range run[:i+1] {
			at, sum := 0, 0.0
			for p := range s.g.parts {
				if s.stays(p) {
					sum += s.volume[p] * (a.after[at] - a.before[at]) * (b.after[at] - b.before[at])
					at++
				}
			}
			products[i][j], products[j][i] = sum, sum
		}
	}
	out = make([]float64, len(run[0].after))
	for i, w := range evenSolution(products) {
		figure += w * run[i].figure
		for p, h := range run[i].after {
			out[p] += w * h
		}
	}
	return out, figure
}

// evenSolution solves a symmetric system with 1 on all right-hand sides, by
// Cholesky's factors, and divides by the solution's sum. What is nearly
// dependent is held apart by a little on the diagonal.
func evenSolution(a [][]float64) []float64 {
	n := len(a)
	trace := 0.0
	for i := range a {
		trace += a[i][i]
	}
	x := make([]float64, n)
	if trace == 0 {
		x[n-1] = 1
		return x
	}
	const apart = 1e-10
	for i := range a {
		a[i][i] += apart * trace
		for j := range i + 1 {
			for k := range j {
				a[i][j] -= a[i][k] * a[j][k]
			}
			if i == j {
				a[i][i] = math.Sqrt(a[i][i])
			} else {
				a[i][j] /= a[j][j]
			}
		}
	}
	for i := range n {
		x[i] = 1
		for k := range i {
			x[i] -= a[i][k] * x[k]
		}
		x[i] /= a[i][i]
	}
	sum := 0.0
	for i := n - 1; i >= 0; i-- {
		for k := i + 1; k < n; k++ {
			x[i] -= a[k][i] * x[k]
		}
		x[i] /= a[i][i]
		sum += x[i]
	}
	for i := range x {
		x[i] /= sum
	}
	return x
}
