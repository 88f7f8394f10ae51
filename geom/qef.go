package geom

import "math"

// tangentMeet returns the point nearest to mid that lies, in the sense of
// least squares, on the tangent planes at the loop's crossings: on the edge or
// corner of the solid if its sides meet there. It is the quadric error
// minimiser of Ju et al. 2002, section 2.3; directions whose eigenvalue is
// below keep times the greatest are taken as lying in the surface and left alone.
func tangentMeet(mid Vec, ids []int32, d *sampling, keep float64) Vec {
	var a [3][3]float64
	var rhs Vec
	for _, id := range ids {
		n := d.normal[id]
		if n == (Vec{}) {
			continue
		}
		v := [3]float64{n.X, n.Y, n.Z}
		for i := range v {
			for j := range v {
				a[i][j] += v[i] * v[j]
			}
		}
		rhs = rhs.Add(n.Mul(n.Dot(d.at[id].Sub(mid))))
	}
	values, vectors := eigen3(a)
	most := max(values[0], max(values[1], values[2]))
	p := mid
	for i, l := range values {
		if l > keep*most && l > 0 {
			p = p.Add(vectors[i].Mul(vectors[i].Dot(rhs) / l))
		}
	}
	return p
}

// eigen3 returns the eigenvalues and unit eigenvectors of a symmetric matrix
// by cyclic Jacobi rotations (Golub & Van Loan, Matrix Computations, 8.5).
func eigen3(a [3][3]float64) ([3]float64, [3]Vec) {
	v := [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	for sweep := 0; sweep < 12; sweep++ {
		off := a[0][1]*a[0][1] + a[0][2]*a[0][2] + a[1][2]*a[1][2]
		diag := a[0][0]*a[0][0] + a[1][1]*a[1][1] + a[2][2]*a[2][2]
		if off <= 1e-24*diag {
			break
		}
		for p := 0; p < 2; p++ {
			for q := p + 1; q < 3; q++ {
				if a[p][q] == 0 {
					continue
				}
				theta := (a[q][q] - a[p][p]) / (2 * a[p][q])
				t := 1 / (math.Abs(theta) + math.Sqrt(theta*theta+1))
				if theta < 0 {
					t = -t
				}
				c := 1 / math.Sqrt(t*t+1)
				s := t * c
				for k := 0; k < 3; k++ {
					akp, akq := a[k][p], a[k][q]
					a[k][p], a[k][q] = c*akp-s*akq, s*akp+c*akq
				}
				for k := 0; k < 3; k++ {
					apk, aqk := a[p][k], a[q][k]
					a[p][k], a[q][k] = c*apk-s*aqk, s*apk+c*aqk
					vkp, vkq := v[k][p], v[k][q]
					v[k][p], v[k][q] = c*vkp-s*vkq, s*vkp+c*vkq
				}
			}
		}
	}
	var vectors [3]Vec
	for i := range vectors {
		vectors[i] = Vec{v[0][i], v[1][i], v[2][i]}
	}
	return [3]float64{a[0][0], a[1][1], a[2][2]}, vectors
}
