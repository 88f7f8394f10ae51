package tets

import (
	"bufio"
	"fmt"
	"io"
)

// Labels of faces: those on the box have the
// number of their side (1 to 6: x low, x high, y low and so on), and ten more
// where the solid is; those between solid and rest have Surface.
const (
	InSolid = 10
	Surface = 20
)

// Regions of tetrahedra. Callers may give those outside the solid numbers of their own.
const (
	SolidRegion = 1
	RestRegion  = 2
)

// Apart gives the rest points of its own where it meets the solid, and returns
// the pairs of points that lie on each other, the solid's first.
func (m *Mesh) Apart() (pairs [][2]int32) {
	solid := make([]bool, len(m.Points))
	for n, t := range m.Tets {
		for _, i := range t {
			solid[i] = solid[i] || m.Region[n] == SolidRegion
		}
	}
	own := map[int32]int32{}
	for n, t := range m.Tets {
		for k, i := range t {
			if m.Region[n] == SolidRegion || !solid[i] {
				continue
			}
			j, ok := own[i]
			if !ok {
				j = int32(len(m.Points))
				own[i] = j
				m.Points = append(m.Points, m.Points[i])
				pairs = append(pairs, [2]int32{i, j})
			}
			m.Tets[n][k] = j
		}
	}
	return pairs
}

// WriteMedit writes the mesh as a text file of the kind that FreeFem++ reads.
func (m *Mesh) WriteMedit(w io.Writer) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, "MeshVersionFormatted 2\nDimension 3\nVertices\n%d\n", len(m.Points))
	for _, p := range m.Points {
		fmt.Fprintf(out, "%.12g %.12g %.12g 0\n", p.X, p.Y, p.Z)
	}
	fmt.Fprintf(out, "Tetrahedra\n%d\n", len(m.Tets))
	for n, t := range m.Tets {
		fmt.Fprintln(out, t[0]+1, t[1]+1, t[2]+1, t[3]+1, m.Region[n])
	}
	fmt.Fprintf(out, "Triangles\n%d\n", len(m.Faces))
	for _, f := range m.Faces {
		t := m.Tets[f.Tet]
		fmt.Fprintln(out, t[(f.Corner+1)%4]+1, t[(f.Corner+2)%4]+1, t[(f.Corner+3)%4]+1, f.Label)
	}
	fmt.Fprintln(out, "End")
	return out.Flush()
}
