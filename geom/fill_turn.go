package geom

// edgeTurner turns edges of a flat mesh.
type edgeTurner struct {
	triangles [][3]*sweepCorner
	across    [][3]int32 // by edge: the triangle beyond, -1 for none
}

// mostTurns is how many edges are turned at most for each triangle. Between rows of n
// corners each takes about n/6.
const mostTurns = 1000

// turnEdges turns the edges within a flat mesh until no corner is in the circle round a
// triangle beside it (Lawson, Mathematical Software III, 1977): corners that are nearly in
// line come to be of triangles with far ones, and rounding leaves those the right way up.
func turnEdges(triangles [][3]*sweepCorner) {
	t := edgeTurner{triangles, make([][3]int32, len(triangles))}
	edges := make(map[[2]*sweepCorner]int32, 3*len(triangles))
	todo := make([]int32, len(triangles))
	for i, v := range triangles {
		todo[i] = int32(i)
		for k := range v {
			edges[[2]*sweepCorner{v[k], v[(k+1)%3]}] = int32(i)
		}
	}
	for i, v := range triangles {
		for k := range v {
			j, ok := edges[[2]*sweepCorner{v[(k+1)%3], v[k]}]
			if !ok {
				j = -1
			}
			t.across[i][k] = j
		}
	}
	for left := mostTurns * len(triangles); len(todo) > 0 && left > 0; {
		i := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for k := range 3 {
			if j := t.across[i][k]; j >= 0 && t.turn(i, j, k) {
				todo = append(todo, j, i)
				left--
				break
			}
		}
	}
}

// turn turns edge k of triangle i, beyond which is j, where that makes better triangles.
func (t *edgeTurner) turn(i, j int32, k int) bool {
	m := 0 // j's number of the edge
	for t.across[j][m] != i {
		m++
	}
	v, w := t.triangles[i], t.triangles[j]
	a, b, c, d := v[k], v[(k+1)%3], v[(k+2)%3], w[(m+2)%3]
	if !inCircle(a.at, b.at, c.at, d.at) || turning(c, a, d) <= 0 || turning(d, b, c) <= 0 {
		return false
	}
	bc, ca, ad, db := t.across[i][(k+1)%3], t.across[i][(k+2)%3], t.across[j][(m+1)%3], t.across[j][(m+2)%3]
	t.triangles[i], t.across[i] = [3]*sweepCorner{c, a, d}, [3]int32{ca, ad, j}
	t.triangles[j], t.across[j] = [3]*sweepCorner{d, b, c}, [3]int32{db, bc, i}
	t.moved(ad, j, i)
	t.moved(bc, i, j)
	return true
}

// moved notes that what was beyond an edge of a triangle is another one.
func (t *edgeTurner) moved(of, was, is int32) {
	if of < 0 {
		return
	}
	for k := range t.across[of] {
		if t.across[of][k] == was {
			t.across[of][k] = is
			return
		}
	}
}

// inCircle reports whether d, beyond ab, is inside the circle through a, b and c by more than
// rounding: whether the angles at c and d are more than two right ones (Cline & Renka, Rocky
// Mountain Journal of Mathematics 14, 1984).
func inCircle(a, b, c, d Vec2) bool {
	ca, cb, da, db := a.Sub(c), b.Sub(c), a.Sub(d), b.Sub(d)
	sine := ca.Cross(cb)*da.Dot(db) + ca.Dot(cb)*db.Cross(da)
	return sine < -1e-12*ca.Norm()*cb.Norm()*da.Norm()*db.Norm()
}
