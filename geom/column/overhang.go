package column

import (
	"math"

	"halfpour/geom"
)

// Overhang is the part of a body's surface that hangs over more than a limit when
// the body is built up layer by layer from a plane.
type Overhang struct {
	Steepest float64  // angle from upright, radians: 0 a wall, π/2 a level roof
	At       geom.Vec // where it is steepest
	Area     float64  // of all that is over the limit, as seen from below, mm²
}

// Overhang returns what hangs over by more than limit radians from upright, of
// the part of s that d names and along the lines of the grid that was cut from it; the
// zero Overhang when nothing does. What lies on the plane itself does not hang.
func (c *Grid) Overhang(s geom.Solid, d Draw, limit float64) Overhang {
	up := c.back.Direction(geom.Vec{Z: 1})
	if d.Down {
		up = up.Neg()
	}
	var out Overhang
	room := make([]Stretch, 0, 16)
	for j := range c.NY {
		for i := range c.NX {
			floor := 0.0
			for _, x := range d.side(c.Line(i, j), room) {
				if x.Lo-floor > leastGap {
					at := c.At(i, j, d.height(x.Lo))
					_, n := geom.Gradient(s, at)
					if angle := math.Asin(max(-1, min(1, -n.Dot(up)))); angle > limit {
						out.Area += c.Step * c.Step
						if angle > out.Steepest {
							out.Steepest, out.At = angle, at
						}
					}
				}
				floor = x.Hi
			}
		}
	}
	return out
}
