package moldbox

import (
	"fmt"
	"math"

	"halfpour/geom"
)

// vec returns the unit vector of an axis, false when it is none of the six.
func (a Axis) vec() (geom.Vec, bool) {
	switch a {
	case PlusX:
		return geom.Vec{X: 1}, true
	case MinusX:
		return geom.Vec{X: -1}, true
	case PlusY:
		return geom.Vec{Y: 1}, true
	case MinusY:
		return geom.Vec{Y: -1}, true
	case PlusZ:
		return geom.Vec{Z: 1}, true
	case MinusZ:
		return geom.Vec{Z: -1}, true
	}
	return geom.Vec{}, false
}

// axisOf is the reverse of vec for a unit axis vector.
func axisOf(v geom.Vec) Axis {
	for _, a := range []Axis{PlusX, MinusX, PlusY, MinusY, PlusZ, MinusZ} {
		if w, _ := a.vec(); w.Dot(v) > 0.5 {
			return a
		}
	}
	return ""
}

// bearings holds the directions of the mold's axes in the head's file.
type bearings struct{ tail, back, left geom.Vec }

// axes returns the directions of a pose. Nose, back and left must be at right
// angles and not mirrored: tail x back = left. The error's Field is the
// pose's own ("Left").
func (p Pose) axes() (bearings, *SpecError) {
	var f bearings
	for _, d := range []struct {
		name string
		axis Axis
		to   *geom.Vec
	}{{"Nose", p.Nose, &f.tail}, {"Back", p.Back, &f.back}, {"Left", p.Left, &f.left}} {
		v, ok := d.axis.vec()
		if !ok {
			return f, broken(d.name, fmt.Sprintf("must be an axis with its sign, got %q", string(d.axis)),
				"write +x, -x, +y, -y, +z or -z")
		}
		*d.to = v
	}
	nose := f.tail
	f.tail = nose.Neg()
	if math.Abs(nose.Dot(f.back)) > 0.5 {
		return f, broken("Back", fmt.Sprintf("must be at right angles to nose, got %q with nose %q",
			string(p.Back), string(p.Nose)), "choose another axis")
	}
	if want := f.tail.Cross(f.back); want.Dot(f.left) < 0.5 {
		return f, broken("Left", fmt.Sprintf("must be the left flank, got %q", string(p.Left)),
			fmt.Sprintf("with nose %s and back %s it is %s", string(p.Nose), string(p.Back), string(axisOf(want))))
	}
	return f, nil
}

// onParting moves a point of the file along the left axis into the parting
// plane, and says how far it was off.
func (p Pose) onParting(v geom.Vec) (geom.Vec, float64) {
	left, _ := p.Left.vec()
	off := v.Dot(left) - p.Parting
	return v.Sub(left.Mul(off)), off
}
