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
// longer ones beyond.
func axisLines(lo, hi, fineLo, fineHi, h, through float64) []float64 {
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
	down := tail(fine[0]-lo, h)
	for i := len(down) - 1; i >= 0; i-- {
		lines = append(lines, fine[0]-down[i])
	}
	lines = append(lines, fine...)
	end := fine[len(fine)-1]
	for _, d := range tail(hi-end, h) {
		lines = append(lines, end+d)
	}
	return lines
}

// tail cuts a length into steps that grow from h on, and returns their ends.
func tail(length, h float64) []float64 {
	if length <= 1e-9 {
		return nil
	}
	var ends []float64
	at := 0.0
	for step := h; at < length-0.3*step; step = math.Min(step*grading, mostGraded*h) {
		at += step
		ends = append(ends, at)
	}
	if len(ends) == 0 {
		return []float64{length}
	}
	for i := range ends {
		ends[i] *= length / at
	}
	ends[len(ends)-1] = length
	return ends
}

// blocks cuts n cells into runs of most, with a border at cell through.
func blocks(n, through, most int) [][2]int {
	var down, all [][2]int
	for at := through; at > 0; at -= most {
		down = append(down, [2]int{max(0, at-most), at})
	}
	for i := len(down) - 1; i >= 0; i-- {
		all = append(all, down[i])
	}
	for at := through; at < n; at += most {
		all = append(all, [2]int{at, min(n, at+most)})
	}
	return all
}

// cellOf returns which cell of an axis holds x, the nearest one beyond the ends.
func cellOf(lines []float64, x float64) int {
	i := sort.SearchFloat64s(lines, x) - 1
	return max(0, min(i, len(lines)-2))
}
