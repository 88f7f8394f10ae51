package plantest

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
)

// Mold is a mold of n round heads on 90° hooks, nose up.
func Mold(t testing.TB, n int) *moldbox.Mold {
	t.Helper()
	spec := moldbox.Default()
	spec.Title = "round head"
	spec.Marking.Lines = []string{"ROUND", "3/8 OZ"}
	for i := range n {
		r := 5 + 0.4*float64(i)
		leg := r + 2.6
		spec.Cavities = append(spec.Cavities, moldbox.Cavity{
			Head: geom.Ball(geom.Vec{}, r),
			Pose: moldbox.Pose{Nose: geom.Vec{X: -1}, Back: geom.Vec{Y: 1}},
			Turn: -math.Pi / 2, Eye: geom.Vec{X: -0.3 * r, Y: leg}, Shrink: 1.004,
			Hook: &moldbox.Hook{Name: "90° hook", Wire: 1, EyeInside: 2.2, Leg: leg, LegAngle: math.Pi / 2,
				Shank: 24, Gape: 9, Point: 6, Fit: 0.05},
		})
	}
	m, err := moldbox.Build(context.Background(), spec)
	if err != nil {
		t.Fatal(err)
	}
	return m
}
