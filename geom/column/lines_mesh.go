package column

import (
	"math"
	"slices"

	"halfpour/geom"
)

// lineCrossing is where a line passes through a mesh: +1 into it, -1 out of it.
type lineCrossing struct {
	at   float64
	turn int
}

// ofMesh cuts a mesh by its triangles. Which line passes through which triangle
// is decided edge by edge, exactly and in the same way for both neighbours, so that
// no line slips through between them. As in a MeshSolid, what the mesh winds round at
// least once is inside.
func (c lineCutter) ofMesh(m *geom.TriMesh, to geom.Transform, r lineRange) lineBlock {
	block := newLineBlock(r)
	g := gridMesh{points: make([]geom.Vec, len(m.Vertices)), lineRange: r}
	for i, v := range m.Vertices {
		p := to.Point(v)
		g.points[i] = geom.Vec{X: (p.X - c.x0) / c.Step, Y: (p.Y - c.y0) / c.Step, Z: p.Z}
	}
	crossings := make([][]lineCrossing, len(block.lines))
	into := 1
	if to.Mirrors() {
		into = -1
	}
	for _, t := range m.Triangles {
		g.pass(t, func(i, j int, at float64, up bool) {
			turn := into
			if up {
				turn = -into
			}
			k := (j-r.j0)*(r.i1-r.i0) + i - r.i0
			crossings[k] = append(crossings[k], lineCrossing{at, turn})
		})
	}
	for k, list := range crossings {
		block.lines[k] = wound(list, r.z0, r.z1)
	}
	return block
}

// gridMesh is a mesh's vertices with X and Y counted in lines.
type gridMesh struct {
	points []geom.Vec
	lineRange
}

// pass visits the lines that pass through a triangle, with the height and
// whether the triangle faces upwards. Most triangles of a fine mesh lie between
// the lines.
func (g *gridMesh) pass(t [3]int32, visit func(i, j int, at float64, up bool)) {
	a, b, d := g.points[t[0]], g.points[t[1]], g.points[t[2]]
	i0 := max(g.i0, int(math.Ceil(min(a.X, b.X, d.X))))
	i1 := min(g.i1-1, int(math.Floor(max(a.X, b.X, d.X))))
	if i0 > i1 {
		return
	}
	j0 := max(g.j0, int(math.Ceil(min(a.Y, b.Y, d.Y))))
	j1 := min(g.j1-1, int(math.Floor(max(a.Y, b.Y, d.Y))))
	n := b.Sub(a).Cross(d.Sub(a))
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			x, y := float64(i), float64(j)
			s := g.leftOf(t[0], t[1], x, y)
			if g.leftOf(t[1], t[2], x, y) != s || g.leftOf(t[2], t[0], x, y) != s {
				continue
			}
			// The height in the triangle's plane, and no farther than its corners.
			at := a.Z
			if n.Z != 0 {
				at -= (n.X*(x-a.X) + n.Y*(y-a.Y)) / n.Z
			}
			visit(i, j, max(min(a.Z, b.Z, d.Z), min(at, max(a.Z, b.Z, d.Z))), s)
		}
	}
}

// leftOf reports whether (x, y) is on the left of the way from u to v, exactly. A line
// that meets the way itself passes by at its +X side, or at its +Y side where the way
// runs along X: the same for all triangles about a corner.
func (g *gridMesh) leftOf(u, v int32, x, y float64) bool {
	a, b := g.points[u], g.points[v]
	switch geom.Turning(a, b, geom.Vec{X: x, Y: y}) {
	case 1:
		return true
	case -1:
		return false
	}
	return b.Y < a.Y || b.Y == a.Y && b.X > a.X
}

// wound returns the stretches that the crossings wind round at least once.
func wound(list []lineCrossing, z0, z1 float64) []Stretch {
	slices.SortStableFunc(list, func(p, q lineCrossing) int {
		switch {
		case p.at < q.at:
			return -1
		case p.at > q.at:
			return 1
		}
		return q.turn - p.turn // in first: what touches hangs together
	})
	var out []Stretch
	count, from := 0, 0.0
	for _, x := range list {
		before := count
		count += x.turn
		switch {
		case before < 1 && count >= 1:
			from = x.at
		case before >= 1 && count < 1:
			if lo, hi := max(from, z0), min(x.at, z1); lo < hi {
				out = append(out, Stretch{lo, hi})
			}
		}
	}
	return out
}
