package moldbox

import (
	"context"
	"math"

	"halfpour/geom"
)

// sketchShare is how well the hollows of a sketch are measured, as a share of
// the rubber.
const sketchShare = 2e-3

// sketchRubber is the rubber of a sketch's half, mm³: the room of its tray less
// the hollows, with its keys on top. Marking and the step at the fill line are
// left out.
func (m *Mold) sketchRubber(ctx context.Context, h Half) (float64, error) {
	room := newTray(m.Spec, h.Inside, h.FillHeight).room()
	hollow, err := m.sketchHollows(ctx, h, sketchShare*room/float64(len(m.Cavities)))
	if err != nil {
		return 0, err
	}
	rubber := room - hollow
	for _, k := range m.Keys {
		if k.BumpLeft == (h.Name == "left") {
			rubber += k.capVolume(0)
		} else {
			rubber -= k.capVolume(m.Spec.Keys.Clearance)
		}
	}
	return rubber, nil
}

// sketchHollows is what cavities and runner take of a half, mm³, each to tol
// mm³; cavities that are alike are measured once.
func (m *Mold) sketchHollows(ctx context.Context, h Half, tol float64) (float64, error) {
	half := h.InMold().Box(h.Inside)
	volume := func(s geom.Solid) (float64, error) {
		v, err := geom.Integrate(ctx, s, geom.IntegrateOptions{Within: half, RelTol: sketchShare, AbsTol: tol})
		return v.Best, err
	}
	sum, each := 0.0, make([]float64, len(m.Cavities))
	for i := range m.Cavities {
		c := &m.Cavities[i]
		if each[i] = each[c.AlikeTo]; c.AlikeTo == i {
			var err error
			if each[i], err = volume(geom.Union(append(c.channels(), c.Head)...)); err != nil {
				return 0, err
			}
		}
		sum += each[i]
	}
	if m.Runner == nil {
		return sum, nil
	}
	runner, err := volume(m.SharedRunner())
	return sum + runner, err
}

// room is the volume within the walls from the floor up to the fill line, mm³:
// a rectangle with round corners that grows evenly, by Simpson's rule, which is
// exact for it.
func (t tray) room() float64 {
	area := func(z float64) float64 {
		size := t.rectangle(z, 0).Size()
		corner := math.Max(0, t.frame.Corner+z*t.lean)
		return size.X*size.Y - (4-math.Pi)*corner*corner
	}
	return t.fill / 6 * (area(0) + 4*area(t.fill/2) + area(t.fill))
}

// capVolume is of the key's bump in mm³, or, grown by its clearance, of the
// socket: a cap of a ball, πh²(3R-h)/3.
func (k Key) capVolume(grown float64) float64 {
	r, h := k.Diameter/2, k.Depth
	radius := (r*r+h*h)/(2*h) + grown
	h += grown
	return math.Pi * h * h * (3*radius - h) / 3
}
