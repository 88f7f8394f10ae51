package heat

import (
	"math"

	"halfpour/geom"
)

// corners are a sub-cell's eight values of one union, and how many are below 0.
func (c *cutter) corners(u int, at [3]int, v *[8]float64) (below int) {
	row, slab := c.n+1, (c.n+1)*(c.n+1)
	base := at[0] + at[1]*row + at[2]*slab
	w := c.values[u][base : base+slab+row+2]
	*v = [8]float64{w[0], w[1], w[row], w[row+1], w[slab], w[slab+1], w[slab+row], w[slab+row+1]}
	for _, x := range v {
		if x < 0 {
			below++
		}
	}
	return below
}

// linear is the linear function nearest to eight corner values: its value in
// the middle and its rise across the cell.
func linear(v *[8]float64) (mid float64, g [3]float64) {
	a, b, c, d := v[0]+v[1], v[2]+v[3], v[4]+v[5], v[6]+v[7]
	mid = (a + b + c + d) / 8
	g[0] = (v[1] + v[3] + v[5] + v[7] - v[0] - v[2] - v[4] - v[6]) / 4
	g[1] = (b + d - a - c) / 4
	g[2] = (c + d - a - b) / 4
	return mid, g
}

// faceShare is the share of a face, by its four corners, that is below 0.
func faceShare(v *[8]float64, axis, side int) float64 {
	a, b := 1<<((axis+1)%3), 1<<((axis+2)%3)
	base := side << axis
	q0, q1, q2, q3 := v[base], v[base|a], v[base|b], v[base|a|b]
	switch below := q0 < 0; {
	case below == (q1 < 0) && below == (q2 < 0) && below == (q3 < 0):
		if below {
			return 1
		}
		return 0
	}
	return areaBelow((q0+q1+q2+q3)/4, [2]float64{(q1 + q3 - q0 - q2) / 2, (q2 + q3 - q0 - q1) / 2})
}

// sub adds one sub-cell.
func (c *cutter) sub(at [3]int, step, middle geom.Vec) {
	var v [mostBodies + 1][8]float64
	var below [mostBodies + 1]int
	whole, inside := true, c.m
	for u := range c.m {
		if below[u] = c.corners(u, at, &v[u]); below[u] == 8 {
			inside = u // what comes after is covered
			break
		} else if below[u] > 0 {
			whole = false
		}
	}
	volume := step.X * step.Y * step.Z
	sides := [3]float64{step.Y * step.Z, step.Z * step.X, step.X * step.Y}
	outer := [3]bool{at[0] == 0 || at[0] == c.n-1, at[1] == 0 || at[1] == c.n-1, at[2] == 0 || at[2] == c.n-1}
	if whole {
		c.parts[inside] += volume
		c.centre[inside] = c.centre[inside].Add(middle.Mul(volume))
		for u := range c.m {
			if u > inside {
				c.corners(u, at, &v[u])
			}
			mid, _ := linear(&v[u])
			c.depth[inside][u] += math.Abs(mid) * volume
		}
		for a := range 3 {
			if outer[a] {
				c.addFace(a, at[a], sides[a], inside)
			}
		}
	} else {
		c.mixed(at, &v, inside, step, middle, sides, outer)
	}
	c.addCast(at, volume)
}

// addFace adds the outer faces across an axis of a sub-cell of one part.
func (c *cutter) addFace(axis, at int, area float64, to int) {
	if at == 0 {
		c.faces[2*axis][to] += area
	}
	if at == c.n-1 {
		c.faces[2*axis+1][to] += area
	}
}

// mixed adds a sub-cell of several parts: those up to last.
func (c *cutter) mixed(at [3]int, v *[mostBodies + 1][8]float64, last int, step, middle geom.Vec, sides [3]float64, outer [3]bool) {
	volume := step.X * step.Y * step.Z
	var share, area, in, out [mostBodies + 1]float64
	var faces [mostBodies + 1][6]float64
	before, beforeFaces := 0.0, [6]float64{}
	for u := range last {
		mid, g := linear(&v[u])
		mid -= c.round[u]
		now := math.Max(before, shareBelow(mid, g))
		in[u], out[u] = depthAbove(-mid, [3]float64{-g[0], -g[1], -g[2]}), depthAbove(mid, g)
		sum := 0.0
		for a := range 3 {
			lo, hi := faceShare(&v[u], a, 0), faceShare(&v[u], a, 1)
			d := (hi - lo) * sides[a]
			sum += d * d
			for side, x := range [2]float64{lo, hi} {
				x = math.Max(x, beforeFaces[2*a+side])
				faces[u][2*a+side] = x - beforeFaces[2*a+side]
				beforeFaces[2*a+side] = x
			}
		}
		area[u] = math.Sqrt(sum)
		share[u], before = now-before, now
	}
	share[last] = 1 - before
	for f := range 6 {
		faces[last][f] = 1 - beforeFaces[f]
	}
	for u := range last + 1 {
		c.parts[u] += share[u] * volume
		// The centre of a part moves to the faces that it fills more.
		f := &faces[u]
		off := geom.Vec{X: step.X * lean(f[0], f[1], share[u]), Y: step.Y * lean(f[2], f[3], share[u]), Z: step.Z * lean(f[4], f[5], share[u])}
		c.centre[u] = c.centre[u].Add(middle.Add(off).Mul(share[u] * volume))
		for a := range 3 {
			if outer[a] && at[a] == 0 {
				c.faces[2*a][u] += f[2*a] * sides[a]
			}
			if outer[a] && at[a] == c.n-1 {
				c.faces[2*a+1][u] += f[2*a+1] * sides[a]
			}
		}
	}
	c.addSurfaces(last, &share, &area, &in, &out, volume)
}

// addSurfaces adds where the parts of a sub-cell meet. Body u meets those after
// it at the surface of the union up to it.
func (c *cutter) addSurfaces(last int, share, area, in, out *[mostBodies + 1]float64, volume float64) {
	inside := 0.0
	for u := range last {
		inside += share[u]
		rest := 1 - inside
		for w := range last + 1 {
			switch {
			case share[w] <= 0:
			case w <= u && inside > 0:
				c.depth[w][u] += in[u] * share[w] / inside * volume
			case w > u && rest > 0:
				c.depth[w][u] += out[u] * share[w] / rest * volume
				if share[u] > 1e-12 && share[w] > 1e-12 {
					c.area[u][w] += area[u] * share[w] / rest
				}
			}
		}
	}
}

// lean is how far off the middle, in lengths of the cell, the centre of a part
// is that fills shares lo and hi of two opposite faces and share of the cell.
func lean(lo, hi, share float64) float64 {
	if share <= 0 {
		return 0
	}
	return math.Max(-0.5, math.Min(0.5, (hi-lo)/(12*share)))
}

// addCast adds how far the fill is from what is cast.
func (c *cutter) addCast(at [3]int, volume float64) {
	var v [8]float64
	below := c.corners(c.m, at, &v)
	mid, g := linear(&v)
	c.away = c.away.Add(geom.Vec{X: g[0], Y: g[1], Z: g[2]})
	switch below {
	case 8:
	case 0:
		c.castVolume += volume
		c.castDepth += mid * volume
	default:
		c.castVolume += (1 - shareBelow(mid, g)) * volume
		c.castDepth += depthAbove(mid, g) * volume
	}
}
