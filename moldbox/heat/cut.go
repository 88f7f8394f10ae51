package heat

import (
	"math"

	"halfpour/geom"
)

// finest is how far apart, at most, the points are at which solids are asked in
// a cut cell, mm: the thinnest wire and fin must show.
const finest = 0.25

// near is a body that may matter in a box, with its solid pruned to it.
type near struct {
	body  int
	solid geom.Solid
}

// cut is a cell with more than one body in it. The bodies stand in order of
// precedence, the fill last.
type cut struct {
	bodies []int
	volume []float64    // mm³
	centre []geom.Vec   // of each part
	faces  [6][]float64 // area on the faces low X, high X, low Y ..., mm²
	pairs  []touch

	hotDistance              float64  // of the middle from what is cast or a wire, mm
	castDistance, castSpread float64  // of the fill from what is cast, mm
	bend                     float64  // of surfaces at one distance from what is cast: by how much their area grows with it, 1/mm
	away                     geom.Vec // from what is cast, where it is near; of length 1
}

// touch is where two bodies of a cell meet.
type touch struct {
	p, q   int     // indices in bodies
	area   float64 // mm²
	dp, dq float64 // mean distance of either body's part from it, mm
}

// cutter cuts cells; it is used by one goroutine at a time.
type cutter struct {
	fill   int         // body that is where no other is
	cast   []bool      // by body
	values [][]float64 // by union, then by node; the last is of all that is cast
}

// tally is what a cell's parts come to while its sub-cells are gone through.
type tally struct {
	volume, castDepth, castVolume float64
	parts                         []float64
	centre                        []geom.Vec // times volume
	away                          geom.Vec
	faces                         [6][]float64
	area, depthP, depthQ          [][]float64
}

// cut looks at a box in n×n×n sub-cells. Unions of the first bodies, the first
// two and so on are taken as linear between their nodes, so that the parts of
// neighbours fit.
func (c *cutter) cut(box geom.Box, bodies []near, far float64) *cut {
	size := box.Size()
	n := max(2, int(math.Ceil(math.Max(size.X, math.Max(size.Y, size.Z))/finest-1e-6)))
	n = min(n, 8)
	c.sample(box, bodies, n, far)
	m := len(bodies)
	t := &tally{parts: make([]float64, m+1), centre: make([]geom.Vec, m+1)}
	for f := range t.faces {
		t.faces[f] = make([]float64, m+1)
	}
	for range m + 1 {
		t.area = append(t.area, make([]float64, m+1))
		t.depthP = append(t.depthP, make([]float64, m+1))
		t.depthQ = append(t.depthQ, make([]float64, m+1))
	}
	step := size.Mul(1 / float64(n))
	for k := range n {
		for j := range n {
			for i := range n {
				c.sub(t, m, n, [3]int{i, j, k}, step, box.Min)
			}
		}
	}
	r := c.result(t, bodies, box.Volume(), far)
	r.bend = c.bend(m, n, size)
	return r
}

// bend is the sum of the second derivatives of the distance from what is cast.
func (c *cutter) bend(m, n int, size geom.Vec) float64 {
	v := c.values[m]
	row, slab := n+1, (n+1)*(n+1)
	stride := [3]int{1, row, slab}
	total := 0.0
	for a := range 3 {
		mean := func(plane int) float64 {
			s := 0.0
			for i := range n + 1 {
				for j := range n + 1 {
					s += v[plane*stride[a]+i*stride[(a+1)%3]+j*stride[(a+2)%3]]
				}
			}
			return s / float64(slab)
		}
		h := along(size, a) / 2
		off := 0.0 // of the middle planes
		if n%2 == 1 {
			off = h / float64(n)
		}
		total += (mean(0) + mean(n) - mean(n/2) - mean((n+1)/2)) / (h*h - off*off)
	}
	return total
}

