package moldbox

import (
	"math"

	"halfpour/geom"
)

// RunMap is a flank of a head as the printer sees it from above: how far the surface runs
// level for each mm that it rises, over a square grid in the parting plane. Times the
// height of a layer that is the width of the step there.
type RunMap struct {
	Least  geom.Vec  // middle of the cell with the least x and y, mold coordinates
	Step   float64   // of the grid, mm; 0: no map
	NX, NY int       // cells along x and y
	Runs   []float32 // index j*NX + i; below 0 where there is no head, 0 where it is level: one layer makes all of it
}

// runCells is about how many cells a map has along a head.
const runCells = 180

// runsOf maps both flanks of a head's own mesh, the left one first.
func runsOf(mesh *geom.TriMesh, toMold func(geom.Vec) geom.Vec) (maps [2]RunMap) {
	at := make([]geom.Vec, len(mesh.Vertices))
	box := geom.Box{Min: geom.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}, Max: geom.Vec{X: math.Inf(-1), Y: math.Inf(-1), Z: math.Inf(-1)}}
	for i, v := range mesh.Vertices {
		at[i] = toMold(v)
		box = box.Include(at[i])
	}
	if len(at) == 0 {
		return maps
	}
	size := box.Size()
	step := max(size.X, size.Y) / runCells
	for i, side := range [2]float64{1, -1} {
		m := RunMap{Step: step, NX: int(size.X/step) + 1, NY: int(size.Y/step) + 1}
		m.Least = geom.Vec{X: box.Min.X + step/2, Y: box.Min.Y + step/2}
		m.Runs = make([]float32, m.NX*m.NY)
		tops := make([]float64, len(m.Runs)) // how far the surface is from the parting plane
		for k := range m.Runs {
			m.Runs[k] = -1
		}
		for _, t := range mesh.Triangles {
			m.add(at[t[0]], at[t[1]], at[t[2]], side, tops)
		}
		maps[i] = m
	}
	return maps
}

// add lays a triangle over the cells whose middles it covers, where it is the farthest
// from the parting plane so far.
func (m *RunMap) add(a, b, c geom.Vec, side float64, tops []float64) {
	n := b.Sub(a).Cross(c.Sub(a))
	if n.Z == 0 {
		return
	}
	run := float32(0)
	if flat := math.Hypot(n.X, n.Y); flat > 1e-6*math.Abs(n.Z) {
		run = float32(math.Abs(n.Z) / flat)
	}
	cells := func(low, high, least float64, count int) (int, int) {
		return max(0, int(math.Ceil((low-least)/m.Step))), min(count-1, int(math.Floor((high-least)/m.Step)))
	}
	i0, i1 := cells(min(a.X, b.X, c.X), max(a.X, b.X, c.X), m.Least.X, m.NX)
	j0, j1 := cells(min(a.Y, b.Y, c.Y), max(a.Y, b.Y, c.Y), m.Least.Y, m.NY)
	cross := func(p, q geom.Vec, x, y float64) float64 { return (q.X-p.X)*(y-p.Y) - (q.Y-p.Y)*(x-p.X) }
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			x, y := m.Least.X+float64(i)*m.Step, m.Least.Y+float64(j)*m.Step
			u, v, w := cross(a, b, x, y), cross(b, c, x, y), cross(c, a, x, y)
			if (u < 0 || v < 0 || w < 0) && (u > 0 || v > 0 || w > 0) {
				continue
			}
			out := side * (a.Z - (n.X*(x-a.X)+n.Y*(y-a.Y))/n.Z)
			if k := j*m.NX + i; out > 0 && out > tops[k] {
				tops[k], m.Runs[k] = out, run
			}
		}
	}
}
