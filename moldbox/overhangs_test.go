package moldbox

import (
	"math"
	"testing"

	"halfpour/geom"
)

// By hand, of a plate of 40 x 20 mm: a tunnel of 6 mm under a roof is a bridge of 6 mm over
// 6·20 mm² and needs no support, one of 12 mm does; a shelf of 5 mm at one side hangs free
// over 5·20 mm²; a slope of 45° and the plate's own underside are none.
func TestHangingPatches(t *testing.T) {
	block := func(x0, y0, z0, x1, y1, z1 float64) geom.Solid {
		return geom.Block(geom.Box{Min: geom.Vec{X: x0, Y: y0, Z: z0}, Max: geom.Vec{X: x1, Y: y1, Z: z1}})
	}
	base := block(0, 0, 0, 40, 20, 10)
	for _, c := range []struct {
		name    string
		solid   geom.Solid
		area    float64
		bridge  float64
		support bool
	}{
		{"a plate", base, 0, 0, false},
		{"a short tunnel", geom.Subtract(base, block(10, -1, -1, 16, 21, 4)), 120, 6, false},
		{"a long tunnel", geom.Subtract(base, block(10, -1, -1, 22, 21, 4)), 240, 12, true},
		{"a shelf", geom.Union(base, block(-5, 0, 6, 1, 20, 8)), 100, 0, true},
		{"a slope of 45°", geom.Union(base, geom.Frustum(geom.Vec{X: 20, Y: 10, Z: 9}, geom.Vec{X: 20, Y: 10, Z: 15}, 2, 8)), 0, 0, false},
		{"a ball's underside", geom.Union(base, geom.Ball(geom.Vec{X: 20, Y: 10, Z: 17}, 8)), -1, 0, true},
	} {
		mesh, err := geom.Mesh(t.Context(), c.solid, geom.MeshOptions{Tolerance: 0.02})
		if err != nil {
			t.Fatal(err)
		}
		found := hangingPatches(mesh, 55*math.Pi/180)
		switch {
		case c.area == 0:
			if len(found) > 0 {
				t.Errorf("%s: %+v", c.name, found)
			}
		case len(found) != 1 || found[0].NeedsSupport() != c.support || math.Abs(found[0].Bridge-c.bridge) > 0.01:
			t.Errorf("%s: %+v", c.name, found)
		case c.area > 0 && math.Abs(found[0].Area-c.area) > 0.5:
			t.Errorf("%s: %.2f mm², want %.2f", c.name, found[0].Area, c.area)
		case c.area < 0 && (found[0].Steepest < 55*math.Pi/180 || found[0].At.Z < 9):
			t.Errorf("%s: %+v", c.name, found[0])
		}
	}
}
