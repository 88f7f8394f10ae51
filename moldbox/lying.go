package moldbox

import "halfpour/geom"

// Lying is how a head, its wires and its gate lie to each other, whether or not a
// mold can be made of them: in the hook's plane, X towards the tail, Y to the back,
// Z to the left flank, the hook's eye at the origin. Lengths are mm.
type Lying struct {
	FromFile geom.Transform // of the head's file, which scales it
	Wires    []geom.Solid   // the hook first, if there is one
	Eye      geom.Vec       // as given: the mold moves it into the plane, z = 0
	Gate     *geom.Vec      // as asked; nil when it is to be found
}

// Lie lays out a cavity of a valid Spec with its head at a scale; 0 is 1.
func (v Cavity) Lie(scale float64) Lying {
	if scale == 0 {
		scale = 1
	}
	l := Lying{FromFile: v.toHook(scale)}
	l.Eye = v.toEye().Point(v.Eye)
	for _, w := range v.wires(scale) {
		l.Wires = append(l.Wires, w.solid(geom.Identity()))
	}
	if v.Gate != nil {
		at := l.FromFile.Point(*v.Gate)
		l.Gate = &at
	}
	return l
}
