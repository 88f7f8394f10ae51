package geom

import "math"

// Root returns where a continuous function is 0 between a and b, a < b, with
// the values va and vb of unlike signs: within width of it, or where the value
// is within small of 0. It goes by false position and lessens the value of an end
// that stays twice (Anderson & Björck, "A new high order method of regula falsi type
// for computing a root of an equation", BIT 13 (1973) 253-264).
func Root(f func(float64) float64, a, b, va, vb, width, small float64) float64 {
	moved := 0 // the end that did last: -1 for a, 1 for b
	for range 60 {
		m := a - va*(b-a)/(vb-va)
		if !(m >= a && m <= b) || math.IsInf(vb-va, 0) { // by rounding; or an end tells nothing
			m = a + (b-a)/2
		}
		v := f(m)
		if math.Abs(v) <= small || b-a < width {
			return m
		}
		if (v < 0) == (va < 0) {
			if moved == -1 {
				vb *= lessened(v, va)
			}
			a, va, moved = m, v, -1
		} else {
			if moved == 1 {
				va *= lessened(v, vb)
			}
			b, vb, moved = m, v, 1
		}
	}
	return a + (b-a)/2
}

// lessened is the share of its value that an end keeps while the value of the other
// goes from was to v: Anderson and Björck's, but no less than a quarter, as next to a
// flat stretch steps would come to nothing.
func lessened(v, was float64) float64 {
	if share := 1 - v/was; share > 0.25 {
		return share
	}
	return 0.5
}
