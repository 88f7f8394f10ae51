package page

import (
	"math"

	"halfpour/geom"
	"halfpour/moldbox"
)

// ventReach is how far from the surface of a vent a vertex still belongs to it,
// mm: more than the meshes leave their solids, less than a vent is deep.
const ventReach = 0.05

// ventsOf lists the vents of a mold. They are so shallow that thinning would
// break them into dots.
func ventsOf(m *moldbox.Mold) []geom.Solid {
	var list []geom.Solid
	for _, c := range m.Cavities {
		if c.Vent != nil {
			list = append(list, c.Vent)
		}
	}
	if m.Runner != nil && m.Runner.Vent != nil {
		list = append(list, m.Runner.Vent)
	}
	return list
}

// onSurface reports which vertices of a mesh lie on the surface of one of the
// solids; toMold takes a vertex to where the solids are.
func onSurface(mesh *geom.TriMesh, toMold func(geom.Vec) geom.Vec, solids []geom.Solid) []bool {
	list := make([]bool, len(mesh.Vertices))
	boxes := make([]geom.Box, len(solids))
	for k, s := range solids {
		boxes[k] = s.BoundingBox().Grow(ventReach)
	}
	for i, v := range mesh.Vertices {
		p := toMold(v)
		for k, s := range solids {
			if boxes[k].Contains(p) && math.Abs(s.Evaluate(p)) < ventReach {
				list[i] = true
				break
			}
		}
	}
	return list
}
