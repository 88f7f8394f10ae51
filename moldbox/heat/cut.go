package heat

import (
	"math"

	"halfpour/geom"
)

// finest is how far apart, at most, the points are at which solids are asked in
// a cut cell, mm: the thinnest wire and fin must show.
const finest = 0.25

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

// mostBodies bounds the bodies of one cell besides the one that is where no
// other is; more are left out.
const mostBodies = 7

// cutter cuts cells; it is used by one goroutine at a time.
type cutter struct {
	fill   int                       // body that is where no other is
	cast   []bool                    // by body
	n      int                       // sub-cells along an edge
	origin [3]int32                  // of the block whose cells are cut
	known  [][]float64               // of each body, its values at the corners and middles of the block's cells
	values [mostBodies + 1][]float64 // by union, then by node; the last that is used is of all that is cast
	round  [mostBodies + 1]float64   // by how much a union's mean over a sub-cell is below that of its corners, mm
	tally
}

// tally is what a cell's parts come to while its sub-cells are gone through.
// Parts are those of the bodies, the fill last; unions are of the first bodies.
type tally struct {
	m                     int // bodies without the fill
	castDepth, castVolume float64
	away                  geom.Vec
	parts                 [mostBodies + 1]float64
	centre                [mostBodies + 1]geom.Vec // times volume
	faces                 [6][mostBodies + 1]float64
	area                  [mostBodies][mostBodies + 1]float64 // of the surface of a union that is body u's, by the part beyond
	depth                 [mostBodies + 1][mostBodies]float64 // of a part from the surface of a union, times volume
}

// cut looks at a box in n×n×n sub-cells. Unions of the first bodies, the first
// two and so on are taken as linear between their nodes, so that the parts of
// neighbours fit.
func (c *cutter) cut(box geom.Box, cell [3]int32, bodies []near, far float64) *cut {
	bodies = bodies[:min(len(bodies), mostBodies)]
	size := box.Size()
	most := max(2, int(math.Ceil(math.Max(size.X, math.Max(size.Y, size.Z))/finest-1e-6)))
	c.n, c.tally = 2, tally{m: len(bodies)}
	c.sample(box, cell, bodies, far)
	if most > 2 && c.uneven() > evenEnough*math.Min(size.X, math.Min(size.Y, size.Z)) {
		c.n = min(most, 8)
		c.sample(box, cell, bodies, far)
	}
	step := size.Mul(1 / float64(c.n))
	for u := range c.m {
		c.round[u] = c.bend(u, size) * step.Dot(step) / 36
	}
	for k := range c.n {
		for j := range c.n {
			for i := range c.n {
				middle := box.Min.Add(geom.Vec{X: (float64(i) + 0.5) * step.X, Y: (float64(j) + 0.5) * step.Y, Z: (float64(k) + 0.5) * step.Z})
				c.sub([3]int{i, j, k}, step, middle)
			}
		}
	}
	r := c.result(bodies, box.Volume(), far)
	r.bend = c.bend(c.m, size)
	return r
}

// evenEnough is by how much of a cell's edge values may be off a linear function
// for two sub-cells along it to do.
const evenEnough = 0.05

// uneven is the greatest second difference of any union along an axis, with three
// nodes on an edge.
func (c *cutter) uneven() float64 {
	worst := 0.0
	for u := range c.m {
		v := c.values[u]
		for _, stride := range [3][3]int{{1, 3, 9}, {3, 9, 1}, {9, 1, 3}} {
			for i := range 3 {
				for j := range 3 {
					at := i*stride[1] + j*stride[2]
					worst = math.Max(worst, math.Abs(v[at]+v[at+2*stride[0]]-2*v[at+stride[0]])/2)
				}
			}
		}
	}
	return worst
}

// bend is the sum of the second derivatives of a union.
func (c *cutter) bend(u int, size geom.Vec) float64 {
	v, n := c.values[u], c.n
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
func (c *cutter) sample(box geom.Box, cell [3]int32, bodies []near, far float64) {
	n := c.n
	nodes := (n + 1) * (n + 1) * (n + 1)
	for u := range c.m + 1 {
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
				least, cast := 1e6, far
				for u, b := range bodies {
					v := c.value(b, p, cell, [3]int{i, j, k})
					if v < least {
						least = v
					}
					c.values[u][at] = least
					if v < cast && c.cast[b.body] {
						cast = v
					}
				}
				c.values[c.m][at] = cast
				at++
			}
		}
	}
}

// perEdge is how many corners and middles of cells lie along a block's edge.
const perEdge = 2*mostBlock + 1

// value is a solid's at a node; neighbours ask for the same ones.
func (c *cutter) value(b near, p geom.Vec, cell [3]int32, node [3]int) float64 {
	if c.n != 2 {
		return b.solid.Evaluate(p)
	}
	list := c.known[b.body]
	if list == nil {
		list = make([]float64, perEdge*perEdge*perEdge)
		for i := range list {
			list[i] = math.NaN()
		}
		c.known[b.body] = list
	}
	at := 0
	for a := 2; a >= 0; a-- {
		at = at*perEdge + int(cell[a]-c.origin[a])*2 + node[a]
	}
	if math.IsNaN(list[at]) {
		list[at] = b.solid.Evaluate(p)
	}
	return list[at]
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
