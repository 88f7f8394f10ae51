package heads

import "math"

// curve is a smooth line through given points that starts like the tip of a
// parabola: its square is a monotone cubic (Fritsch & Butland, SIAM J. Sci.
// Stat. Comput. 5(2), 1984).
type curve struct{ x, square, slope []float64 }

// newCurve takes x, y, x, y ... with x growing and y not negative.
func newCurve(xy ...float64) curve {
	var c curve
	for i := 0; i < len(xy); i += 2 {
		c.x = append(c.x, xy[i])
		c.square = append(c.square, xy[i+1]*xy[i+1])
	}
	n := len(c.x)
	secant := func(i int) float64 { return (c.square[i+1] - c.square[i]) / (c.x[i+1] - c.x[i]) }
	c.slope = make([]float64, n)
	c.slope[0], c.slope[n-1] = secant(0), secant(n-2)
	for i := 1; i < n-1; i++ {
		if a, b := secant(i-1), secant(i); a*b > 0 {
			h, k := c.x[i]-c.x[i-1], c.x[i+1]-c.x[i]
			c.slope[i] = 3 * (h + k) / ((2*k+h)/a + (k+2*h)/b)
		}
	}
	return c
}

// at returns y at x, which is held within the points.
func (c curve) at(x float64) float64 {
	x = math.Min(math.Max(x, c.x[0]), c.x[len(c.x)-1])
	i := 0
	for i+2 < len(c.x) && x > c.x[i+1] {
		i++
	}
	h := c.x[i+1] - c.x[i]
	t := (x - c.x[i]) / h
	u := 1 - t
	v := c.square[i]*u*u*(1+2*t) + c.square[i+1]*t*t*(1+2*u) +
		h*t*u*(c.slope[i]*u-c.slope[i+1]*t)
	return math.Sqrt(math.Max(v, 0))
}

// smoothstep goes from 0 at a to 1 at b, level at both.
func smoothstep(a, b, x float64) float64 {
	t := math.Min(math.Max((x-a)/(b-a), 0), 1)
	return t * t * (3 - 2*t)
}
