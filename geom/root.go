package geom

import "math"

// Root returns where a continuous function is 0 between a and b, a < b, with
// the values va and vb of unlike signs: within width of it, or where the value
// is within small of 0. It goes by false position and halves the value of
// an end that stays twice (Dowell & Jarratt, "A modified regula falsi method",
// BIT 11 (1971) 168-174).
func Root(f func(float64) float64, a, b, va, vb, width, small float64) float64 {
	moved := 0 // the end that did last: -1 for a, 1 for b
	for range 60 {
		m := a - va*(b-a)/(vb-va)
		if !(m >= a && m <= b) { // by rounding
			m = a + (b-a)/2
		}
		v := f(m)
		if math.Abs(v) <= small || b-a < width {
			return m
		}
		if (v < 0) == (va < 0) {
			a, va = m, v
			if moved == -1 {
				vb /= 2
			}
			moved = -1
		} else {
			b, vb = m, v
			if moved == 1 {
				va /= 2
			}
			moved = 1
		}
	}
	return a + (b-a)/2
}
