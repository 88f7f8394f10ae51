package moldbox

import (
	"testing"

	"halfpour/geom"
)

// A value that is not near is more than the reach, and no more than the value.
func TestValueNear(t *testing.T) {
	s := geom.Union(geom.Ball(geom.Vec{}, 2), geom.Capsule(geom.Vec{}, geom.Vec{X: 6, Y: 3}, 0.5))
	asked := &countedSolid{Solid: s}
	for i := range 400 {
		p := geom.Vec{X: float64(i%20) - 6, Y: float64(i/20) - 6}
		before, v := asked.count, s.Evaluate(p)
		got := valueNear(asked, p, 1.5)
		if got != v && !(got > 1.5 && got <= v) {
			t.Errorf("at %v: %g, want %g or between 1.5 and that", p, got, v)
		}
		if far := s.BoundingBox().Distance(p) > 1.5; far != (asked.count == before) {
			t.Errorf("at %v, outside the reach %v: asked %d times", p, far, asked.count-before)
		}
	}
}

// countedSolid counts how often it is asked.
type countedSolid struct {
	geom.Solid
	count int
}

func (s *countedSolid) Evaluate(p geom.Vec) float64 {
	s.count++
	return s.Solid.Evaluate(p)
}
