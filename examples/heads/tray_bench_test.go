package heads_test

import (
	"fmt"
	"math"
	"testing"

	"halfpour/examples/heads"
	"halfpour/geom"
)

// benchTray is a printed tray with five half heads, funnels and keys on its
// floor, and the rubber that fills it to 15 mm: the work that meshing and
// measuring are for.
func benchTray(b *testing.B, triangles int) (tray, rubber geom.Solid) {
	head, err := geom.NewMeshSolid(heads.Minnow(triangles))
	if err != nil {
		b.Fatal(err)
	}
	v := func(x, y, z float64) geom.Vec { return geom.Vec{X: x, Y: y, Z: z} }
	above := geom.HalfSpace(v(0, 0, -1), 0.2)
	block := func(lo, hi geom.Vec) geom.Solid { return geom.Block(geom.Box{Min: lo, Max: hi}) }
	parts := []geom.Solid{
		block(v(-73, -33, -3), v(73, 33, 0)),
		geom.Subtract(block(v(-73, -33, -3), v(73, 33, 18)), block(v(-70, -30, -1), v(70, 30, 30))),
	}
	for i := -2.0; i <= 2; i++ {
		place := geom.Turn(v(0, 0, 1), -math.Pi/2).Then(geom.Move(v(26*i, -4, 0)))
		parts = append(parts,
			geom.Intersect(place.Solid(head), above),
			geom.Intersect(geom.Frustum(v(26*i, 16, 0), v(26*i, 31, 0), 1.5, 5), above))
	}
	for _, x := range []float64{-64, 64} {
		parts = append(parts, geom.Intersect(geom.Ball(v(x, 24, 0), 3), above))
	}
	tray = geom.Subtract(geom.Union(parts...), geom.Ball(v(64, -24, 0), 2.5), geom.Ball(v(-64, -24, 0), 2.5))
	return tray, geom.Subtract(block(v(-71, -31, -2.9), v(71, 31, 15)), tray)
}

func BenchmarkMeshTray(b *testing.B) {
	for _, n := range []int{20000, 100000} {
		tray, _ := benchTray(b, n)
		b.Run(fmt.Sprintf("%dk", n/1000), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				m, err := geom.Mesh(b.Context(), tray, geom.MeshOptions{})
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(len(m.Triangles)), "triangles")
			}
		})
	}
}

func BenchmarkIntegrateTray(b *testing.B) {
	for _, n := range []int{20000, 100000} {
		_, rubber := benchTray(b, n)
		for _, tol := range []float64{5e-4, 1e-4} {
			b.Run(fmt.Sprintf("%dk/%g", n/1000, tol), func(b *testing.B) {
				for b.Loop() {
					v, err := geom.Integrate(b.Context(), rubber, geom.IntegrateOptions{RelTol: tol})
					if err != nil {
						b.Fatal(err)
					}
					b.ReportMetric(float64(v.Cells), "cells")
				}
			})
		}
	}
}
