package picture

import (
	"context"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// The normal for shading is at each sample the mean of those at the triangle's corners,
// by their nearness, as the edge functions have it.
func TestFaceNormalsChangeEvenly(t *testing.T) {
	r := &raster{spots: []spot{{x: 1000, y: 5000}, {x: 9000, y: 5500}, {x: 3000, y: 900}}}
	corners := [3]vec3{{0.2, 0, 0.9}, {0, 0.3, 0.9}, {-0.1, -0.2, 1}}
	for i := range corners {
		corners[i] = corners[i].unit()
	}
	f := r.face([3]int32{0, 1, 2}, vec3{z: 1}, corners)
	a, b, c := r.spots[0], r.spots[1], r.spots[2]
	const half = latticeStep / 2
	for _, s := range [][2]int{{10, 15}, {20, 18}, {14, 8}} {
		p := spot{x: int64(s[0])*latticeStep + half, y: int64(s[1])*latticeStep + half}
		area := float32(doubleArea(a, b, c))
		u, v := float32(doubleArea(p, b, c))/area, float32(doubleArea(a, p, c))/area
		want := corners[0].mul(u).add(corners[1].mul(v)).add(corners[2].mul(1 - u - v)).unit()
		if got := f.normal(s[0], s[1]); got.sub(want).norm() > 1e-5 {
			t.Errorf("at %v the normal is %v, want %v", s, got, want)
		}
	}
}

// What is smaller than a sample has one normal, the mean of its corners'.
func TestFaceOfATinyTriangleIsFlat(t *testing.T) {
	r := &raster{spots: []spot{{x: 0, y: 0}, {x: 90000, y: 1}, {x: 90000, y: 0}}}
	n := [3]vec3{vec3{0.2, 0, 0.9}.unit(), vec3{0, 0.3, 0.9}.unit(), {z: 1}}
	if doubleArea(r.spots[0], r.spots[1], r.spots[2]) <= 0 {
		r.spots[1], r.spots[2] = r.spots[2], r.spots[1]
	}
	r.spots[0].x = 89000
	if f := r.face([3]int32{0, 1, 2}, vec3{z: 1}, n); f.normal(0, 0) != f.normal(300, 1) {
		t.Errorf("the normal of a sliver goes from %v to %v", f.normal(0, 0), f.normal(300, 1))
	}
}

// Between calm triangles there is no crease, and of a block none is calm.
func TestCalmTrianglesHaveNoLines(t *testing.T) {
	block := geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -3, Y: -3, Z: 8}, Max: geom.Vec{X: 3, Y: 3, Z: 14}})
	for _, crease := range []float64{0.4, 0.5, 0.9} {
		scene := sceneOf(Camera{Look: geom.Vec{X: 1, Y: -1, Z: -2}, Up: geom.Vec{Y: 1}, Perspective: 0.4},
			PaintedMesh{wavyBall(64), paintRed, crease, nil}, PaintedMesh{block, paintBlue, crease, nil})
		sh, err := scene.shader(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		calm := 0
		sh.eachPair(func(p *patch, k, l int) {
			f, g := sh.model.faces[p.on[k]], sh.model.faces[p.on[l]]
			if p.on[k] == p.on[l] || !f.calm || !g.calm {
				return
			}
			if calm++; sh.edge(p, k, l) != sh.meeting(p, k, l, f.facing, g.facing) {
				t.Fatalf("crease %g: calm triangles meet with a line of %g", crease, sh.meeting(p, k, l, f.facing, g.facing))
			}
			if f.mesh == 1 || g.mesh == 1 {
				t.Fatal("a block's side is calm")
			}
		})
		if (calm > 0) != (crease <= calmCrease) {
			t.Errorf("crease %g: %d calm neighbours", crease, calm)
		}
	}
}
