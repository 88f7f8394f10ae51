package moldbox

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
)

// tilted is a spec with its first head, and all that is read off in the head's
// file, moved as a CAD program would.
func tilted(spec Spec, by geom.Transform) Spec {
	v := &spec.Cavities[0]
	across := v.Pose.Across()
	inPlane := by.Point(across.Mul(v.Pose.Parting))
	v.Head, v.Eye = by.Solid(v.Head), by.Point(v.Eye)
	if v.Gate != nil {
		gate := by.Point(*v.Gate)
		v.Gate = &gate
	}
	v.Pose = Pose{Nose: by.Direction(v.Pose.Nose), Back: by.Direction(v.Pose.Back)}
	v.Pose.Parting = inPlane.Dot(v.Pose.Across())
	return spec
}

// A head that lies tilted and away from the origin in its file makes the mold
// that it makes when it lies straight.
func TestTiltedHeadMakesTheSameMold(t *testing.T) {
	ctx := context.Background()
	for _, turn := range []geom.Transform{
		geom.Rotate(geom.Vec{X: 1}, 7*math.Pi/180),
		geom.Rotate(geom.Vec{X: 1, Y: -2, Z: 0.5}, 2.1).Then(geom.Move(geom.Vec{X: 30, Y: -12, Z: 5})),
	} {
		straight := ballSpec(1)
		straight.Cavities[0].Pose.Parting = 0.4
		want := buildOf(t, straight)
		again := ballSpec(1)
		again.Cavities[0].Pose.Parting = 0.4
		got := buildOf(t, tilted(again, turn))
		near(t, "scale", got.Cavities[0].Scale, want.Cavities[0].Scale, 1e-6)
		near(t, "eye", got.Cavities[0].Eye.Dist(want.Cavities[0].Eye), 0, 0.05)
		near(t, "gate", got.Cavities[0].GateAt.Dist(want.Cavities[0].GateAt), 0, 0.05)
		a, err := want.Measure(ctx, 1e-3, nil)
		if err != nil {
			t.Fatal(err)
		}
		b, err := got.Measure(ctx, 1e-3, nil)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "left rubber", b.Left.Rubber.Best/a.Left.Rubber.Best, 1, 5e-3)
		near(t, "right rubber", b.Right.Rubber.Best/a.Right.Rubber.Best, 1, 5e-3)
	}
}

// Whichever flank is left, the parting is the coordinate on the file's axis.
func TestPartingCountsAsTheFileDoes(t *testing.T) {
	for _, back := range []geom.Vec{{Y: 1}, {Y: -1}} {
		spec := plainBalls(7)
		spec.Cavities[0].Pose.Back, spec.Cavities[0].Pose.Parting = back, 1
		m := buildOf(t, spec)
		left, right := 6.0, 8.0 // of the ball above and below z = 1
		if back.Y < 0 {
			left, right = right, left
		}
		near(t, "left fill", m.Left.FillHeight, left+8, 2*reachTol)
		near(t, "right fill", m.Right.FillHeight, right+8, 2*reachTol)
	}
}

func TestDirectionText(t *testing.T) {
	for want, v := range map[string]geom.Vec{
		"+x": {X: 3}, "-z": {Z: -0.1}, "[0.9925, 0.1219, 0]": {X: 99.25, Y: 12.187}, "[-0.5774, 0.5774, 0.5774]": {X: -1, Y: 1, Z: 1},
		"[0, 1, 0]": {X: -4.8e-5, Y: 1},
	} {
		if got := DirectionText(v); got != want {
			t.Errorf("%v: got %s, want %s", v, got, want)
		}
	}
}
