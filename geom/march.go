package geom

import (
	"iter"
	"math"
)

// March goes from a to b along a line on which f changes no faster than place:
// by what the last value shows to be free of a change of sign, but at least by
// least, so that a stretch shorter than that may be missed. It yields the
// places, both ends among them, with their values; va is that at a.
func March(f func(float64) float64, a, b, va, least float64) iter.Seq2[float64, float64] {
	return func(yield func(t, v float64) bool) {
		for t, v := a, va; yield(t, v) && t < b; v = f(t) {
			t = min(b, t+max(math.Abs(v), least))
		}
	}
}

// Stretches marches from a to b and calls visit with the stretches in which f
// is below 0. Their ends are found as by Root.
func Stretches(f func(float64) float64, a, b, least, width, small float64, visit func(lo, hi float64)) {
	va := f(a)
	last, was := a, va
	from, inside := a, va < 0
	for t, v := range March(f, a, b, va, least) {
		if (v < 0) != inside {
			cross := Root(f, last, t, was, v, width, small)
			if inside {
				visit(from, cross)
			}
			from, inside = cross, !inside
		}
		last, was = t, v
	}
	if inside {
		visit(from, b)
	}
}
