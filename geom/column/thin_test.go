package column

import (
	"math"
	"testing"

	"halfpour/geom"
)

// Ribs, slots and posts of known thickness, upright, level and leaning; and
// what is none of them.
func TestThinPlaces(t *testing.T) {
	body := geom.Block(geom.Box{Min: geom.Vec{X: -6, Y: -6, Z: -6}, Max: geom.Vec{X: 6, Y: 6, Z: 0}})
	rib := func(thick float64) geom.Solid {
		return geom.Block(geom.Box{Min: geom.Vec{X: -4, Y: -thick / 2, Z: -1}, Max: geom.Vec{X: 4, Y: thick / 2, Z: 3}})
	}
	lean := geom.Rotate(geom.Vec{X: 1}, 0.6)
	for _, c := range []struct {
		name string
		s    geom.Solid
		want float64 // 0: nothing
		gap  bool
		at   geom.Vec
	}{
		{"rib of 0.3", geom.Union(body, rib(0.3)), 0.3, false, geom.Vec{Z: 1.5}},
		{"rib of 0.5", geom.Union(body, rib(0.5)), 0, false, geom.Vec{}},
		{"leaning rib of 0.3", geom.Union(body, lean.Solid(rib(0.3))), 0.3, false, lean.Point(geom.Vec{Z: 1.5})},
		{"slot of 0.25", geom.Subtract(body, geom.Block(geom.Box{Min: geom.Vec{X: -9, Y: 1, Z: -3}, Max: geom.Vec{X: 9, Y: 1.25, Z: 1}})), 0.25, true, geom.Vec{X: 0, Y: 1.125, Z: -1.5}},
		{"leaning slot of 0.35", geom.Subtract(body, lean.Solid(geom.Block(geom.Box{Min: geom.Vec{X: -9, Y: 0, Z: -2}, Max: geom.Vec{X: 9, Y: 0.35, Z: 9}}))), 0.35, true, lean.Point(geom.Vec{X: 0, Y: 0.175, Z: -0.5})},
		{"level slot of 0.2", geom.Subtract(body, geom.Block(geom.Box{Min: geom.Vec{X: -9, Y: 3, Z: -3}, Max: geom.Vec{X: 9, Y: 9, Z: -2.8}})), 0.2, true, geom.Vec{X: 0, Y: 4.5, Z: -2.9}},
		// Wedges of 90° and of 40°, and a ball, are no ribs.
		{"corner", geom.Rotate(geom.Vec{X: 1}, math.Pi/4).Solid(body), 0, false, geom.Vec{}},
		{"wedge", geom.Prism(geom.Polygon(geom.Vec2{X: -2, Y: 0}, geom.Vec2{X: 2, Y: 0}, geom.Vec2{X: 0, Y: 5.5}), -3, 3), 0, false, geom.Vec{}},
		{"ball", geom.Ball(geom.Vec{}, 3), 0, false, geom.Vec{}},
	} {
		var found []ThinPlace
		for _, up := range []geom.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
			columns := columnsOf(t, c.s, Options{Up: up, Step: 0.2})
			for _, p := range columns.ThinPlaces(c.s, 0.4) {
				if p.Area > 0.5 {
					found = append(found, p)
				}
			}
		}
		if c.want == 0 {
			if len(found) > 0 {
				t.Errorf("%s: %d thin places, the first %+v", c.name, len(found), found[0])
			}
			continue
		}
		if len(found) == 0 {
			t.Errorf("%s: not found", c.name)
		}
		for _, p := range found {
			if math.Abs(p.Thickness-c.want) > 0.01*c.want || p.Gap != c.gap {
				t.Errorf("%s: %+v, want %.2f", c.name, p, c.want)
			}
			off := p.At.Sub(c.at)
			if math.Abs(off.Dot(p.Across)) > 0.05 {
				t.Errorf("%s: found at %.2f, %.2f mm off its middle plane", c.name, p.At, off.Dot(p.Across))
			}
		}
	}
}
