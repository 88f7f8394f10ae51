package sheet

import (
	"math"
	"testing"

	"halfpour/geom"
)

func TestHatchStaysInside(t *testing.T) {
	ring := geom.Outline{geom.Circle(geom.Vec2{X: 3, Y: 2}, 10), geom.Circle(geom.Vec2{X: 5, Y: 2}, 4)}
	length := 0.0
	for _, l := range hatch(ring, 0.5) {
		a, b := l.points[0], l.points[1]
		length += b.Sub(a).Norm()
		for i := 1; i < 10; i++ {
			p := a.Add(b.Sub(a).Mul(float64(i) / 10))
			big, small := p.Sub(geom.Vec2{X: 3, Y: 2}).Norm(), p.Sub(geom.Vec2{X: 5, Y: 2}).Norm()
			if big > 10+1e-9 || small < 4-0.05 {
				t.Fatalf("line %v-%v leaves the ring", a, b)
			}
		}
	}
	// Lines 0.5 mm apart add up to the area over 0.5 mm.
	if want := math.Pi * (100 - 16) / 0.5; math.Abs(length-want) > 0.02*want {
		t.Errorf("%.0f mm of lines, want %.0f", length, want)
	}
}
