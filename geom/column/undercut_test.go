package column

import (
	"context"
	"errors"
	"math"
	"testing"

	"halfpour/geom"
)

func undercutOf(t testing.TB, s geom.Solid, parting geom.Vec, down bool) Undercut {
	t.Helper()
	u, err := findUndercut(context.Background(), s, parting, geom.Vec{Z: 1}, down, 0)
	if err != nil {
		t.Fatal(err)
	}
	return u
}

// Closed forms: a ball parted h below its equator reaches in r - √(r²-h²), a
// cone or dovetail as far as it leans, a groove as deep as it is.
func TestUndercutDepths(t *testing.T) {
	ring := func(x float64) geom.Solid { // about the y axis, r 0.8, its middle 0.1 from the wall's inside
		return geom.Capsule(geom.Vec{X: x, Y: -20, Z: 3}, geom.Vec{X: x, Y: 20, Z: 3}, 0.8)
	}
	wall := geom.Block(geom.Box{Min: geom.Vec{X: -4, Y: -6, Z: 0}, Max: geom.Vec{X: 4, Y: 6, Z: 8}})
	for _, c := range []struct {
		name    string
		s       geom.Solid
		parting float64
		down    bool
		want    float64
	}{
		{"ball 1 over the plane", geom.Ball(geom.Vec{Z: 1}, 6), 0, false, 6 - math.Sqrt(35)},
		{"ball 2 over the plane", geom.Ball(geom.Vec{Z: 2}, 6), 0, false, 6 - math.Sqrt(32)},
		{"ball 4 over the plane", geom.Ball(geom.Vec{X: 3, Y: 0.1, Z: 4}, 6), 0, false, 6 - math.Sqrt(20)},
		{"the other side of it", geom.Ball(geom.Vec{Z: 2}, 6), 0, true, 0},
		{"ball 2 under the plane, downwards", geom.Ball(geom.Vec{Z: -2}, 6), 0, true, 6 - math.Sqrt(32)},
		{"ball at its equator", geom.Ball(geom.Vec{}, 6), 0, false, 0},
		{"cone, wide end up", geom.Frustum(geom.Vec{}, geom.Vec{Z: 5}, 3, 4.2), 0, false, 1.2},
		{"cone, wide end down", geom.Frustum(geom.Vec{}, geom.Vec{Z: 5}, 4.2, 3), 0, false, 0},
		// A dovetail 10 long: 4 wide at its foot, leaning out 30° over 3 mm.
		{"dovetail", geom.Rotate(geom.Vec{X: 1}, math.Pi/2).Then(geom.Move(geom.Vec{Y: 5})).Solid(geom.Prism(
			geom.Polygon(geom.Vec2{X: -2, Y: 0}, geom.Vec2{X: 2, Y: 0}, geom.Vec2{X: 2 + math.Sqrt(3), Y: 3}, geom.Vec2{X: -2 - math.Sqrt(3), Y: 3}), 0, 10)), 0, false, math.Sqrt(3)},
		{"groove of half a circle", geom.Subtract(wall, ring(-4)), 0, false, 0.8},
		{"groove to 0.5", geom.Subtract(wall, ring(-4.3)), 0, false, 0.5},
	} {
		u := undercutOf(t, c.s, geom.Vec{Z: c.parting}, c.down)
		if math.Abs(u.Depth-c.want) > 0.01*c.want+1e-9 {
			t.Errorf("%s: %.4f mm, want %.4f", c.name, u.Depth, c.want)
		}
		if c.want > 0 {
			if v := c.s.Evaluate(u.At); math.Abs(v) > 0.02 {
				t.Errorf("%s: place %.3f is %.3f mm off the surface", c.name, u.At, v)
			}
			greatest := float32(0)
			for _, d := range u.Map {
				greatest = max(greatest, d)
			}
			if math.Abs(float64(greatest)-c.want) > 2*defaultColumnStep {
				t.Errorf("%s: the map goes to %.3f, want about %.3f", c.name, greatest, c.want)
			}
		}
	}
}

// The draw may be any direction.
func TestUndercutTurned(t *testing.T) {
	for _, to := range []geom.Transform{geom.Rotate(geom.Vec{X: 1}, math.Pi/2), geom.Rotate(geom.Vec{X: 1, Y: 1, Z: 0}, 1).Then(geom.Move(geom.Vec{X: 3, Y: 2, Z: 1}))} {
		draw := to.Direction(geom.Vec{Z: 1})
		u, err := findUndercut(context.Background(), to.Solid(geom.Ball(geom.Vec{Z: 2}, 6)), to.Point(geom.Vec{}), draw, false, 0)
		if err != nil {
			t.Fatal(err)
		}
		if want := 6 - math.Sqrt(32); math.Abs(u.Depth-want) > 0.01*want {
			t.Errorf("along %v: %.4f mm, want %.4f", draw, u.Depth, want)
		}
	}
}