// sample fills in the values at the nodes.
func (c *cutter) sample(box geom.Box, bodies []near, n int, far float64) {
	nodes := (n + 1) * (n + 1) * (n + 1)
	for len(c.values) < len(bodies)+1 {
		c.values = append(c.values, nil)
	}
	for u := range len(bodies) + 1 {
		if cap(c.values[u]) < nodes {
			c.values[u] = make([]float64, nodes)
		}
		c.values[u] = c.values[u][:nodes]
	}
	at := 0
	for k := range n + 1 {
		for j := range n + 1 {
			for i := range n + 1 {
				p := geom.Vec{X: part(box.Min.X, box.Max.X, i, n), Y: part(box.Min.Y, box.Max.Y, j, n), Z: part(box.Min.Z, box.Max.Z, k, n)}
				least, cast := math.Inf(1), far
				for u, b := range bodies {
					v := b.solid.Evaluate(p)
					least = math.Min(least, v)
					c.values[u][at] = math.Min(least, 1e6)
					if c.cast[b.body] {
						cast = math.Min(cast, v)
					}
				}
				c.values[len(bodies)][at] = cast
				at++
			}
		}
	}
}

// part is a point i nths of the way, the same from either side of a face.
func part(lo, hi float64, i, n int) float64 {
	switch i {
	case 0:
		return lo
	case n:
		return hi
	}
	return lo + (hi-lo)*float64(i)/float64(n)
}

// corners are a sub-cell's eight values of one union.
func (c *cutter) corners(u, n int, at [3]int) (v [8]float64, below, above bool) {
	row, slab := n+1, (n+1)*(n+1)
	base := at[0] + at[1]*row + at[2]*slab
	for i := range v {
		v[i] = c.values[u][base+i&1+(i>>1&1)*row+(i>>2)*slab]
		below = below || v[i] < 0
		above = above || v[i] >= 0
	}
	return v, below, above
}

// linear is the linear function nearest to eight corner values: its value in
// the middle and its rise across the cell.
func linear(v [8]float64) (mid float64, g [3]float64) {
	for i, x := range v {
		mid += x / 8
		for a := range 3 {
			if i>>a&1 == 1 {
				g[a] += x / 4
			} else {
				g[a] -= x / 4
			}
		}
	}
	return mid, g
}

// faceShare is the share of a face, by its four corners, that is below 0.
func faceShare(v [8]float64, axis, side int) float64 {
	a, b := 1<<((axis+1)%3), 1<<((axis+2)%3)
	base := side << axis
	q := [4]float64{v[base], v[base|a], v[base|b], v[base|a|b]}
	below := 0
	for _, x := range q {
		if x < 0 {
			below++
		}
	}
	if below == 0 || below == 4 {
		return float64(below) / 4
	}
	mid := (q[0] + q[1] + q[2] + q[3]) / 4
	return areaBelow(mid, [2]float64{(q[1] + q[3] - q[0] - q[2]) / 2, (q[2] + q[3] - q[0] - q[1]) / 2})
}

// sub adds one sub-cell.
func (c *cutter) sub(t *tally, m, n int, at [3]int, step, from geom.Vec) {
	whole := step.X * step.Y * step.Z
	sides := [3]float64{step.Y * step.Z, step.Z * step.X, step.X * step.Y}
	var share [16]float64 // of each body, the fill last
	var faces [16][6]float64
	var area, inside, outside [16]float64
	before, beforeFaces := 0.0, [6]float64{}
	for u := range m {
		v, below, above := c.corners(u, n, at)
		now, nowFaces := before, beforeFaces
		switch {
		case !below:
		case !above:
			now, nowFaces = 1, [6]float64{1, 1, 1, 1, 1, 1}
		default:
			mid, g := linear(v)
			now = math.Max(before, shareBelow(mid, g))
			inside[u] = depthAbove(-mid, [3]float64{-g[0], -g[1], -g[2]})
			outside[u] = depthAbove(mid, g)
			sum := 0.0
			for f := range 6 {
				nowFaces[f] = math.Max(beforeFaces[f], faceShare(v, f/2, f%2))
			}
			for a := range 3 {
				d := (faceShare(v, a, 1) - faceShare(v, a, 0)) * sides[a]
				sum += d * d
			}
			area[u] = math.Sqrt(sum)
		}
		if !below || !above {
			mid, _ := linear(v)
			inside[u], outside[u] = math.Max(0, -mid), math.Max(0, mid)
		}
		share[u] = now - before
		for f := range 6 {
			faces[u][f] = nowFaces[f] - beforeFaces[f]
		}
		before, beforeFaces = now, nowFaces
	}
	share[m] = 1 - before
	for f := range 6 {
		faces[m][f] = 1 - beforeFaces[f]
	}
	middle := from.Add(geom.Vec{X: (float64(at[0]) + 0.5) * step.X, Y: (float64(at[1]) + 0.5) * step.Y, Z: (float64(at[2]) + 0.5) * step.Z})
	for u := range m + 1 {
		// The centre of a part moves to the faces that it fills more.
		f := faces[u]
		off := geom.Vec{X: step.X * lean(f[0], f[1], share[u]), Y: step.Y * lean(f[2], f[3], share[u]), Z: step.Z * lean(f[4], f[5], share[u])}
		t.centre[u] = t.centre[u].Add(middle.Add(off).Mul(share[u] * whole))
	}
	t.add(share[:m+1], whole, area[:m], inside[:m], outside[:m])
	for u := range m + 1 {
		for f := range 6 {
			side := [3]int{n - 1, n - 1, n - 1}
			if at[f/2] == f%2*side[f/2] {
				t.faces[f][u] += faces[u][f] * sides[f/2]
			}
		}
	}
	c.addCast(t, m, n, at, whole)
}

