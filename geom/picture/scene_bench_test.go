package picture

import (
	"context"
	"image/color"
	"math"
	"testing"

	"halfpour/geom"
)

// BenchmarkRender draws a wavy ball at the size of a page's picture.
func BenchmarkRender(b *testing.B) {
	for _, c := range []struct {
		name string
		n    int
	}{{"8k", 64}, {"131k", 256}, {"524k", 512}} {
		m := wavyBall(c.n)
		scene := Scene{
			Meshes: []PaintedMesh{{m, color.RGBA{180, 188, 198, 255}, 0.5, nil}},
			Camera: Camera{Look: geom.Vec{X: 1, Y: -1, Z: -2}, Up: geom.Vec{X: 0, Y: 1, Z: 0}, Perspective: 0.3},
			Width:  1600, Height: 1200,
		}
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Render(context.Background(), scene); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// wavyBall is a closed ball of 2n² triangles with a rippled surface.
func wavyBall(n int) *geom.TriMesh {
	m := &geom.TriMesh{Vertices: []geom.Vec{{X: 0, Y: 0, Z: -10}, {X: 0, Y: 0, Z: 10}}}
	ring := func(i, j int) int32 { return int32(2 + (i-1)*2*n + j%(2*n)) }
	rows := n / 2
	for i := 1; i < rows; i++ {
		for j := range 2 * n {
			st, ct := math.Sincos(math.Pi * float64(i) / float64(rows))
			sp, cp := math.Sincos(math.Pi * float64(j) / float64(n))
			r := 10 + 0.2*math.Sin(12*math.Pi*float64(i)/float64(rows))*math.Sin(16*math.Pi*float64(j)/float64(n))
			m.Vertices = append(m.Vertices, geom.Vec{X: r * st * cp, Y: r * st * sp, Z: -r * ct})
		}
	}
	for j := range 2 * n {
		m.Triangles = append(m.Triangles, [3]int32{0, ring(1, j+1), ring(1, j)}, [3]int32{1, ring(rows-1, j), ring(rows-1, j+1)})
		for i := 1; i < rows-1; i++ {
			m.Triangles = append(m.Triangles,
				[3]int32{ring(i, j), ring(i, j+1), ring(i+1, j+1)},
				[3]int32{ring(i, j), ring(i+1, j+1), ring(i+1, j)})
		}
	}
	return m
}
