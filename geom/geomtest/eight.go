package geomtest

import (
	"math"

	"halfpour/geom"
)

// FigureEight is one shell that cuts through itself: a tube of radius r along a
// figure of eight (Gerono's lemniscate) in the plane z = 0, 2·a mm long, whose
// ways cross at the origin at a right angle.
func FigureEight(a, r float64, n int) *geom.TriMesh {
	const sides = 10
	m := &geom.TriMesh{}
	for i := range n {
		t := 2 * math.Pi * float64(i) / float64(n)
		at := geom.Vec{X: a * math.Cos(t), Y: a / 2 * math.Sin(2*t)}
		out := geom.Vec{X: a * math.Cos(2*t), Y: a * math.Sin(t)}.Unit() // across the way
		for j := range sides {
			sin, cos := math.Sincos(2 * math.Pi * float64(j) / sides)
			m.Vertices = append(m.Vertices, at.Add(out.Mul(r*cos)).Add(geom.Vec{Z: r * sin}))
		}
	}
	corner := func(i, j int) int32 { return int32(i%n*sides + j%sides) }
	for i := range n {
		for j := range sides {
			a, b, c, d := corner(i, j), corner(i+1, j), corner(i+1, j+1), corner(i, j+1)
			m.Triangles = append(m.Triangles, [3]int32{a, b, c}, [3]int32{a, c, d})
		}
	}
	return m
}
