package placing

import "halfpour/geom"

// thin is below how much of a body's length its volume over its area is for a
// wire: half the radius of one, against a tenth of the length of a head.
const thin = 0.02

// withoutWires leaves out shells that are long and thin, as a hook drawn in its
// head is, and counts them.
func withoutWires(m *geom.TriMesh) (*geom.TriMesh, int) {
	shells := m.Shells()
	if len(shells) < 2 {
		return m, 0
	}
	kept := &geom.TriMesh{Vertices: m.Vertices}
	wires := 0
	for _, triangles := range shells {
		shell := &geom.TriMesh{Vertices: m.Vertices}
		box := geom.EmptyBox()
		for _, t := range triangles {
			shell.Triangles = append(shell.Triangles, m.Triangles[t])
			a, b, c := m.Corners(int(t))
			box = box.Include(a).Include(b).Include(c)
		}
		if shell.Volume() < thin*box.Size().Norm()*shell.Area() {
			wires++
			continue
		}
		kept.Triangles = append(kept.Triangles, shell.Triangles...)
	}
	if len(kept.Triangles) == 0 {
		return m, 0
	}
	return kept, wires
}
