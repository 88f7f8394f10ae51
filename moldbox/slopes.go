package moldbox

import (
	"math"

	"halfpour/geom"
)

// Slopes say how level the surface of a head lies in the printer: the more level, the
// higher and wider the steps that layers leave on the casting.
type Slopes struct {
	Mean  float64                    // of |cos| between surface normals and the printer's upright, by area; level faces left out
	Wider [len(LayerHeights)]float64 // share of the surface with steps wider than StepWidth, for each of LayerHeights
}

// LayerHeights are those that slopes are told for, mm: usual ones of a nozzle of
// 0.4 mm (common practice, no source).
var LayerHeights = [...]float64{0.08, 0.12, 0.16, 0.2, 0.28}

// StepWidth is from how wide a step shows as a terrace on a casting, mm (common
// practice, no source).
const StepWidth = 1.0

// slopesOf measures the slopes of a head's own mesh as a cavity has it.
func slopesOf(mesh *geom.TriMesh, toMold func(geom.Vec) geom.Vec) (s Slopes) {
	o := toMold(geom.Vec{}).Z
	up := geom.Vec{X: toMold(geom.Vec{X: 1}).Z - o, Y: toMold(geom.Vec{Y: 1}).Z - o, Z: toMold(geom.Vec{Z: 1}).Z - o}.Unit()
	area := 0.0
	for t := range mesh.Triangles {
		a, b, c := mesh.Corners(t)
		normal := b.Sub(a).Cross(c.Sub(a))
		twice := normal.Norm()
		if twice == 0 {
			continue
		}
		area += twice
		cos := math.Abs(normal.Dot(up)) / twice
		if cos > 1-1e-6 { // level: one layer makes all of it
			continue
		}
		s.Mean += twice * cos
		for i, layer := range LayerHeights {
			if layer*cos > StepWidth*math.Sqrt(1-cos*cos) {
				s.Wider[i] += twice
			}
		}
	}
	if area > 0 {
		s.Mean /= area
		for i := range s.Wider {
			s.Wider[i] /= area
		}
	}
	return s
}