// Under a ball that hangs in the air is a cylinder less half the ball.
func TestRoomUnderOverhangs(t *testing.T) {
	u := columnsOf(t, geom.Ball(geom.Vec{Z: 7}, 6), Options{Step: 0.1}).Undercut(Draw{})
	if want := math.Pi*36*7 - 2.0/3*math.Pi*216; math.Abs(u.Room-want) > 0.01*want {
		t.Errorf("%.1f mm³ of room, want %.1f", u.Room, want)
	}
}

// A ball is parted best at its equator; an egg of two balls at the greater
// one's, over which the lesser does not stand out.
func TestLeastUndercut(t *testing.T) {
	for _, c := range []struct {
		name string
		s    geom.Solid
		want float64
	}{
		{"ball", geom.Ball(geom.Vec{Z: 1.3}, 6), 1.3},
		{"egg", geom.Union(geom.Ball(geom.Vec{Z: -2}, 5), geom.Ball(geom.Vec{Z: 1}, 4)), -2},
	} {
		columns := columnsOf(t, c.s, Options{})
		from, depth, err := columns.LeastUndercut(context.Background(), -4, 4)
		if err != nil {
			t.Fatal(err)
		}
		// Where the depth stays below a step, the columns cannot tell: ±√(2·r·step).
		if math.Abs(from-c.want) > 0.5 || depth > 0.3 {
			t.Errorf("%s: best at %.2f with %.2f mm, want %.2f with none", c.name, from, depth, c.want)
		}
	}
}

func TestLeastUndercutStops(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, _, err := columnsOf(t, geom.Ball(geom.Vec{}, 3), Options{}).LeastUndercut(ctx, -2, 2); !errors.Is(err, context.Canceled) {
		t.Errorf("got error %v", err)
	}
}

// A cone hangs over by its own angle all over, a ball by more than the limit
// within a circle round its pole.
func TestOverhang(t *testing.T) {
	const degree = math.Pi / 180
	lean := math.Atan2(3, 2)
	for _, c := range []struct {
		name           string
		s              geom.Solid
		d              Draw
		limit          float64
		steepest, area float64
	}{
		{"cone", geom.Frustum(geom.Vec{}, geom.Vec{Z: 2}, 2, 5), Draw{}, 55 * degree, lean, math.Pi * (25 - 4)},
		{"cone, limit over it", geom.Frustum(geom.Vec{}, geom.Vec{Z: 2}, 2, 5), Draw{}, 60 * degree, 0, 0},
		{"cone built downwards", geom.MirrorZ().Solid(geom.Frustum(geom.Vec{}, geom.Vec{Z: 2}, 2, 5)), Draw{Down: true}, 55 * degree, lean, math.Pi * (25 - 4)},
		{"ball in the air", geom.Ball(geom.Vec{Z: 9}, 6), Draw{}, 55 * degree, math.Pi / 2, math.Pi * 36 * math.Pow(math.Cos(55*degree), 2)},
		{"block on the plane", geom.Block(geom.Box{Min: geom.Vec{X: -3, Y: -3, Z: 0}, Max: geom.Vec{X: 3, Y: 3, Z: 3}}), Draw{}, 55 * degree, 0, 0},
	} {
		o := columnsOf(t, c.s, Options{Step: 0.1}).Overhang(c.s, c.d, c.limit)
		if math.Abs(o.Steepest-c.steepest) > 0.02 || math.Abs(o.Area-c.area) > 0.02*c.area {
			t.Errorf("%s: %.1f° over %.2f mm², want %.1f° over %.2f", c.name, o.Steepest/degree, o.Area, c.steepest/degree, c.area)
		}
	}
}

// findUndercut cuts a solid along the draw and returns the undercut of the part
// above the parting plane (below it, with down), which passes through a point
// at right angles to draw. The greatest depth is found on lines step apart
// (0: 0.25 mm) and then measured on the solid itself, to 0.01 mm where the
// overhang's edge is smooth over a step.
func findUndercut(ctx context.Context, s geom.Solid, parting, draw geom.Vec, down bool, step float64) (Undercut, error) {
	c, err := Cut(ctx, s, Options{Up: draw, Step: step})
	if err != nil {
		return Undercut{}, err
	}
	return c.SharpUndercut(ctx, s, Draw{c.Height(parting), down})
}
