package geom

// cutConvex cuts a convex polygon at the plane through o across n; one that hardly
// reaches beyond the plane stays whole.
func cutConvex(part []Vec, o, n Vec) [][]Vec {
	const touch = 1e-11 // mm
	var above, below []Vec
	most, least := 0.0, 0.0
	for i, p := range part {
		q := part[(i+1)%len(part)]
		h, next := n.Dot(p.Sub(o)), n.Dot(q.Sub(o))
		most, least = max(most, h), min(least, h)
		if h >= 0 {
			above = append(above, p)
		}
		if h <= 0 {
			below = append(below, p)
		}
		if h*next < 0 {
			cut := p.Lerp(q, h/(h-next))
			above, below = append(above, cut), append(below, cut)
		}
	}
	if most <= touch || least >= -touch {
		return [][]Vec{part}
	}
	return [][]Vec{above, below}
}

// outOf is the direction across a triangle's first side, in its plane.
func outOf(q [3]Vec) Vec {
	side := q[1].Sub(q[0])
	return side.Cross(side.Cross(q[2].Sub(q[0]))).Unit()
}

func middleOf(part []Vec) (at Vec) {
	for _, p := range part {
		at = at.Add(p.Mul(1 / float64(len(part))))
	}
	return at
}
