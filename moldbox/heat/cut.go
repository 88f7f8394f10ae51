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
	known  []map[int32]float64       // of each body, its values at nodes of the block's cells
	raw    [mostBodies][]float64     // by body, then by node
	spare  []float64                 // room for one more
	bends  []bool                    // by node: unions are not linear there
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

// cut looks at a box in 2×2×2 sub-cells, or more where surfaces bend. Unions of the
// first bodies, the first two and so on are taken as linear between their nodes, so
// that the parts of neighbours fit.
func (c *cutter) cut(box geom.Box, cell [3]int32, bodies []near, far float64) *cut {
	bodies = bodies[:min(len(bodies), mostBodies)]
	size := box.Size()
	large := math.Max(size.X, math.Max(size.Y, size.Z))
	most := max(2, int(math.Ceil(large/finest-1e-6)))
	c.n, c.tally = 0, tally{m: len(bodies)}
	c.sample(2, box, cell, bodies, far)
	even := evenEnough * math.Min(size.X, math.Min(size.Y, size.Z))
	for c.n < min(most, finestNodes) && c.uneven(large/float64(c.n), even) {
		c.sample(2*c.n, box, cell, bodies, far)
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
