package moldbox

import (
	"context"
	"errors"
	"math"
	"math/bits"
	"testing"

	"halfpour/geom"
)

func rectangle(x, y float64) geom.Box {
	return geom.Box{Min: geom.Vec{X: -x / 2, Y: -y / 2}, Max: geom.Vec{X: x / 2, Y: y / 2}}
}

func TestKeysKeepClear(t *testing.T) {
	spec := Default()
	avoid := obstacles{geom.Ball(geom.Vec{}, 12), geom.Ball(geom.Vec{X: 20, Y: 15}, 4)}
	inside := rectangle(60, 44)
	for count := leastKeys; count <= 6; count++ {
		spec.Keys.Count = count
		keys, _, err := placeKeys(context.Background(), spec, inside, avoid)
		if err != nil {
			t.Fatal(err)
		}
		if len(keys) != count {
			t.Errorf("%d keys, want %d", len(keys), count)
		}
		for i, k := range keys {
			if d := avoid.distance(k.At) - k.Diameter/2; d < spec.Keys.Clear {
				t.Errorf("key %d of %d is %.2f mm from a body, want %.2f", i, count, d, spec.Keys.Clear)
			}
			for j := range i {
				if d := k.At.Dist(keys[j].At) - k.Diameter; d < spec.Keys.Clear {
					t.Errorf("keys %d and %d are %.2f mm apart", i, j, d)
				}
			}
		}
	}
}

func TestTooFewKeys(t *testing.T) {
	spec := Default()
	inside := rectangle(34, 30)
	avoid := obstacles{geom.Block(geom.Box{Min: geom.Vec{X: -10, Y: -8, Z: -5}, Max: geom.Vec{X: 10, Y: 8, Z: 5}})}
	_, _, err := placeKeys(context.Background(), spec, inside, avoid)
	var se *SpecError
	if !errors.As(err, &se) || se.Field != "Keys.Count" {
		t.Fatalf("error is %v, want a SpecError of Keys.Count", err)
	}
	if se.Value >= leastKeys || se.Cause != KeysNeedWall || se.Figures[1] != spec.Keys.Count {
		t.Fatalf("value %g, cause %q, figures %v: want the number that fits and what to enlarge", se.Value, se.Cause, se.Figures)
	}
	// What the figures say must work.
	more := se.Figures[0].(float64) - spec.Frame.ToWall
	inside.Min.X, inside.Max.X, inside.Min.Y = inside.Min.X-more, inside.Max.X+more, inside.Min.Y-more
	if keys, _, err := placeKeys(context.Background(), spec, inside, avoid); err != nil || len(keys) < spec.Keys.Count {
		t.Errorf("with %g mm more: %d keys, error %v", more, len(keys), err)
	}
}

// A mold closes one way only: no turn in the parting plane brings every key
// onto a place of its kind.
func TestKeysCloseOneWay(t *testing.T) {
	spec := Default()
	for _, inside := range []geom.Box{rectangle(60, 44), rectangle(50, 50), rectangle(200, 60)} {
		for count := leastKeys; count <= 8; count++ {
			spec.Keys.Count = count
			keys, findings, err := placeKeys(context.Background(), spec, inside, nil)
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range findings {
				t.Errorf("%d keys: %s", count, f.Message)
			}
			bumps := 0
			for _, k := range keys {
				if k.BumpLeft {
					bumps++
				}
			}
			if bumps == 0 || bumps == len(keys) {
				t.Errorf("%d of %d keys are bumps of one half", bumps, len(keys))
			}
			for _, turn := range []float64{math.Pi / 2, math.Pi, -math.Pi / 2} {
				if turned(keys, inside.Centre(), turn) {
					t.Errorf("%d keys in %v close turned by %.0f°", count, inside.Size(), turn*180/math.Pi)
				}
			}
		}
	}
}

