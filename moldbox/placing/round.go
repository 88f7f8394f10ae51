package placing

import (
	"math"

	"halfpour/geom"
)

// alongAxis is how far a direction may be off a file axis to be taken for it,
// radians: a fit to a mesh comes no nearer.
const alongAxis = 0.5 * math.Pi / 180

// round is a direction to four digits, a file axis where it is near one.
func round(v geom.Vec) geom.Vec {
	for _, a := range []geom.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		if c := v.Dot(a); math.Abs(c) > math.Cos(alongAxis) {
			return a.Mul(math.Copysign(1, c))
		}
	}
	r := func(x float64) float64 { return math.Round(x*1e4)/1e4 + 0 }
	return geom.Vec{X: r(v.X), Y: r(v.Y), Z: r(v.Z)}
}

// Step is to what lengths in a file are rounded, in its unit of mm: a power of
// ten near a hundredth of a mm.
func Step(mm float64) float64 { return math.Pow(10, math.Floor(math.Log10(0.03/mm))) }

// roundLength rounds a length in mm to the step of the file's unit.
func roundLength(x, mm float64) float64 {
	step := Step(mm) * mm
	return math.Round(x/step)*step + 0
}

func roundPoint(v geom.Vec, mm float64) geom.Vec {
	return geom.Vec{X: roundLength(v.X, mm), Y: roundLength(v.Y, mm), Z: roundLength(v.Z, mm)}
}
