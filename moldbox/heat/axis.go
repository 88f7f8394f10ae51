package heat

import (
	"math"
	"sort"
)

// grading is by how much a cell may be longer than its neighbour away from the
// metal, and mostGraded how many times a cell near the metal it may get.
const grading, mostGraded = 1.3, 12

// axisLines returns where the cells of one axis begin and end, from lo to hi:
// steps of h from fineLo to fineHi, of which one line is at through, longer and
// longer ones beyond, with a line at each stop there.
func axisLines(lo, hi, fineLo, fineHi, h, through float64, stops []float64) []float64 {
	fineLo, fineHi = math.Max(lo, math.Min(fineLo, through)), math.Min(hi, math.Max(fineHi, through))
	first := math.Floor((fineLo-through)/h + 1e-9)
	last := math.Ceil((fineHi-through)/h - 1e-9)
	var fine []float64
	const least = 0.3 // of h; a shorter cell joins its neighbour
	for i := first; i <= last; i++ {
		x := through + i*h
		if x > lo+least*h && x < hi-least*h || x == through {
			fine = append(fine, x)
		}
	}
	var lines []float64
	begin, end := fine[0], fine[len(fine)-1]
	down := tail(begin-lo, h, ahead(stops, begin, -1))
	for i := len(down) - 1; i >= 0; i-- {
		lines = append(lines, begin-down[i])
	}
	lines = append(lines, fine...)
	for _, d := range tail(hi-end, h, ahead(stops, end, 1)) {
		lines = append(lines, end+d)
	}
	return lines
}

// ahead returns how far stops are from a line to one side, in order.
func ahead(stops []float64, from, side float64) []float64 {
	var list []float64
	for _, x := range stops {
		if d := (x - from) * side; d > 1e-6 {
			list = append(list, d)
		}
	}
	sort.Float64s(list)
	return list
}

// tail cuts a length into steps that grow from h on, with an end at each stop,
// and returns their ends.
func tail(length, h float64, stops []float64) []float64 {
	var ends []float64
	at, step := 0.0, h
	for _, stop := range append(stops, length) {
		if stop > length || stop < at+0.1*h {
			continue
		}
		first, begin := len(ends), at
		for at < stop-0.3*step {
			at += step
			ends = append(ends, at)
			step = math.Min(step*grading, mostGraded*h)
		}
		if len(ends) == first {
			ends = append(ends, stop)
		}
		for i := first; i < len(ends); i++ {
			ends[i] = begin + (ends[i]-begin)*(stop-begin)/math.Max(at-begin, 1e-9)
		}
		ends[len(ends)-1], at = stop, stop
	}
	return ends
}

// blocks cuts n cells into runs of most, with a border at line through and at others.
func blocks(n, through, most int, border func(i int) bool) [][2]int {
	var down, all [][2]int
	for at := through; at > 0; {
		to := at - 1
		for to > 0 && at-to < most && !border(to) {
			to--
		}
		down = append(down, [2]int{to, at})
		at = to
	}
	for i := len(down) - 1; i >= 0; i-- {
		all = append(all, down[i])
	}
	for at := through; at < n; {
		to := at + 1
		for to < n && to-at < most && !border(to) {
			to++
		}
		all = append(all, [2]int{at, to})
		at = to
	}
	return all
}

// cellOf returns which cell of an axis holds x, the nearest one beyond the ends.
func cellOf(lines []float64, x float64) int {
	i := sort.SearchFloat64s(lines, x) - 1
	return max(0, min(i, len(lines)-2))
}