// turned checks by the keys themselves, not by the mask that chose them.
func turned(keys []Key, c geom.Vec, turn float64) bool {
	s, co := math.Sincos(turn)
	for _, k := range keys {
		p := k.At.Sub(c)
		q := geom.Vec{X: p.X*co - p.Y*s, Y: p.X*s + p.Y*co}.Add(c)
		meets := false
		for _, o := range keys {
			meets = meets || (o.BumpLeft == k.BumpLeft && q.Dist(o.At) <= k.Diameter/2)
		}
		if !meets {
			return false
		}
	}
	return true
}

func TestPatternRefusesSymmetry(t *testing.T) {
	// Two places can only be alike under a half turn when both are bumps of
	// one half; opposite kinds do not close.
	places := []geom.Vec{{X: -5}, {X: 5}}
	if mask, ok := oneWayPattern(places, geom.Vec{}, 1); !ok || mask == 0 || mask == 3 {
		t.Errorf("mask %b, ok %v: want one bump and one socket", mask, ok)
	}
	if !closesTurned(places, 3, geom.Vec{}, 1) {
		t.Error("two equal keys opposite each other must close turned")
	}
}

func TestKeyCap(t *testing.T) {
	k := Key{At: geom.Vec{X: 3}, Diameter: 7, Depth: 2.6, BumpLeft: true}
	ball := k.ball(0)
	near(t, "rim", ball.Evaluate(geom.Vec{X: 6.5}), 0, 1e-9)
	near(t, "tip", ball.Evaluate(geom.Vec{X: 3, Z: -2.6}), 0, 1e-9)
	near(t, "socket's tip", k.ball(0.15).Evaluate(geom.Vec{X: 3, Z: -2.75}), 0, 1e-9)
	spec := KeySpec{Diameter: k.Diameter, Depth: k.Depth, Clearance: 0.15}
	near(t, "socket's rim", k.ball(0.15).Evaluate(geom.Vec{X: 3 + spec.socketRadius()}), 0, 1e-9)
}

func TestInsideRounded(t *testing.T) {
	b := rectangle(20, 10)
	for _, c := range []struct {
		p    geom.Vec
		want float64
	}{
		{geom.Vec{}, 5}, {geom.Vec{X: 9}, 1}, {geom.Vec{X: 11}, -1}, {geom.Vec{X: 10, Y: 5}, 3 - 3*math.Sqrt2},
	} {
		near(t, "distance", insideRounded(b, 3, c.p), c.want, 1e-12)
	}
}

// With nothing in the way four keys stand at the corners, and of any number half are
// bumps of one half, as nearly as a mold that closes one way only allows.
func TestKeysAtTheCorners(t *testing.T) {
	spec := Default()
	inside := rectangle(60, 44)
	for count := leastKeys; count <= 8; count++ {
		spec.Keys.Count = count
		keys, _, err := placeKeys(context.Background(), spec, inside, nil)
		if err != nil {
			t.Fatal(err)
		}
		bumps := 0
		for i, k := range keys {
			if k.BumpLeft {
				bumps++
			}
			// The radius of a socket and the rubber beside it, on a grid of 1 mm.
			if corner := inside.Corner([]int{0, 3, 1, 2}[min(i, 3)]); i < 4 && k.At.Dist(corner) > math.Sqrt2*(spec.Keys.socketRadius()+spec.Keys.Clear)+1 {
				t.Errorf("key %d of %d is at %v, %.1f mm from its corner", i+1, count, k.At, k.At.Dist(corner))
			}
		}
		if uneven := 2*bumps - count; uneven < -2 || uneven > 2 {
			t.Errorf("%d of %d keys are bumps", bumps, count)
		}
	}
	// No turn brings these onto each other: just half.
	if mask, ok := oneWayPattern([]geom.Vec{{X: 1}, {X: 7, Y: 2}, {X: 12, Y: 30}, {X: 40, Y: 9}}, geom.Vec{}, 0.1); !ok || bits.OnesCount(uint(mask)) != 2 {
		t.Errorf("bumps %b", mask)
	}
}
