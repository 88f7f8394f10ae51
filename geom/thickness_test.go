package geom

import (
	"math"
	"testing"
)

// Ribs, slots and posts of known thickness, upright, level and leaning; and
// what is none of them.
func TestThinPlaces(t *testing.T) {
	body := Block(Box{Vec{-6, -6, -6}, Vec{6, 6, 0}})
	rib := func(thick float64) Solid { return Block(Box{Vec{-4, -thick / 2, -1}, Vec{4, thick / 2, 3}}) }
	lean := Turn(Vec{X: 1}, 0.6)
	for _, c := range []struct {
		name string
		s    Solid
		want float64 // 0: nothing
		gap  bool
		at   Vec
	}{
		{"rib of 0.3", Union(body, rib(0.3)), 0.3, false, Vec{Z: 1.5}},
		{"rib of 0.5", Union(body, rib(0.5)), 0, false, Vec{}},
		{"leaning rib of 0.3", Union(body, lean.Solid(rib(0.3))), 0.3, false, lean.Point(Vec{Z: 1.5})},
		{"slot of 0.25", Subtract(body, Block(Box{Vec{-9, 1, -3}, Vec{9, 1.25, 1}})), 0.25, true, Vec{0, 1.125, -1.5}},
		{"leaning slot of 0.35", Subtract(body, lean.Solid(Block(Box{Vec{-9, 0, -2}, Vec{9, 0.35, 9}}))), 0.35, true, lean.Point(Vec{0, 0.175, -0.5})},
		{"level slot of 0.2", Subtract(body, Block(Box{Vec{-9, 3, -3}, Vec{9, 9, -2.8}})), 0.2, true, Vec{0, 4.5, -2.9}},
		// Wedges of 90° and of 40°, and a ball, are no ribs.
		{"corner", Turn(Vec{X: 1}, math.Pi/4).Solid(body), 0, false, Vec{}},
		{"wedge", Prism(Polygon(Vec2{-2, 0}, Vec2{2, 0}, Vec2{0, 5.5}), -3, 3), 0, false, Vec{}},
		{"ball", Ball(Vec{}, 3), 0, false, Vec{}},
	} {
		var found []ThinPlace
		for _, up := range []Vec{{X: 1}, {Y: 1}, {Z: 1}} {
			columns := columnsOf(t, c.s, ColumnOptions{Up: up, Step: 0.2})
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
