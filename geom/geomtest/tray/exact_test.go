package main

import (
	"math"

	"halfpour/geom"
)

// exactVolumes returns the volumes of tray and rubber in closed form, mm³, for
// a head whose collar takes in the start of its cone, with the facets taken as
// they are.
func exactVolumes(head *geom.TriMesh) (tray, rubber float64) {
	// The part of the cone between the collar's end and the inside of the wall.
	widen := (coneWide - coneNarrow) / (coneEnd - coneStart)
	a, b := coneNarrow+widen*(collarEnd-coneStart), coneNarrow+widen*(-insideY-coneStart)
	cone := math.Pi / 6 * (insideY + collarEnd) * (a*a + a*b + b*b)
	halfBall := func(r float64) float64 { return 2 * math.Pi / 3 * r * r * r }
	standing := headCount*(volumeAbove(head)+cone) + 2*halfBall(keyRadius) - 2*halfBall(keyRecessRadius)

	inside := 4 * insideX * insideY
	outside := 4 * (insideX + wall) * (insideY + wall)
	tray = outside*(floor+trayHeight) - inside*trayHeight + standing
	return tray, inside*fillLevel - standing
}

// volumeAbove returns the volume of the mesh over z = 0: the flow of (0, 0, z)
// out of its facets, cut off there.
func volumeAbove(m *geom.TriMesh) float64 {
	sum := 0.0
	for t := range m.Triangles {
		a, b, c := m.Corners(t)
		p := cutAbove([]geom.Vec{a, b, c})
		for i := 2; i < len(p); i++ {
			u, v := p[i-1].Sub(p[0]), p[i].Sub(p[0])
			sum += (u.X*v.Y - u.Y*v.X) / 2 * (p[0].Z + p[i-1].Z + p[i].Z) / 3
		}
	}
	return sum
}

// cutAbove returns the part of a convex polygon over z = 0.
func cutAbove(p []geom.Vec) (above []geom.Vec) {
	for i, v := range p {
		next := p[(i+1)%len(p)]
		if v.Z >= 0 {
			above = append(above, v)
		}
		if v.Z >= 0 != (next.Z >= 0) {
			above = append(above, v.Add(next.Sub(v).Mul(v.Z/(v.Z-next.Z))))
		}
	}
	return above
}
