package heat

import "math"

// leastPart is the share of a cell below which a body's part is left out.
const leastPart = 1e-3

// leastTouch is the area, over that of a cell's face, by which a part must be
// joined to others: no heat would get out of it.
const leastTouch = 1e-4

// touches is the area by which a part meets others and the cell's faces, mm².
func (c *cutter) touches(u int) (sum float64) {
	for f := range c.faces {
		sum += c.faces[f][u]
	}
	for w := range c.m + 1 {
		if u < c.m {
			sum += c.area[u][w]
		}
		if w < c.m {
			sum += c.area[w][u]
		}
	}
	return sum
}

// result drops slivers; what they held goes to the largest part.
func (c *cutter) result(bodies []near, whole, far float64) *cut {
	t, m := &c.tally, c.m
	large := 0
	for u, v := range t.parts[:m+1] {
		if v > t.parts[large] {
			large = u
		}
	}
	r := &cut{castDistance: far, away: t.away.Unit()}
	if t.castVolume > 1e-12 {
		r.castDistance = t.castDepth / t.castVolume
	}
	index := make([]int, m+1)
	for u, v := range t.parts[:m+1] {
		index[u] = -1
		if v > leastPart*whole && c.touches(u) > leastTouch*math.Cbrt(whole*whole) || u == large {
			index[u] = len(r.bodies)
			r.bodies = append(r.bodies, bodyOf(bodies, u, c.fill))
			r.volume = append(r.volume, v)
			r.centre = append(r.centre, t.centre[u].Mul(1/v))
		}
	}
	for u, v := range t.parts[:m+1] {
		if index[u] < 0 {
			r.volume[index[large]] += v
		}
	}
	for f := range r.faces {
		r.faces[f] = make([]float64, len(r.bodies))
		for u, a := range t.faces[f][:m+1] {
			to := index[u]
			if to < 0 {
				to = index[large]
			}
			r.faces[f][to] += a
		}
	}
	for u := range m {
		for w := u + 1; w <= m; w++ {
			if p, q := index[u], index[w]; p >= 0 && q >= 0 && t.area[u][w] > 0 {
				r.pairs = append(r.pairs, touch{p, q, t.area[u][w], t.depth[u][u] / t.parts[u], t.depth[w][u] / t.parts[w]})
			}
		}
	}
	return r
}

func bodyOf(bodies []near, u, fill int) int {
	if u == len(bodies) {
		return fill
	}
	return bodies[u].body
}
