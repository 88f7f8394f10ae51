package moldbox

import (
	"fmt"
	"math"
	"strconv"

	"halfpour/geom"
)

// Pose says which way a head file faces, in the file's coordinates: the
// directions of the nose and of the back (dorsal side), of any length, and where
// the parting plane is. The plane holds both directions; of Back only what is
// square to Nose counts.
type Pose struct {
	Nose, Back geom.Vec

	// Parting is the plane's distance from the file's origin, mm, along Across.
	Parting float64
}

// Left returns the direction of the left flank, a unit vector: zero for a pose
// that Validate refuses.
func (p Pose) Left() geom.Vec {
	b, _ := p.axes()
	return b.left
}

// Across returns the unit vector square to the parting plane that counts as the
// file does: of it and its opposite the one whose greatest component is positive.
// Where it is an axis of the file, Parting is the coordinate on that axis.
func (p Pose) Across() geom.Vec {
	left := p.Left()
	greatest := 0.0
	for _, x := range []float64{left.X, left.Y, left.Z} {
		if math.Abs(x) > math.Abs(greatest)+1e-6 { // of near equals the first
			greatest = x
		}
	}
	if greatest < 0 {
		return left.Neg()
	}
	return left
}

// leastApart is how far nose and back may be from one line, as a sine: with less
// the plane that holds both is not well known.
const leastApart = 0.5

// bearings holds the directions of the mold's axes in the head's file.
type bearings struct{ tail, back, left geom.Vec }

// axes returns the directions of a pose as unit vectors at right angles. The
// error's Field is the pose's own ("Back").
func (p Pose) axes() (bearings, *SpecError) {
	for _, d := range []struct {
		name string
		v    geom.Vec
	}{{"Nose", p.Nose}, {"Back", p.Back}} {
		if n := d.v.Norm(); !(n > 0) || math.IsInf(n, 0) {
			return bearings{}, broken(d.name, "must be a direction", `write an axis such as "+x", or [x, y, z]`)
		}
	}
	nose, back := p.Nose.Unit(), p.Back.Unit()
	left := back.Cross(nose)
	if left.Norm() < leastApart {
		return bearings{}, broken("Back", fmt.Sprintf("must be at right angles to nose, got %s with nose %s",
			DirectionText(p.Back), DirectionText(p.Nose)), "choose another axis")
	}
	left = left.Unit()
	return bearings{nose.Neg(), nose.Cross(left), left}, nil
}

// onParting moves a point of the file along the left axis into the parting
// plane, and says how far it was off.
func (p Pose) onParting(v geom.Vec) (geom.Vec, float64) {
	across := p.Across()
	off := v.Dot(across) - p.Parting
	return v.Sub(across.Mul(off)), off
}

// opposite is the pose with its back turned round.
func (p Pose) opposite() Pose {
	p.Back = p.Back.Neg()
	return p
}

// DirectionText writes a direction as a person does: +x for an axis of the
// file, else [0.9925, 0.1219, 0], to four digits behind the point.
func DirectionText(v geom.Vec) string {
	u := v.Unit()
	xyz := []float64{u.X, u.Y, u.Z}
	for i, x := range xyz {
		if math.Abs(x) > 1-1e-9 {
			return map[bool]string{true: "+", false: "-"}[x > 0] + "xyz"[i:i+1]
		}
	}
	text := "["
	for i, x := range xyz {
		if i > 0 {
			text += ", "
		}
		text += strconv.FormatFloat(math.Round(x*1e4)/1e4+0, 'f', -1, 64)
	}
	return text + "]"
}
