package column

import (
	"context"
	"math"
	"testing"
	"time"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// coneWithCap is 20 mm high and ends in a cap of 64 triangles of the radius r.
func coneWithCap(r float64) *geom.TriMesh {
	const around = 64
	m := &geom.TriMesh{Vertices: []geom.Vec{{}, {Z: 20}}}
	for i := range int32(around) {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / around)
		m.Vertices = append(m.Vertices, geom.Vec{X: 8 * cos, Y: 8 * sin}, geom.Vec{X: r * cos, Y: r * sin, Z: 20})
		a, b := 2+2*i, 2+2*((i+1)%around)
		m.Triangles = append(m.Triangles, [3]int32{0, b, a}, [3]int32{1, a + 1, b + 1}, [3]int32{a, b, b + 1}, [3]int32{a, b + 1, a + 1})
	}
	return m
}

// What looks along lines ends within its context whatever the coordinates.
func TestExtremeSolids(t *testing.T) {
	const patience, mercy = 10 * time.Millisecond, 20 * time.Second // a machine may have better things to do
	for _, x := range []float64{5e-324, 1e-160, 1e-38, 1e-3, 1, geom.MostCoordinate, 1e-300, 1e-45, 1e-30, 1e-9, 1e6}[:geomtest.Rounds(6, 11)] {
		flat, long := coneWithCap(1), coneWithCap(1)
		for i := range flat.Vertices {
			flat.Vertices[i].Z *= x
			long.Vertices[i].X *= x
		}
		corner := coneWithCap(1)
		corner.Vertices[2].X = x
		for _, m := range []*geom.TriMesh{coneWithCap(x), flat, long, corner} {
			s, err := geom.NewMeshSolid(m)
			if err != nil {
				continue
			}
			ctx, cancel := context.WithTimeout(context.Background(), patience)
			start := time.Now()
			for _, up := range []geom.Vec{{Z: 1}, {X: 1, Y: 0.3, Z: 0.2}} {
				if c, err := Cut(ctx, s, Options{Up: up, Step: 0.5}); err == nil {
					c.ThinPlaces(s, 1)
				}
				_, _ = findUndercut(ctx, s, geom.Vec{}, up, false, 0.5)
				_, _ = Flood(ctx, s, geom.Vec{Z: 10}, FloodOptions{Gap: 0.1, Up: up, Step: 0.5})
				_, _ = Pockets(ctx, s, Pour{Source: geom.Vec{Z: 10}, Up: up, Step: 0.5})
			}
			cancel()
			if took := time.Since(start); took > mercy {
				t.Errorf("%g: took %v, the context ended after %v", x, took, patience)
			}
		}
	}
}
