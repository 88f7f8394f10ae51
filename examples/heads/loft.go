package heads

import "halfpour/geom"

// halfRing is one cross-section of a head: points on its left flank from the
// back to the belly, the first and the last of them in the plane z = 0. A
// ring of one point closes the head at an end.
type halfRing []geom.Vec

// loft joins the rings, from the nose on, by facets, and the left flank to its
// own mirror image. What comes out is closed and exactly symmetric whatever
// the rings are, and meets itself nowhere when they are in order along x and
// each sees the axis from all its points.
func loft(rings []halfRing) *geom.TriMesh {
	m := &geom.TriMesh{}
	left, right := make([][]int32, len(rings)), make([][]int32, len(rings))
	for i, ring := range rings {
		for k, p := range ring {
			onSeam := k == 0 || k == len(ring)-1
			if onSeam {
				p.Z = 0
			}
			id := int32(len(m.Vertices))
			m.Vertices = append(m.Vertices, p)
			left[i] = append(left[i], id)
			if !onSeam {
				id++
				m.Vertices = append(m.Vertices, geom.Vec{X: p.X, Y: p.Y, Z: -p.Z})
			}
			right[i] = append(right[i], id)
		}
	}
	for i := 1; i < len(rings); i++ {
		strip(len(rings[i-1])-1, len(rings[i])-1, func(f [3]corner) {
			pick := func(side [][]int32, k int) int32 { return side[i-1+f[k].ring][f[k].at] }
			m.Triangles = append(m.Triangles,
				[3]int32{pick(left, 0), pick(left, 1), pick(left, 2)},
				[3]int32{pick(right, 0), pick(right, 2), pick(right, 1)})
		})
	}
	return m
}

// corner is a point of the first (0) or second (1) ring of a strip.
type corner struct{ ring, at int }

// strip fills the gap between two rings of a and b sides with facets that face
// out of the left flank. At each step the ring that lags behind, by its share
// of the way, goes ahead; where both keep level the diagonals alternate.
func strip(a, b int, facet func([3]corner)) {
	i, j := 0, 0
	for i < a || j < b {
		nextA, nextB := (i+1)*b, (j+1)*a // both over a·b
		if i < a && (j == b || nextA < nextB || nextA == nextB && i%2 == 0) {
			facet([3]corner{{0, i}, {0, i + 1}, {1, j}})
			i++
		} else {
			facet([3]corner{{0, i}, {1, j + 1}, {1, j}})
			j++
		}
	}
}
