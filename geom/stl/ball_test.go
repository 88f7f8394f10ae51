package stl

import (
	"math"

	"halfpour/geom"
)

// ball returns a closed mesh of 2·lon·(lat-1) triangles.
func ball(r float64, lon, lat int) *geom.TriMesh {
	m := &geom.TriMesh{Vertices: []geom.Vec{{Z: r}}}
	for i := 1; i < lat; i++ {
		s, c := math.Sincos(math.Pi * float64(i) / float64(lat))
		for j := range lon {
			sj, cj := math.Sincos(2 * math.Pi * float64(j) / float64(lon))
			m.Vertices = append(m.Vertices, geom.Vec{X: r * s * cj, Y: r * s * sj, Z: r * c})
		}
	}
	m.Vertices = append(m.Vertices, geom.Vec{Z: -r})
	at := func(i, j int) int32 { return int32(1 + (i-1)*lon + j%lon) }
	last := int32(len(m.Vertices) - 1)
	for j := range lon {
		m.Triangles = append(m.Triangles, [3]int32{0, at(1, j), at(1, j+1)})
		for i := 1; i < lat-1; i++ {
			m.Triangles = append(m.Triangles,
				[3]int32{at(i, j), at(i+1, j), at(i+1, j+1)},
				[3]int32{at(i, j), at(i+1, j+1), at(i, j+1)})
		}
		m.Triangles = append(m.Triangles, [3]int32{at(lat-1, j), last, at(lat-1, j+1)})
	}
	return m
}
