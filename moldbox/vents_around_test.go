package moldbox

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
)

// ventingUnder is a ball of 4 mm at the origin in a mold 80 x 60 mm, with a bar
// across over it from x0 to x1.
func ventingUnder(x0, x1 float64) *venting {
	spec := Default()
	return &venting{
		ctx:  context.Background(),
		spec: spec.Vents, head: geom.Ball(geom.Vec{}, 4), corner: spec.Frame.Corner,
		others: obstacles{geom.Block(geom.Box{Min: geom.Vec{X: x0, Y: 12, Z: -3}, Max: geom.Vec{X: x1, Y: 14, Z: 3}})},
		inside: geom.Box{Min: geom.Vec{X: -40, Y: -20}, Max: geom.Vec{X: 40, Y: 40}}, end: 43,
	}
}

// A way round a bar keeps clear of it and of the head, rises all along, and
// goes by the nearer end.
func TestWayRoundObstacles(t *testing.T) {
	v := ventingUnder(-30, 8)
	way, ok := v.around(geom.Vec{Y: 4}, nil)
	if !ok {
		t.Fatal("no way found")
	}
	if last := way[len(way)-1]; last.Y != v.end || last.X < 8 {
		t.Errorf("the way ends at %v, want beyond x = 8 at y = %g", last, v.end)
	}
	for i := 1; i < len(way); i++ {
		if !rises(way[i-1], way[i]) {
			t.Errorf("from %v to %v it does not rise", way[i-1], way[i])
		}
		if !v.others.free(way[i-1], way[i], leastRubber+v.spec.Width/2-0.05) {
			t.Errorf("from %v to %v it comes too near to the bar", way[i-1], way[i])
		}
	}
	if len(way) > 4 {
		t.Errorf("the way has %d bends: %v", len(way)-2, way)
	}
	if _, ok := ventingUnder(-37, 37).around(geom.Vec{Y: 4}, nil); ok {
		t.Error("a way through a bar from wall to wall")
	}
}

// Round two bars, one from each side, it goes by the end of each, in as few bends as
// that takes.
func TestWayWinds(t *testing.T) {
	v := ventingUnder(-37, 8)
	v.others = append(v.others, geom.Block(geom.Box{Min: geom.Vec{X: -8, Y: 32, Z: -3}, Max: geom.Vec{X: 37, Y: 34, Z: 3}}))
	way, ok := v.around(geom.Vec{Y: 4}, nil)
	if !ok {
		t.Fatal("no way found")
	}
	at := func(y float64) float64 {
		for i := 1; i < len(way); i++ {
			if a, b := way[i-1], way[i]; y >= a.Y && y <= b.Y {
				return a.Lerp(b, (y-a.Y)/(b.Y-a.Y)).X
			}
		}
		return math.NaN()
	}
	gap := leastRubber + v.spec.Width/2 - 0.05
	if x, y := at(13), at(33); !(x >= 8+gap && x < 12 && y <= -8-gap && y > -12) {
		t.Errorf("at %g over the lower bar, at %g over the upper one: %v", x, y, way)
	}
	if len(way) > 7 || way[len(way)-1].Y != v.end {
		t.Errorf("%d bends: %v", len(way)-2, way)
	}
}

// Just under the edge one step is the whole way.
func TestWayOfOneStep(t *testing.T) {
	v := ventingUnder(-30, -20)
	from := geom.Vec{X: 3, Y: v.inside.Max.Y - routeStep/2}
	if way, ok := v.around(from, nil); !ok || len(way) != 2 || way[0] != from || way[1] != (geom.Vec{X: 3, Y: v.end}) {
		t.Errorf("%v, %v", way, ok)
	}
}

// A way ends where it meets a vent of the same cavity.
func TestWayJoins(t *testing.T) {
	v := ventingUnder(-30, 8)
	own := v.make(geom.Vec{X: 3, Y: 3}, geom.Vec{X: 12, Y: 9}, geom.Vec{X: 12, Y: v.end})
	way, ok := v.around(geom.Vec{X: -3, Y: 3}, []vent{own})
	if !ok {
		t.Fatal("no way found")
	}
	last := way[len(way)-1]
	if last.Y > 30 || own.solid.Evaluate(last) >= 0 {
		t.Errorf("the way ends at %v, not in the vent", last)
	}
	if joined := v.make(way...); joined.solid.Evaluate(last) >= 0 {
		t.Errorf("the channel does not reach %v", last)
	}
}
