package main

import (
	"math"

	"halfpour/geom"
)

// The tray, in mm: a floor with its top at z = 0 inside walls, on it half
// heads in a row, each with half a cone from its collar to the edge, two half
// balls as keys and two ball-shaped recesses. Rubber is poured to fillLevel.
const (
	insideX, insideY = 70.0, 25.0 // half the inside
	wall, floor      = 3.0, 3.0
	trayHeight       = 18.0 // above the floor
	fillLevel        = 15.0

	headCount = 5
	headPitch = 26.0

	coneStart, coneEnd   = -16.0, -26.0 // y
	coneNarrow, coneWide = 1.5, 4.0     // radii

	keyX, keyY                 = 64.0, 19.0
	keyRadius, keyRecessRadius = 3.0, 2.5
)

// seats returns where the heads stand: the nose towards +Y.
func seats() []geom.Transform {
	var s []geom.Transform
	for i := range headCount {
		x := headPitch * (float64(i) - (headCount-1)/2.0)
		s = append(s, geom.Rotate(geom.Vec{Z: 1}, math.Pi/2).Then(geom.Move(geom.Vec{X: x})))
	}
	return s
}

// tray returns the tray of a head and the rubber that is cast in it.
func tray(head geom.Solid) (tray, rubber geom.Solid) {
	v := func(x, y, z float64) geom.Vec { return geom.Vec{X: x, Y: y, Z: z} }
	block := func(x, y, lo, hi float64) geom.Solid {
		return geom.Block(geom.Box{Min: v(-x, -y, lo), Max: v(x, y, hi)})
	}
	// What stands on the floor goes a little way into it, so that the two are
	// one piece whatever rounding does.
	const sunk = 0.2
	above := geom.HalfSpace(v(0, 0, -1), sunk)
	parts := []geom.Solid{
		block(insideX+wall, insideY+wall, -floor, 0),
		geom.Subtract(block(insideX+wall, insideY+wall, -floor, trayHeight), block(insideX, insideY, -floor/2, trayHeight+1)),
	}
	for _, seat := range seats() {
		x := seat.Point(geom.Vec{}).X
		parts = append(parts,
			geom.Intersect(seat.Solid(head), above),
			geom.Intersect(geom.Frustum(v(x, coneStart, 0), v(x, coneEnd, 0), coneNarrow, coneWide), above))
	}
	for _, x := range []float64{-keyX, keyX} {
		parts = append(parts, geom.Intersect(geom.Ball(v(x, keyY, 0), keyRadius), above))
	}
	tray = geom.Subtract(geom.Union(parts...),
		geom.Ball(v(keyX, -keyY, 0), keyRecessRadius), geom.Ball(v(-keyX, -keyY, 0), keyRecessRadius))
	// A block that ends within walls and floor: the tray alone shapes what it
	// leaves of it.
	return tray, geom.Subtract(block(insideX+wall/3, insideY+wall/3, -floor+0.1, fillLevel), tray)
}
