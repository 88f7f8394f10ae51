package moldbox

import (
	"cmp"
	"context"
	"fmt"

	"halfpour/geom"
)

// partWire is one wire of a part: the hook first, then the keepers.
type partWire struct {
	name   string
	keeper int // index of the cavity's keeper; isHook for the hook
	fit    float64
	axis   wireAxis  // in the hook's plane
	body   *laidBody // as drawn, in the hook's plane; nil: a tube along the axis

	flipped bool // it lies mirrored
	cut     bool // its axis ends beyond the mold's edge
}

const isHook = -1

func (w partWire) hook() bool { return w.keeper == isHook }

// called is the wire's name in a sentence.
func (w partWire) called() string {
	if w.hook() && w.name == namelessHook {
		return "the " + namelessHook
	}
	return w.name
}

const namelessHook = "hook"

// solid is the wire at its true size.
func (w partWire) solid(place geom.Transform) geom.Solid {
	if w.body != nil {
		return place.Solid(w.body.solid)
	}
	return w.axis.tube(w.axis.wire/2, place)
}

// bed is the hollow in the rubber for the wire.
func (w partWire) bed(place geom.Transform) geom.Solid {
	if w.body != nil && w.cut && w.axis.out > 0 {
		return w.body.bedOut(w.fit, place, w.axis)
	}
	if w.body != nil {
		return w.body.bed(w.fit, place)
	}
	return w.axis.bed(w.fit, place)
}

// cutTo is the wire with another axis.
func (w partWire) cutTo(a wireAxis) partWire {
	w.axis, w.cut = a, true
	return w
}

// stayBox is around all of the bed that stays in the rubber.
func (w partWire) stayBox(place geom.Transform) geom.Box {
	if w.body != nil && w.axis.out == 0 {
		return reach(w.bed(place))
	}
	return w.axis.stayBox(w.fit, place)
}

// volume is of the whole wire in mm³.
func (w partWire) volume() float64 {
	if w.body != nil {
		return w.body.volume
	}
	return w.axis.volume()
}

// within is how much of the wire lies in a head that stands in the hook's plane,
// mm³.
func (w partWire) within(ctx context.Context, head geom.Solid) float64 {
	if w.body != nil {
		return w.body.within(ctx, head)
	}
	return w.axis.within(ctx, head)
}

// wires lays out all wires of a cavity whose head has the given scale.
func (v Cavity) wires(scale float64) []partWire {
	var ws []partWire
	if v.Hook != nil {
		ws = append(ws, partWire{cmp.Or(v.Hook.Name, namelessHook), isHook, v.Hook.Fit, v.Hook.axis(), v.Hook.body, false, false})
	}
	for i, k := range v.Keepers {
		name := cmp.Or(k.Name, fmt.Sprintf("keeper %d", i+1))
		for n := range max(1, k.Count) {
			w := partWire{name, i, k.Fit, k.axis(v, scale, n), k.bodyAt(v, scale, n), false, false}
			ws = append(ws, w)
			if k.Mirror {
				ws = append(ws, w.mirrored(v.Hook.axis().longest()))
			}
		}
	}
	return ws
}

// PlacedWire is one wire of a cavity in the mold.
type PlacedWire struct {
	Name   string
	Keeper int        // index in the cavity's keepers; below 0 for its hook
	Wire   geom.Solid // at its true size
	Bed    geom.Solid // up to the mold's edge where the wire leaves it

	Diameter float64 // mm
	Volume   float64 // mm³
	InHead   float64 // what of it lies in the cold head, mm³
	Length   float64 // of its axis, eye ring included, mm
	Cut      []Stretch
}

// Stretch is a straight stretch of wire and the bend at its end, as they are
// made at the bench. An eye's ring is a stretch of its own, first.
type Stretch struct {
	Straight float64 // mm, without the bends; 0 for a bend that follows another
	Bend     float64 // radians, left positive as seen from the left flank; 0 at the wire's end
	Inside   float64 // radius inside the bend, mm
}

// stretches lists the wire as it is bent; of a drawn body no more than its eye. One that
// lies mirrored is bent as the other and turned over.
func (w partWire) stretches() []Stretch {
	list := w.axis.stretches()
	switch {
	case w.body != nil && w.axis.ring > 0:
		return list[:1]
	case w.body != nil:
		return nil
	case w.flipped:
		for i := range list {
			list[i].Bend = 0 - list[i].Bend // and no -0
		}
	}
	return list
}

// stretches lists the wire from its eye or first point on.
func (a wireAxis) stretches() []Stretch {
	var list []Stretch
	if a.ring > 0 {
		list = append(list, Stretch{Bend: fullTurn, Inside: a.ring - a.wire/2})
	}
	open := false // the last stretch waits for its bend
	for i, p := range a.pieces {
		if p.straight() {
			length := p.length()
			if i == 0 && a.ring > 0 {
				length += p.from.Norm() - a.ring
			}
			if open { // a sharp corner
				list[len(list)-1].Bend = signedTurn(a.pieces[i-1], p)
			}
			list, open = append(list, Stretch{Straight: length}), true
			continue
		}
		if !open {
			list = append(list, Stretch{})
		}
		last := &list[len(list)-1]
		last.Bend, last.Inside, open = p.sweep, p.radius()-a.wire/2, false
	}
	return list
}
