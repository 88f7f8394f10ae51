package box

import "halfpour/geom"

// held is what stands in the room whose surface goes through a vertex, up to
// a level, mm³: the divergence theorem with the field (0, 0, z - level), which the
// liquid's level adds nothing to. It is exact but for rounding.
func held(m *geom.TriMesh, room int32, level float64) float64 {
	parts := below(m, level)
	root, volume := parts.Root(room), 0.0
	for i, t := range m.Triangles {
		if v, low := lowestOf(m, t); low < level && parts.Root(v) == root {
			volume += over(m, int32(i), level)
		}
	}
	return volume
}

// over is the volume upright over a facet, up to a level; below a facet that
// faces down it is negative. What of the facet is above the level counts nothing.
func over(m *geom.TriMesh, t int32, level float64) float64 {
	a, b, c := m.Corners(int(t))
	area := levelArea(m, t)
	depth := [3]float64{level - a.Z, level - b.Z, level - c.Z}
	switch under := countAbove(depth, 0); under {
	case 0:
		return 0
	case 3:
		return area * (depth[0] + depth[1] + depth[2]) / 3
	case 1: // a corner is under: a pyramid over it
		for i, d := range depth {
			if d > 0 {
				e, f := depth[(i+1)%3], depth[(i+2)%3]
				return area * (d / (d - e)) * (d / (d - f)) * d / 3
			}
		}
	}
	// Two are under: all of it less the corner that is not, where depth is negative.
	for i, d := range depth {
		if d <= 0 {
			e, f := depth[(i+1)%3], depth[(i+2)%3]
			return area * ((depth[0]+depth[1]+depth[2])/3 - (d/(d-e))*(d/(d-f))*d/3)
		}
	}
	return 0
}

func countAbove(x [3]float64, limit float64) (n int) {
	for _, v := range x {
		if v > limit {
			n++
		}
	}
	return n
}

// lowestOf is the lowest vertex of a facet and its height.
func lowestOf(m *geom.TriMesh, t [3]int32) (int32, float64) {
	low := t[0]
	for _, v := range t[1:] {
		if m.Vertices[v].Z < m.Vertices[low].Z {
			low = v
		}
	}
	return low, m.Vertices[low].Z
}
