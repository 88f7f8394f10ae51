package moldbox

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"halfpour/geom"
)

func partsOf(t *testing.T, spec Spec) []*part {
	t.Helper()
	parts, err := newParts(context.Background(), spec, nil)
	if err != nil {
		t.Fatal(err)
	}
	return parts
}

func TestLayoutPitch(t *testing.T) {
	// Balls wider than the funnel's mouth: the pitch is their radii and the
	// rubber between; the block is the row and the rubber to the walls.
	spec := plainBalls(8, 10, 7)
	spec.Frame.ToWall = 10
	row := arrange(partsOf(t, spec), spec)
	near(t, "first pitch", row.at[1].X-row.at[0].X, 8+8+10, 4*reachTol)
	near(t, "second pitch", row.at[2].X-row.at[1].X, 10+8+7, 4*reachTol)
	near(t, "width", row.inside.Size().X, 2*(8+10+7)+2*8+2*10, 6*reachTol)
	near(t, "middle", row.inside.Centre().X, 0, 1e-9)
	near(t, "top over the gates", row.inside.Max.Y, 18, 1e-9)
	near(t, "bottom under the largest", row.inside.Min.Y, -20-10, 2*reachTol)
	for i, p := range partsOf(t, spec) {
		near(t, "gates are level", row.at[i].Y+p.gate.at.Y, 0, 1e-9)
	}

	small := plainBalls(3, 3)
	row = arrange(partsOf(t, small), small)
	near(t, "pitch of small balls is by mouths", row.at[1].X-row.at[0].X, 12+8, 0.2)
}

func TestLayoutCountsHooks(t *testing.T) {
	spec := ballSpec(2)
	parts := partsOf(t, spec)
	row := arrange(parts, spec)
	right := parts[0].bedBox.Max.X + row.at[0].X
	left := parts[1].box().Min.X + row.at[1].X
	if gap := left - right; gap < spec.Frame.Between-2*reachTol {
		t.Errorf("between the hook and the next cavity are %.2f mm, want %.2f", gap, spec.Frame.Between)
	}
}

func TestTooManyCavities(t *testing.T) {
	radii := make([]float64, 12)
	for i := range radii {
		radii[i] = 8
	}
	spec := plainBalls(radii...)
	spec.Frame.ToWall, spec.Layout.Rows = 10, 1
	_, err := Build(context.Background(), spec)
	var se *SpecError
	if !errors.As(err, &se) || se.Field != "Cavities" {
		t.Fatalf("error is %v, want a SpecError of Cavities", err)
	}
	// 220 mm of bed less walls, tabs, lean and rubber to the walls hold
	// 16n + 8(n-1) <= 220 - 2·10 - 2·(2+5) - 2·0.4: n = 8.
	if se.Cause != FewerFit || !slices.Equal(se.Figures, []any{8, 12}) {
		t.Errorf("cause is %q with %v, want it to say that 8 of 12 fit", se.Cause, se.Figures)
	}
	spec.Cavities = spec.Cavities[:8]
	if _, err := Build(context.Background(), spec); err != nil {
		t.Errorf("eight cavities: %v", err)
	}
}

func TestReachOfTurnedBlock(t *testing.T) {
	block := geom.Block(geom.Box{Min: geom.Vec{X: -10, Y: -2, Z: -1}, Max: geom.Vec{X: 10, Y: 2, Z: 1}})
	turned := geom.Rotate(geom.Vec{Z: 1}, math.Pi/6).Solid(block)
	// Twice over, so that the given box is looser than the solid.
	loose := geom.Rotate(geom.Vec{Z: 1}, math.Pi/6).Solid(turned)
	s, c := math.Sincos(math.Pi / 3)
	b := reach(loose)
	for _, v := range []struct{ got, want float64 }{
		{b.Max.X, 10*c + 2*s}, {-b.Min.X, 10*c + 2*s}, {b.Max.Y, 10*s + 2*c}, {-b.Min.Y, 10*s + 2*c}, {b.Max.Z, 1},
	} {
		if v.got < v.want-1e-9 || v.got > v.want+reachTol {
			t.Errorf("reach is %.4f, want %.4f to %.4f", v.got, v.want, v.want+reachTol)
		}
	}
}

// arrange puts the parts in as many rows as asked, one when none are, with the
// gates of the upper row at y = 0 and the middle of all at x = 0.
func arrange(parts []*part, spec Spec) layout {
	return newArranger(context.Background(), spec).rows(parts, max(1, spec.Layout.Rows))
}
