package heat

import "math"

// shareBelow returns the share of a unit cube, centred at the origin, in which
// v + g·x is below 0 (by inclusion and exclusion of the cube's corners; the
// closed form of Scardovelli & Zaleski, J. Comput. Phys. 164 (2000) 228).
func shareBelow(v float64, g [3]float64) float64 {
	m, sum := steepness(g[:])
	switch {
	case v >= sum/2:
		return 0
	case v <= -sum/2:
		return 1
	}
	a := sum/2 - v
	total := cube(a) - cube(a-m[0]) - cube(a-m[1]) - cube(a-m[2]) +
		cube(a-m[0]-m[1]) + cube(a-m[1]-m[2]) + cube(a-m[0]-m[2]) - cube(a-sum)
	return math.Max(0, math.Min(1, total/(6*m[0]*m[1]*m[2])))
}

// areaBelow returns the share of a unit square, centred at the origin, in which
// v + g·x is below 0.
func areaBelow(v float64, g [2]float64) float64 {
	m, sum := steepness(g[:])
	switch {
	case v >= sum/2:
		return 0
	case v <= -sum/2:
		return 1
	}
	a := sum/2 - v
	total := square(a) - square(a-m[0]) - square(a-m[1]) + square(a-sum)
	return math.Max(0, math.Min(1, total/(2*m[0]*m[1])))
}

// cube and square are 0 below 0.
func cube(x float64) float64 {
	if x <= 0 {
		return 0
	}
	return x * x * x
}

func square(x float64) float64 {
	if x <= 0 {
		return 0
	}
	return x * x
}

// steepness returns the sizes of g's components, none of them 0, and their sum.
func steepness(g []float64) (m [3]float64, sum float64) {
	for _, x := range g {
		sum += math.Abs(x)
	}
	least := math.Max(1e-4*sum, 1e-12)
	sum = 0
	for i, x := range g {
		m[i] = math.Max(math.Abs(x), least)
		sum += m[i]
	}
	return m, sum
}

// depthAbove returns the integral of v + g·x over the part of the unit cube
// where it is above 0: its mean distance to the plane times its share.
func depthAbove(v float64, g [3]float64) float64 {
	_, sum := steepness(g[:])
	top := v + sum/2
	if top <= 0 {
		return 0
	}
	if v >= sum/2 {
		return v
	}
	// The share above a level, over all levels, by Simpson's rule.
	const n = 4
	step := top / n
	total := 1 - shareBelow(v, g)
	for i := 1; i < n; i++ {
		total += float64(2+2*(i&1)) * (1 - shareBelow(v-float64(i)*step, g))
	}
	return total * step / 3
}
