package moldbox

import (
	"context"
	"math"
	"strings"
	"testing"

	"halfpour/examples/heads"
	"halfpour/geom"
)

// collared is a ball of 6 mm with a collar round the shank of a hook whose eye is
// 9 mm over it.
func collared(anchor Anchor, legAngle float64) Cavity {
	v := throughBall()
	v.Head = geom.Union(geom.Ball(geom.Vec{}, 6), geom.Frustum(geom.Vec{}, geom.Vec{X: 12}, 2, 2))
	v.Eye = geom.Vec{X: 9 / math.Tan(legAngle), Y: 9} // over x = 0 at 90 degrees
	v.Hook = &Hook{Wire: 1, EyeInside: 2, Leg: 9 / math.Sin(legAngle), LegAngle: legAngle, Shank: 30, Gape: 10, Point: 6, Fit: 0.05}
	v.Anchor = anchor
	return v
}

// Whatever the scale, the anchor stays: the eye over the head, the shank in the
// middle of the collar, or the collar's end on the shank besides.
func TestAnchors(t *testing.T) {
	for _, legAngle := range []float64{math.Pi / 2, math.Pi / 3} {
		for _, scale := range []float64{0.7, 1, 1.3} {
			at := func(a Anchor, file geom.Vec) geom.Vec { return collared(a, legAngle).toHook(scale).Point(file) }
			eye := collared("", legAngle).Eye
			near(t, "eye", at("", eye).Norm(), 0, 1e-9)
			near(t, "the shank beside the collar's axis", at("", geom.Vec{X: 12}).Y, -9*scale, 1e-9)
			for _, a := range []Anchor{AnchorShank, AnchorCollar} {
				near(t, "the collar's axis on the shank", at(a, geom.Vec{X: 12}).Y, -9, 1e-6)
			}
			near(t, "under the eye", at(AnchorShank, geom.Vec{X: eye.X}).X, 0, 1e-6)
			near(t, "the collar's end", at(AnchorCollar, geom.Vec{X: 12}).X, 12-eye.X, 2e-3)
		}
	}
}

// A head scaled to its weight by its shank builds, heads that are alike are made
// once, and what was moved is said.
func TestAnchoredMold(t *testing.T) {
	for _, c := range []struct {
		anchor Anchor
		says   string
	}{{AnchorEye, "the shank lies"}, {AnchorShank, "the eye stands"}, {AnchorCollar, "scaled about the collar"}} {
		spec := Default()
		v := collared(c.anchor, math.Pi/2)
		v.MetalVolume, v.Turn = 600, -math.Pi/2
		spec.Cavities = []Cavity{v, v}
		m := buildOf(t, spec)
		if m.Cavities[1].AlikeTo != 0 {
			t.Errorf("%s: the second cavity is not like the first", c.anchor)
		}
		said := false
		for _, f := range m.Findings {
			said = said || f.Code == "scale-shifts" && f.Severity == Note && strings.Contains(f.Message, c.says)
		}
		if !said {
			t.Errorf("%s: got %v", c.anchor, m.Findings)
		}
		// The shank's axis in the head's file, by the cavity's own eye and scale.
		p, err := newPart(context.Background(), v, 4.0/3*math.Pi*216, spec, nil, "")
		if err != nil {
			t.Fatal(err)
		}
		off := p.inFile(p.turn.Point(geom.Vec{X: 10, Y: -9})).Y
		if on := math.Abs(off) < 1e-6; on != (c.anchor != AnchorEye) {
			t.Errorf("%s: the shank lies %.3f mm beside the collar's axis", c.anchor, off)
		}
	}
}

// A hook that is drawn has its shank where it was measured, a hook by points where
// its longest straight stretch is.
func TestShankAxis(t *testing.T) {
	drawn := drawnCavity(t, drawnHook(t, heads.HookKind{}), false)
	for name, h := range map[string]*Hook{
		"drawn":  drawn.Hook,
		"points": {Wire: 1, EyeInside: 2, Fit: 0.05, Points: [][2]float64{{0, -heads.HookLeg}, {26, -heads.HookLeg}, {26, 1}, {20, 1}}},
		"short":  {Wire: 1, EyeInside: 2, Leg: heads.HookLeg, LegAngle: math.Pi / 2, Shank: 5, Gape: 10, Fit: 0.05},
	} {
		drawn.Hook, drawn.Anchor = h, AnchorShank
		near(t, name, drawn.anchor().Dist(geom.Vec{Y: -heads.HookLeg}), 0, 0.05)
	}
}
