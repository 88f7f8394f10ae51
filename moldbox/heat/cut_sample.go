package heat

import (
	"math"

	"halfpour/geom"
)

// evenEnough is by how much of a cell's edge values may be off a linear function
// for sub-cells to do. Until metal is solid then takes within 0.5 % of what it takes
// with nodes at all eighths, 1 % in cells of 3 mm (measured on two examples).
const evenEnough = 0.05

// uneven reports whether any union is off a linear function by more than limit where
// its surface may be near, and notes at which nodes.
func (c *cutter) uneven(reach, limit float64) bool {
	n, any := c.n, false
	stride := [3]int{1, n + 1, (n + 1) * (n + 1)}
	c.bends = resized(c.bends, stride[2]*(n+1))
	clear(c.bends)
	for u := range c.m {
		v := c.values[u]
		for a := range 3 {
			s, s1, s2 := stride[a], stride[(a+1)%3], stride[(a+2)%3]
			for i := range n + 1 {
				for j := range n + 1 {
					from := i*s1 + j*s2
					for at := from + s; at < from+n*s; at += s {
						x, y, z := v[at-s], v[at], v[at+s]
						if math.Abs(x+z-2*y) > 2*limit && math.Min(math.Abs(y), math.Min(math.Abs(x), math.Abs(z))) < reach {
							c.bends[at-s], c.bends[at], c.bends[at+s], any = true, true, true, true
						}
					}
				}
			}
		}
	}
	return any
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

// finestNodes is how many parts of an edge nodes may be apart.
const finestNodes = 8

// sample fills in the values at the nodes of n sub-cells along an edge. If those of half
// as many are known, it asks for new ones only where surfaces bend.
func (c *cutter) sample(n int, box geom.Box, cell [3]int32, bodies []near, far float64) {
	diagonal := 2 * box.HalfDiagonal() / float64(c.n)
	was := c.n
	c.n = n
	nodes := (n + 1) * (n + 1) * (n + 1)
	for u := range c.m + 1 {
		c.values[u] = resized(c.values[u], nodes)
	}
	for u, b := range bodies {
		coarse := c.raw[u]
		c.raw[u], c.spare = resized(c.spare, nodes), coarse
		at := 0
		for k := range n + 1 {
			for j := range n + 1 {
				for i := range n + 1 {
					v, known := 0.0, false
					if was > 0 {
						v, known = c.between(coarse, was, [3]int{i, j, k}, diagonal)
					}
					if !known {
						p := geom.Vec{X: part(box.Min.X, box.Max.X, i, n), Y: part(box.Min.Y, box.Max.Y, j, n), Z: part(box.Min.Z, box.Max.Z, k, n)}
						v = c.value(b, p, cell, [3]int{i, j, k})
					}
					c.raw[u][at] = v
					at++
				}
			}
		}
	}
	for at := range nodes {
		least, cast := 1e6, far
		for u, b := range bodies {
			v := c.raw[u][at]
			least = math.Min(least, v)
			c.values[u][at] = least
			if c.cast[b.body] {
				cast = math.Min(cast, v)
			}
		}
		c.values[c.m][at] = cast
	}
}

func resized[T any](list []T, n int) []T {
	if cap(list) < n {
		return make([]T, n)
	}
	return list[:n]
}

// between is a value at a node of twice as many sub-cells, if it can be told from the
// nodes round it: the mean of those, where none is at a bend or they are so far from
// the surface that it is in none of the sub-cells that meet there.
func (c *cutter) between(coarse []float64, n int, node [3]int, diagonal float64) (mean float64, known bool) {
	corner, stride, steps := 0, [3]int{1, n + 1, (n + 1) * (n + 1)}, [3]int{}
	for a, i := range node {
		corner += i / 2 * stride[a]
		steps[a] = i % 2
	}
	sum, most, count, bends := 0.0, 0.0, 0, false
	for z := range steps[2] + 1 {
		for y := range steps[1] + 1 {
			for x := range steps[0] + 1 {
				at := corner + x + y*stride[1] + z*stride[2]
				sum, most, bends = sum+coarse[at], math.Max(most, math.Abs(coarse[at])), bends || c.bends[at]
				count++
			}
		}
	}
	return sum / float64(count), count == 1 || !bends || most > diagonal
}

// value is a solid's at a node; neighbours ask for the same ones.
func (c *cutter) value(b near, p geom.Vec, cell [3]int32, node [3]int) float64 {
	known := c.known[b.body]
	if known == nil {
		known = map[int32]float64{}
		c.known[b.body] = known
	}
	at := int32(0)
	for a := 2; a >= 0; a-- {
		at = at*(mostBlock*finestNodes+1) + (cell[a]-c.origin[a])*finestNodes + int32(node[a]*finestNodes/c.n)
	}
	v, ok := known[at]
	if !ok {
		v = b.solid.Evaluate(p)
		known[at] = v
	}
	return v
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
