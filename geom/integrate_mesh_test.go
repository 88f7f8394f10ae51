package geom_test

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
)

// nudges move faces off a plane by nothing, by the last digits, and by what is
// near the integrator's own rounding.
var nudges = []float64{0, 1e-16, -1e-16, 1e-15, -1e-15, 1e-13, -1e-13, 1e-10, -1e-10, 1e-8, -1e-8, 3e-7, -3e-7, 1e-5, -1e-5}

// checkIntegral holds an integral against the true volume.
func checkIntegral(t *testing.T, s geom.Solid, opt geom.IntegrateOptions, want float64) {
	t.Helper()
	got, err := geom.Integrate(context.Background(), s, opt)
	if err != nil {
		t.Fatal(err)
	}
	if slack := 1e-9 * want; want < got.Lo-slack || want > got.Hi+slack {
		t.Errorf("%.9f mm³ is not in [%.9f, %.9f]", want, got.Lo, got.Hi)
	}
	if e := math.Abs(got.Best - want); e > 1e-4*want {
		t.Errorf("best %.9f mm³ is off %.9f by %.2g", got.Best, want, e)
	}
}

// Meshes that share faces with the box that is measured, or miss them by
// rounding: the surface is then on the outermost cells' faces.
func TestIntegrateMeshesFlushWithTheBox(t *testing.T) {
	floor := geom.Block(geom.Box{Min: geom.Vec{X: -9, Y: -9, Z: -6}, Max: geom.Vec{X: 9, Y: 9, Z: 0}})
	for _, d := range nudges {
		// What a block of 18 x 18 x 6 leaves of plates of 8 x 6 mm.
		plate := meshSolid(t, blockAt(-4, -3, -0.4, 4, 3, 0.4+d))
		t.Run("plate on a floor", func(t *testing.T) {
			checkIntegral(t, geom.Union(floor, plate), geom.IntegrateOptions{}, 18*18*6+48*(0.4+d))
		})
		t.Run("plate alone", func(t *testing.T) {
			checkIntegral(t, plate, geom.IntegrateOptions{}, 48*(0.8+d))
		})
		// The least box on the other sides too, with a plate in each face.
		t.Run("plates in the sides", func(t *testing.T) {
			east := meshSolid(t, blockAt(8, -4, -5, 9.5+d, 3, -2))
			north := meshSolid(t, blockAt(-5, 8, -5, 4, 9.5+d, -1))
			west := meshSolid(t, blockAt(-9.5-d, -4, -5, -8, 3, -2))
			under := meshSolid(t, blockAt(-2, -2, -6.5-d, 2, 2, -5))
			want := 18*18*6 + 48*0.4 + (0.5+d)*(7*3+9*4+7*3+4*4)
			top := meshSolid(t, blockAt(-4, -3, -0.4, 4, 3, 0.4))
			checkIntegral(t, geom.Union(floor, east, north, west, under, top), geom.IntegrateOptions{}, want)
		})
		t.Run("within a box at its faces", func(t *testing.T) {
			cube := meshSolid(t, blockAt(-2, -2, -2, 2, 2, 2))
			within := geom.Box{Min: geom.Vec{X: -1, Y: -3, Z: -1}, Max: geom.Vec{X: 2 + d, Y: 1, Z: 2 - d}}
			want := (3 + math.Min(d, 0)) * 3 * (3 - math.Max(d, 0))
			checkIntegral(t, cube, geom.IntegrateOptions{Within: within}, want)
			checkIntegral(t, geom.Union(cube, geom.Ball(geom.Vec{X: 30}, 1)), geom.IntegrateOptions{Within: within}, want)
		})
	}
}

// The same at faces between cells: their places are learned first.
func TestIntegrateMeshesFlushWithCells(t *testing.T) {
	stage := geom.Union(
		geom.Block(geom.Box{Min: geom.Vec{X: -10, Y: -10, Z: -2}, Max: geom.Vec{X: 10, Y: 10, Z: -1}}),
		geom.Block(geom.Box{Min: geom.Vec{X: -9, Y: -9, Z: -1.5}, Max: geom.Vec{X: -7, Y: -8, Z: 8}}))
	planes := cellPlanes(t, stage, func(s geom.Solid) error {
		_, err := geom.Integrate(context.Background(), s, geom.IntegrateOptions{})
		return err
	})
	for _, d := range nudges {
		snap := func(v geom.Vec) geom.Vec {
			return geom.Vec{X: nearestTo(planes[0], v.X) + d, Y: nearestTo(planes[1], v.Y) - d, Z: nearestTo(planes[2], v.Z) + d}
		}
		cube := blockAt(-3, -3, 1, 2, 2, 5).Transform(snap, false)
		gem := lumpMesh(3, 2, 4, 0).Transform(func(v geom.Vec) geom.Vec { return snap(v.Add(geom.Vec{X: 5, Y: 5, Z: 3.3})) }, false)
		want := 400 + 2*9.0 + cube.Volume() + gem.Volume()
		s := geom.Union(stage, meshSolid(t, cube), meshSolid(t, gem))
		checkIntegral(t, s, geom.IntegrateOptions{}, want)
		box := stage.BoundingBox()
		checkIntegral(t, geom.Subtract(geom.Block(box), s), geom.IntegrateOptions{}, box.Volume()-want)
	}
}