// lean is how far off the middle, in lengths of the cell, the centre of a part
// is that fills shares lo and hi of two opposite faces and share of the cell.
func lean(lo, hi, share float64) float64 {
	if share <= 0 {
		return 0
	}
	return math.Max(-0.5, math.Min(0.5, (hi-lo)/(12*share)))
}

// add adds shares and where they meet.
func (t *tally) add(share []float64, whole float64, area, inside, outside []float64) {
	m := len(share) - 1
	for u, s := range share {
		t.parts[u] += s * whole
	}
	for u := range m {
		if share[u] <= 1e-12 {
			continue
		}
		// Body u meets those after it at the surface of the union up to it.
		rest := 0.0
		for w := u + 1; w <= m; w++ {
			rest += share[w]
		}
		for w := u + 1; w <= m; w++ {
			if share[w] > 1e-12 {
				t.area[u][w] += area[u] * share[w] / rest
			}
		}
	}
	for u := range m {
		for w := u + 1; w <= m; w++ {
			in, out := 0.0, 0.0
			for i := range u + 1 {
				in += share[i]
			}
			for i := u + 1; i <= m; i++ {
				out += share[i]
			}
			if in > 0 {
				t.depthP[u][w] += inside[u] * share[u] / in * whole
			}
			if out > 0 {
				t.depthQ[u][w] += outside[u] * share[w] / out * whole
			}
		}
	}
}

// addCast adds how far the fill is from what is cast.
func (c *cutter) addCast(t *tally, m, n int, at [3]int, whole float64) {
	v, below, above := c.corners(m, n, at)
	mid, g := linear(v)
	t.away = t.away.Add(geom.Vec{X: g[0], Y: g[1], Z: g[2]})
	switch {
	case !above:
	case !below:
		t.castVolume += whole
		t.castDepth += mid * whole
	default:
		t.castVolume += (1 - shareBelow(mid, g)) * whole
		t.castDepth += depthAbove(mid, g) * whole
	}
}

// leastPart is the share of a cell below which a body's part is left out.
const leastPart = 1e-3

// result drops slivers; what they held goes to the largest part.
func (c *cutter) result(t *tally, bodies []near, whole, far float64) *cut {
	m := len(bodies)
	large := 0
	for u, v := range t.parts {
		if v > t.parts[large] {
			large = u
		}
	}
	r := &cut{castDistance: far, away: t.away.Unit()}
	if t.castVolume > 1e-12 {
		r.castDistance = t.castDepth / t.castVolume
	}
	index := make([]int, m+1)
	for u, v := range t.parts {
		index[u] = -1
		if v > leastPart*whole || u == large {
			index[u] = len(r.bodies)
			r.bodies = append(r.bodies, bodyOf(bodies, u, c.fill))
			r.volume = append(r.volume, v)
			r.centre = append(r.centre, t.centre[u].Mul(1/v))
		}
	}
	for u, v := range t.parts {
		if index[u] < 0 {
			r.volume[index[large]] += v
		}
	}
	for f := range r.faces {
		r.faces[f] = make([]float64, len(r.bodies))
		for u, a := range t.faces[f] {
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
				r.pairs = append(r.pairs, touch{p, q, t.area[u][w], t.depthP[u][w] / t.parts[u], t.depthQ[u][w] / t.parts[w]})
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
