package moldbox

import (
	"math"

	"halfpour/geom"
)

// HookShape is a hook as one looks at it to measure it, in mm: its eye's centre at the
// origin, its shank along +X, its point on the side of +Y.
type HookShape struct {
	Solid    geom.Solid
	Diameter float64  // of the wire
	EyeOver  float64  // diameter of the eye's ring, over the outside
	Across   bool     // the ring stands across
	Shank    geom.Vec // where its axis begins
	End      geom.Vec // of the axis: the point
}

// HookShape is the hook of a cavity, by its index; false for a cavity without one.
func (m *Mold) HookShape(cavity int) (HookShape, bool) {
	v := m.Spec.Cavities[cavity]
	if v.Hook == nil {
		return HookShape{}, false
	}
	w := v.wires(m.Cavities[cavity].Scale)[0]
	shank := w.axis.longest()
	way := shank.along(0)
	turn := geom.Rotate(geom.Vec{Z: 1}, -math.Atan2(way.Y, way.X))
	end := turn.Point(w.axis.pieces[len(w.axis.pieces)-1].to)
	if end.Y < turn.Point(shank.from).Y { // seen from the other side
		turn = turn.Then(geom.Rotate(geom.Vec{X: 1}, math.Pi))
	}
	return HookShape{w.solid(turn), w.axis.wire, 2*w.axis.ring + w.axis.wire, w.axis.across, turn.Point(shank.from),
		turn.Point(w.axis.pieces[len(w.axis.pieces)-1].to)}, true
}
