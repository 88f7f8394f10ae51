package geom_test

import (
	"math"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// Look-alikes of another library's types.
type (
	otherVec   struct{ X, Y, Z float64 }
	otherBox   struct{ Min, Max otherVec }
	otherSolid interface {
		Evaluate(otherVec) float64
		BoundingBox() otherBox
	}
)

// otherCube breaks law 2 beyond its corners, as the usual quick cube does.
type otherCube struct{ half float64 }

func (c otherCube) Evaluate(p otherVec) float64 {
	return math.Max(math.Abs(p.X), math.Max(math.Abs(p.Y), math.Abs(p.Z))) - c.half
}

func (c otherCube) BoundingBox() otherBox {
	h := c.half
	return otherBox{otherVec{-h, -h, -h}, otherVec{h, h, h}}
}

func TestAdopt(t *testing.T) {
	var foreign otherSolid = otherCube{2}
	s := geom.Adopt(foreign)
	if want := (geom.Box{Min: geom.Vec{X: -2, Y: -2, Z: -2}, Max: geom.Vec{X: 2, Y: 2, Z: 2}}); s.BoundingBox() != want {
		t.Errorf("box %v, want %v", s.BoundingBox(), want)
	}
	for _, c := range []struct {
		p    geom.Vec
		want float64
	}{
		{geom.Vec{X: 1}, -1},
		{geom.Vec{X: 5}, 3},
		{geom.Vec{X: 3, Y: 3, Z: 3}, math.Sqrt(3)}, // the cube itself says 1
	} {
		if v := s.Evaluate(c.p); math.Abs(v-c.want) > 1e-15 {
			t.Errorf("at %v: %v, want %v", c.p, v, c.want)
		}
	}
	geomtest.CheckSolid(t, s, s.BoundingBox(), 61)
	geomtest.CheckSolid(t, geom.Rotate(geom.Vec{X: 1, Y: 2}, 0.7).Solid(s), s.BoundingBox(), 62)
}

func TestLend(t *testing.T) {
	ball := geom.Ball(geom.Vec{X: 1, Y: 2, Z: 3}, 4)
	var foreign otherSolid = geom.Lend[otherVec, otherBox](ball)
	if v := foreign.Evaluate(otherVec{11, 2, 3}); v != 6 {
		t.Errorf("value %v, want 6", v)
	}
	if b := foreign.BoundingBox(); b != (otherBox{otherVec{-3, -2, -1}, otherVec{5, 6, 7}}) {
		t.Errorf("box %v", b)
	}
	back := geom.Adopt(foreign)
	p := geom.Vec{X: 0.3, Y: -7, Z: 2}
	if back.Evaluate(p) != ball.Evaluate(p) {
		t.Errorf("there and back: %v, want %v", back.Evaluate(p), ball.Evaluate(p))
	}
}
