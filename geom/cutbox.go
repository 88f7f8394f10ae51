package geom

import "math"

// cutBoxVolume returns the volume in mm³ of the part of b with n·p < d, n a
// unit vector. The closed form for a rectangular cell is that of Scardovelli &
// Zaleski, "Analytical relations connecting linear interfaces and volume
// fractions in rectangular grids", J. Comput. Phys. 164 (2000) 228-237.
func cutBoxVolume(b Box, n Vec, d float64) float64 {
	s := b.Size()
	m := [3]float64{math.Abs(n.X) * s.X, math.Abs(n.Y) * s.Y, math.Abs(n.Z) * s.Z}
	sum := m[0] + m[1] + m[2]
	if sum == 0 {
		return 0
	}
	// Mirror the box so that the corner with the least n·p is the origin.
	low := min(n.X*b.Min.X, n.X*b.Max.X) + min(n.Y*b.Min.Y, n.Y*b.Max.Y) + min(n.Z*b.Min.Z, n.Z*b.Max.Z)
	alpha := (d - low) / sum
	whole := s.X * s.Y * s.Z
	switch {
	case alpha <= 0:
		return 0
	case alpha >= 1:
		return whole
	case alpha > 0.5:
		return whole * (1 - unitCut(m, sum, 1-alpha))
	default:
		return whole * unitCut(m, sum, alpha)
	}
}

// unitCut is the volume fraction below the plane m·x = alpha·sum in the unit
// cube, for 0 < alpha <= 1/2.
func unitCut(m [3]float64, sum, alpha float64) float64 {
	m1, m2, m3 := m[0]/sum, m[1]/sum, m[2]/sum
	if m1 > m2 {
		m1, m2 = m2, m1
	}
	if m2 > m3 {
		m2, m3 = m3, m2
	}
	if m1 > m2 {
		m1, m2 = m2, m1
	}
	if m1 < 1e-5 { // the cubic terms would cancel; the error of dropping m1 is of order m1
		if alpha < m2 {
			return alpha * alpha / (2 * m2 * (1 - m2))
		}
		return (alpha - 0.5*m2) / (1 - m2)
	}
	m12 := m1 + m2
	six := 6 * m1 * m2 * m3
	switch {
	case alpha < m1:
		return alpha * alpha * alpha / six
	case alpha < m2:
		return alpha*(alpha-m1)/(2*m2*m3) + m1*m1/(6*m2*m3)
	case alpha < min(m12, m3):
		return (alpha*alpha*(3*m12-alpha) + m1*m1*(m1-3*alpha) + m2*m2*(m2-3*alpha)) / six
	case m3 < m12:
		return (alpha*alpha*(3-2*alpha) + m1*m1*(m1-3*alpha) + m2*m2*(m2-3*alpha) + m3*m3*(m3-3*alpha)) / six
	default:
		return (2*alpha - m12) / (2 * m3)
	}
}
