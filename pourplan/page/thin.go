package page

import (
	"math"
	"slices"

	"halfpour/geom"
)

// surface is a mesh whose triangles are of several classes, such as those that
// rubber touches and those that it does not.
type surface struct {
	mesh  *geom.TriMesh
	class []uint8 // of each triangle
	kept  []bool  // vertices that thinning leaves where they are; nil: none
}

// thinned returns the surface with about as many triangles as asked, or itself
// when it has no more. It is for looking at: points move by up to a cell, except
// those that are kept.
func (s surface) thinned(triangles int) surface {
	if len(s.mesh.Triangles) <= triangles {
		return s
	}
	largest := 2 * s.mesh.BoundingBox().HalfDiagonal()
	for cell := s.cellFor(triangles); ; cell *= 1.25 {
		t := s.clustered(cell)
		if float64(len(t.mesh.Triangles)) <= 1.2*float64(triangles) || cell > largest {
			return t // beyond the largest cell nothing is left to thin but what is kept
		}
	}
}

// guessedFrom is about how many triangles the size of the cell is guessed from.
const guessedFrom = 20000

// cellFor guesses the cell that leaves so many triangles: in a fine area two
// for every cell's square, in a coarse one those that are there.
func (s surface) cellFor(triangles int) float64 {
	stride := 1 + len(s.mesh.Triangles)/guessedFrom
	var areas []float64
	for t := 0; t < len(s.mesh.Triangles); t += stride {
		a, b, c := s.mesh.Corners(t)
		areas = append(areas, b.Sub(a).Cross(c.Sub(a)).Norm()/2)
	}
	low, high := 1e-3, s.mesh.BoundingBox().HalfDiagonal()
	for range 40 {
		cell, sum := math.Sqrt(low*high), 0.0
		for _, a := range areas {
			sum += math.Min(1, 2*a/(cell*cell))
		}
		if sum*float64(stride) > float64(triangles) {
			low = cell
		} else {
			high = cell
		}
	}
	return high
}

// clustered takes all vertices in one cell of a lattice to be one: the one
// among them that is nearest to the planes of all facets there, so that edges
// and flat areas stay what they are (after Lindstrom, Out-of-core
// simplification of large polygonal models, SIGGRAPH 2000, but for choosing
// instead of solving). Where classes meet only vertices of the seam are taken.
// What was closed stays so: facets that fall flat leave nothing open.
func (s surface) clustered(cell float64) surface {
	cells := s.cells(cell)
	quadrics := make([]quadric, len(s.mesh.Vertices)) // only those of cells in use
	for t, corners := range s.mesh.Triangles {
		q := planeQuadric(s.mesh.Corners(t))
		for _, v := range corners {
			quadrics[cells[v]].add(q)
		}
	}
	seam := s.seam()
	chosen := make([]int32, len(quadrics))
	least := make([]float64, len(quadrics))
	for i := range chosen {
		chosen[i] = -1
	}
	for v, c := range cells {
		e := quadrics[c].at(s.mesh.Vertices[v])
		old := chosen[c]
		if old < 0 || seam[v] && !seam[old] || seam[v] == seam[old] && e < least[c] {
			chosen[c], least[c] = int32(v), e
		}
	}
	out := surface{mesh: &geom.TriMesh{Vertices: s.mesh.Vertices}}
	for t, v := range s.mesh.Triangles {
		a, b, c := chosen[cells[v[0]]], chosen[cells[v[1]]], chosen[cells[v[2]]]
		if a != b && b != c && c != a {
			out.mesh.Triangles = append(out.mesh.Triangles, [3]int32{a, b, c})
			out.class = append(out.class, s.class[t])
		}
	}
	return out
}

// cells numbers the cells of a lattice in the order in which vertices are
// found in them, and returns the number of each vertex's. A kept vertex has a
// cell of its own.
func (s surface) cells(cell float64) []int32 {
	low := s.mesh.BoundingBox().Min
	known := make(map[[3]int32]int32, len(s.mesh.Vertices)/4)
	list := make([]int32, len(s.mesh.Vertices))
	next := int32(0)
	for i, v := range s.mesh.Vertices {
		if s.kept != nil && s.kept[i] {
			list[i] = next
			next++
			continue
		}
		d := v.Sub(low).Mul(1 / cell)
		key := [3]int32{int32(math.Floor(d.X)), int32(math.Floor(d.Y)), int32(math.Floor(d.Z))}
		n, ok := known[key]
		if !ok {
			n = next
			next++
			known[key] = n
		}
		list[i] = n
	}
	return list
}

// seam tells of each vertex whether facets of different classes meet there.
func (s surface) seam() []bool {
	const none = 0xff
	first := slices.Repeat([]uint8{none}, len(s.mesh.Vertices))
	seam := make([]bool, len(s.mesh.Vertices))
	for t, corners := range s.mesh.Triangles {
		for _, v := range corners {
			switch first[v] {
			case none:
				first[v] = s.class[t]
			case s.class[t]:
			default:
				seam[v] = true
			}
		}
	}
	return seam
}

// quadric is the sum of squared distances to planes, each weighed by an area
// (Garland & Heckbert, Surface simplification using quadric error metrics,
// SIGGRAPH 1997).
type quadric struct {
	xx, xy, xz, yy, yz, zz, x, y, z, one float64
}

func planeQuadric(a, b, c geom.Vec) quadric {
	n := b.Sub(a).Cross(c.Sub(a))
	w := n.Norm()
	if w == 0 {
		return quadric{}
	}
	n = n.Mul(1 / w)
	d := -n.Dot(a)
	return quadric{w * n.X * n.X, w * n.X * n.Y, w * n.X * n.Z, w * n.Y * n.Y, w * n.Y * n.Z, w * n.Z * n.Z,
		w * d * n.X, w * d * n.Y, w * d * n.Z, w * d * d}
}

func (q *quadric) add(p quadric) {
	q.xx, q.xy, q.xz, q.yy, q.yz, q.zz = q.xx+p.xx, q.xy+p.xy, q.xz+p.xz, q.yy+p.yy, q.yz+p.yz, q.zz+p.zz
	q.x, q.y, q.z, q.one = q.x+p.x, q.y+p.y, q.z+p.z, q.one+p.one
}

func (q *quadric) at(v geom.Vec) float64 {
	return q.xx*v.X*v.X + q.yy*v.Y*v.Y + q.zz*v.Z*v.Z + q.one +
		2*(q.xy*v.X*v.Y+q.xz*v.X*v.Z+q.yz*v.Y*v.Z+q.x*v.X+q.y*v.Y+q.z*v.Z)
}
