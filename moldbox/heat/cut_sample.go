package heat

import (
	"math"

	"halfpour/geom"
)

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
