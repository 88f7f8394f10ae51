package moldbox

import (
	"math"
	"slices"

	"halfpour/geom"
)

// Slopes say how level the surface of a head lies in the printer: the more level, the
// higher and wider the steps that layers leave on the casting.
type Slopes struct {
	Mean  float64   // of |cos| between surface normals and the printer's upright, by area; level faces left out
	Wider []float64 // share of the surface with steps wider than StepWidth, for each of the printer's layers
	Runs  [2]RunMap // of the left flank and of the right one
}

// layers are the heights that slopes are told for, mm.
func (p PrintSpec) layers() []float64 {
	if len(p.Layers) > 0 {
		return p.Layers
	}
	return UsualLayers(p.Nozzle)
}

// UsualLayers are a nozzle's usual layer heights, mm: 0.08 to 0.28 for one of 0.4 mm
// (common practice, no source).
func UsualLayers(nozzle float64) []float64 {
	var list []float64
	for _, share := range []float64{0.2, 0.3, 0.4, 0.5, 0.7} {
		list = append(list, math.Max(0.01, math.Round(100*share*nozzle)/100))
	}
	return slices.Compact(list)
}

// StepWidth is from how wide a step shows as a terrace on a casting, mm (common
// practice, no source).
const StepWidth = 1.0

// slopesOf measures the slopes of a head's own mesh as a cavity has it, for layers of
// these heights, mm.
func slopesOf(mesh *geom.TriMesh, toMold func(geom.Vec) geom.Vec, layers []float64) (s Slopes) {
	s.Wider, s.Runs = make([]float64, len(layers)), runsOf(mesh, toMold)
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
		for i, layer := range layers {
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
