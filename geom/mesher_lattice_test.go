package geom_test

import (
	"context"
	"maps"
	"math"
	"slices"
	"sync"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// planeSpy is a solid that notes where the cells lie that it is asked about.
type planeSpy struct {
	geom.Solid
	seen *spied
}

type spied struct {
	sync.Mutex
	planes [3]map[float64]bool // coordinates of the cells' faces
}

func (s planeSpy) PruneBySign(b geom.Box) (geom.Solid, geom.Interval) {
	inner, values := geom.PruneBySign(s.Solid, b)
	s.seen.Lock()
	defer s.seen.Unlock()
	for k, x := range [3][2]float64{{b.Min.X, b.Max.X}, {b.Min.Y, b.Max.Y}, {b.Min.Z, b.Max.Z}} {
		if s.seen.planes[k] == nil {
			s.seen.planes[k] = map[float64]bool{}
		}
		s.seen.planes[k][x[0]], s.seen.planes[k][x[1]] = true, true
	}
	return planeSpy{inner, s.seen}, values
}

// cellPlanes returns the coordinates, in order, at which work splits s.
func cellPlanes(t *testing.T, s geom.Solid, work func(geom.Solid) error) (planes [3][]float64) {
	t.Helper()
	var seen spied
	if err := work(planeSpy{s, &seen}); err != nil {
		t.Fatal(err)
	}
	for k := range planes {
		planes[k] = slices.Sorted(maps.Keys(seen.planes[k]))
	}
	return planes
}

// nearestTo returns the plane nearest to x.
func nearestTo(planes []float64, x float64) float64 {
	return slices.MinFunc(planes, func(a, b float64) int {
		switch d := math.Abs(a-x) - math.Abs(b-x); {
		case d < 0:
			return -1
		case d > 0:
			return 1
		}
		return 0
	})
}

// Meshes of which faces, edges and vertices lie exactly where cells meet, for
// the mesher's cells and for the integrator's: two faces in one plane and
// corners in one place are where it is easiest to count something twice.
func TestMeshOnTheLattice(t *testing.T) {
	const tol = 0.1
	ctx := context.Background()
	// The floor and a pillar alone fix the box, and so the cells.
	stage := geom.Union(
		geom.Block(geom.Box{Min: geom.Vec{X: -10, Y: -10, Z: -2}, Max: geom.Vec{X: 10, Y: 10, Z: -1}}),
		geom.Ball(geom.Vec{X: 5, Y: 5, Z: 2}, 3.5),
		geom.Frustum(geom.Vec{X: -8, Y: -8, Z: -1.5}, geom.Vec{X: -8, Y: -8, Z: 8}, 1, 0.5))
	works := map[string]func(geom.Solid) error{
		"mesher's cells": func(s geom.Solid) error {
			_, err := geom.Mesh(ctx, s, geom.MeshOptions{Tolerance: tol})
			return err
		},
		"integrator's cells": func(s geom.Solid) error {
			_, err := geom.Integrate(ctx, s, geom.IntegrateOptions{RelTol: 1e-3})
			return err
		},
	}
	for name, work := range works {
		planes := cellPlanes(t, stage, work)
		snap := func(v geom.Vec) geom.Vec {
			return geom.Vec{X: nearestTo(planes[0], v.X), Y: nearestTo(planes[1], v.Y), Z: nearestTo(planes[2], v.Z)}
		}
		shift := func(m *geom.TriMesh, v geom.Vec) *geom.TriMesh {
			return m.Transform(func(p geom.Vec) geom.Vec { return p.Add(v) }, false)
		}
		for shape, m := range map[string]*geom.TriMesh{
			"cube":           blockAt(-3, -3, 1, 2, 2, 5).Transform(snap, false),
			"cube on floor":  blockAt(-3, -3, -1.5, 2, 2, 3).Transform(snap, false),
			"octahedron":     shift(lumpMesh(3, 2, 4, 0), geom.Vec{X: 0.2, Y: 0.1, Z: 2}).Transform(snap, false),
			"ball":           shift(lumpMesh(3, 8, 12, 0), geom.Vec{X: -0.3, Z: 2.5}).Transform(snap, false),
			"half of a ball": shift(lumpMesh(3, 8, 12, 0), snap(geom.Vec{X: -0.3, Z: 2.5})),
		} {
			if (shape == "ball" || shape == "cube") && !geomtest.Long() {
				continue // half of the ball and the cube on the floor show what they do
			}
			t.Run(shape+" on "+name, func(t *testing.T) {
				for _, f := range geom.Audit(m) {
					t.Fatal("not a case: ", f.Error())
				}
				s := meshSolid(t, m)
				checkScene(t, geom.Union(stage, s), tol)
				checkScene(t, geom.Subtract(stage, s), tol)
			})
		}
	}
}
