package geom_test

import (
	"math"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

func TestPrismKeepsTheLaws(t *testing.T) {
	text, _, err := geom.Text("Q3/8@", 5)
	if err != nil {
		t.Fatal(err)
	}
	var star []geom.Vec2
	for i := range 5 { // in one stroke, crossing itself
		s, c := math.Sincos(2 * math.Pi * float64(2*i) / 5)
		star = append(star, geom.Vec2{X: 10 + 4*c, Y: 4 * s})
	}
	for name, o := range map[string]geom.Outline{
		"text":          text,
		"mirrored text": text.Mirror(),
		"star":          geom.Polygon(star...),
		"text and star": append(text, star),
	} {
		t.Run(name, func(t *testing.T) {
			s := geom.Prism(o, -0.2, 0.6)
			geomtest.CheckSolid(t, s, s.BoundingBox(), 7)
			turned := geom.Rotate(geom.Vec{X: 1, Y: 2, Z: 3}, 0.7).Solid(s)
			geomtest.CheckSolid(t, turned, turned.BoundingBox(), 8)
		})
	}
}
