package pourplan

import "math"

// normal975 is the normal distribution's 97.5 % point: 95 % lie within so many
// standard deviations.
const normal975 = 1.959963984540054

// Wilson returns the 95 % interval of a share of which good out of all were
// seen, without correction for continuity (Wilson, "Probable inference, the
// law of succession, and statistical inference", J. Am. Stat. Assoc. 22, 1927,
// 209-212). Unlike the mean ± its error it stays within 0 and 1 and says
// something at 20 good of 20. With none seen, any share may be.
func Wilson(good, all int) (low, high float64) {
	if all <= 0 {
		return 0, 1
	}
	const zz = normal975 * normal975
	n := float64(all)
	p := float64(good) / n
	middle := p + zz/(2*n)
	half := normal975 * math.Sqrt(p*(1-p)/n+zz/(4*n*n))
	whole := 1 + zz/n
	return math.Max(0, (middle-half)/whole), math.Min(1, (middle+half)/whole)
}

// student returns Student's 97.5 % point: the 95 % interval of the mean of n
// values reaches so many standard errors to each side, with n-1 degrees of
// freedom, at least 1. By the expansion of Abramowitz & Stegun, Handbook of
// Mathematical Functions (1964), 26.7.5, good to 0.1 % from four degrees on;
// below by its table 26.10.
func student(degrees int) float64 {
	if few := []float64{12.706, 4.303, 3.182}; degrees <= len(few) {
		return few[degrees-1]
	}
	const x, x2 = normal975, normal975 * normal975
	v := float64(degrees)
	g1 := (x2 + 1) * x / 4
	g2 := ((5*x2+16)*x2 + 3) * x / 96
	g3 := (((3*x2+19)*x2+17)*x2 - 15) * x / 384
	g4 := ((((79*x2+776)*x2+1482)*x2-1920)*x2 - 945) * x / 92160
	return x + g1/v + g2/(v*v) + g3/(v*v*v) + g4/(v*v*v*v)
}
