package moldbox

import (
	"context"
	"testing"

	"halfpour/geom"
	"halfpour/geom/column"
)

// A slit 0.44 mm wide and 10 mm deep in the face of a block; it counts as open a
// little beyond its mouth.
func TestFinAt(t *testing.T) {
	cube := block(-12, -12, -12, 12, 12, 12)
	s := &shapeCheck{builder: &builder{spec: Default()}, cavity: &Placed{Head: geom.Subtract(cube, block(-13, -0.22, -13, -2, 0.22, 13))}}
	for _, at := range []geom.Vec{{X: -4, Z: 6}, {X: -9, Z: 6}, {X: -7, Z: -6}} {
		f := s.finAt(at, geom.Vec{Y: 1}, 0.44)
		near(t, "depth", f.depth, 10.1, 0.1)
		near(t, "width", f.width, 0.44, 0)
	}
	// A hollow that is closed all round hangs on nothing.
	s.cavity.Head = geom.Subtract(cube, block(-9, -0.22, 1, 9, 0.22, 9))
	if f := s.finAt(geom.Vec{Z: 5}, geom.Vec{Y: 1}, 0.44); f.width != 0 {
		t.Errorf("in a closed hollow: %+v", f)
	}
}

// Of two fins the more slender one is told, of equal ones the first.
func TestWorseFin(t *testing.T) {
	thick, thin, alike := fin{width: 1, depth: 3}, fin{width: 0.5, depth: 2}, fin{width: 0.5, depth: 1.5}
	if !thin.worse(thick) || thick.worse(thin) || thick.worse(alike) || !alike.worse(fin{}) {
		t.Error("4 times as deep as wide must be worse than 3, and none worse than equal")
	}
}

// Every place of a small slit is looked at, of a large one each second.
func TestFinsLookAtPlaces(t *testing.T) {
	for _, c := range []struct {
		places, at int // and at which of them the fin is
		found      bool
	}{{finPlaces, 5, true}, {2 * finPlaces, 6, true}, {2 * finPlaces, 5, false}, {finPlaces + 1, 6, true}} {
		s := &shapeCheck{builder: &builder{spec: Default()}, cavity: &Placed{Head: slit(0.44, 3)}}
		p := column.ThinPlace{Gap: true, Area: 9, Thickness: 0.44, Across: geom.Vec{Y: 1}}
		for i := range c.places {
			at := geom.Vec{Y: 90, Z: 2} // far off the head, where nothing is thin
			if i == c.at {
				at = geom.Vec{X: -4, Z: 2}
			}
			p.Middles = append(p.Middles, at)
		}
		if s.fins(context.Background(), []column.ThinPlace{p}); (s.fin.width > 0) != c.found {
			t.Errorf("place %d of %d: %+v", c.at, c.places, s.fin)
		}
		if c.found && s.fin.at != (geom.Vec{X: -4, Z: 2}) {
			t.Errorf("placed at %v", s.fin.at)
		}
		// Wide, small, or metal: no fin.
		for _, edit := range []func(*column.ThinPlace){
			func(p *column.ThinPlace) { p.Gap = false }, func(p *column.ThinPlace) { p.Area = leastFlaw / 2 },
			func(p *column.ThinPlace) { p.Thickness = s.spec.Checks.Rubber },
		} {
			q, none := p, &shapeCheck{builder: s.builder, cavity: s.cavity}
			edit(&q)
			if none.fins(context.Background(), []column.ThinPlace{q}); none.fin.width > 0 {
				t.Errorf("told: %+v", none.fin)
			}
		}
	}
}
