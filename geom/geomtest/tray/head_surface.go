package main

import (
	"math"

	"halfpour/geom"
)

// The head, in mm: an ellipsoid with scales on its rear half, a ball-shaped
// socket on either side and a collar. The nose is at +X. Invented.
const (
	headLength, headWidth, headHeight = 12.0, 6.0, 5.0 // half axes along x, y, z
	collarRadius                      = 2.5
	collarEnd                         = -17.0
	collarFillet                      = 0.8 // width of the blend into the body

	scalePitch  = 1.3 // from row to row
	scalesRound = 20  // in a row
	scaleRise   = 0.22
	scaleFront  = 0.4 // where the scales run out, ahead
	scaleRear   = -9.9

	socketX      = 7.0
	socketRadius = 2.0
	socketDepth  = 1.0
)

// surface returns the head's surface at x and an angle about its axis, from +Y to
// +Z. It is a distance from the axis for every x and angle, so that a mesh of
// rings cannot meet itself.
func surface(x, angle float64) geom.Vec {
	r := bodyRadius(x, angle) + scaleRise*scales(x, angle)
	s, c := math.Sincos(angle)
	r = carve(x, s, r)
	return geom.Vec{X: x, Y: r * c, Z: r * s}
}

// bodyRadius is the radius of the smooth body with its collar.
func bodyRadius(x, angle float64) float64 {
	s, c := math.Sincos(angle)
	section := math.Sqrt(math.Max(0, 1-x*x/(headLength*headLength)))
	body := section / math.Hypot(c/headWidth, s/headHeight)
	if x > 0 {
		return body
	}
	blend := math.Max(0, 1-math.Abs(body-collarRadius)/collarFillet)
	return math.Max(body, collarRadius) + collarFillet/4*blend*blend
}

// scales returns the height of the scales, 0 to 1: tiles that rise towards the
// tail and overlap the next row, each row half a scale on from the last.
func scales(x, angle float64) float64 {
	const fade = 1.0 // mm over which the scales begin and end
	field := smoothstep(scaleRear, scaleRear+fade, x) * (1 - smoothstep(scaleFront-fade, scaleFront, x))
	if field == 0 {
		return 0
	}
	highest := 0.0
	nearest := math.Floor(x / scalePitch)
	for row := nearest - 2; row <= nearest+2; row++ {
		ahead := x/scalePitch - row // of the scale's middle, in pitches
		turn := angle*scalesRound/(2*math.Pi) + math.Mod(row, 2)/2
		aside := turn - math.Round(turn)
		highest = math.Max(highest, scale(ahead, aside))
	}
	return field * highest
}

// scale is the height of one scale at a place in pitches from its middle.
func scale(ahead, aside float64) float64 {
	const long, wide, rim = 1.5, 0.62, 0.86 // half axes, and where the edge begins to fall
	rise := 0.5 - ahead/(2*long)
	return (1 - smoothstep(rim, 1, math.Hypot(ahead/long, aside/wide))) * rise * rise
}

// socket is the middle of the ball that hollows out the socket on the side +Z.
var socket = func() geom.Vec {
	z := headHeight * math.Sqrt(1-socketX*socketX/(headLength*headLength))
	out := geom.Vec{X: socketX / (headLength * headLength), Z: z / (headHeight * headHeight)}.Unit()
	return geom.Vec{X: socketX, Z: z}.Add(out.Mul(socketRadius - socketDepth))
}()

// inSocket tells whether a socket hollows out the surface at x and an angle in
// turns.
func inSocket(x, turn float64) bool {
	s := math.Sin(2 * math.Pi * turn)
	r := bodyRadius(x, 2*math.Pi*turn)
	return carve(x, s, r) < r
}

// carve returns the distance r from the axis, or where a ray from the axis
// meets a socket if that is nearer; s is the sine of its angle.
func carve(x, s, r float64) float64 {
	along := math.Abs(s) * socket.Z
	square := along*along - socket.Z*socket.Z - (x-socket.X)*(x-socket.X) + socketRadius*socketRadius
	if square <= 0 {
		return r
	}
	if in := along - math.Sqrt(square); in > 0 {
		return math.Min(r, in)
	}
	return r
}

func smoothstep(a, b, x float64) float64 {
	t := math.Min(1, math.Max(0, (x-a)/(b-a)))
	return t * t * (3 - 2*t)
}
