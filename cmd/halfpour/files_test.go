package main

import (
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/pourplan"
	"halfpour/pourplan/making"
)

// Both frames are laid out on the bed as it allows, clear of each other.
func TestPlate(t *testing.T) {
	frame := func(x, y float64) *geom.TriMesh {
		return &geom.TriMesh{Vertices: []geom.Vec{{X: -x / 2, Y: -y / 2}, {X: x / 2, Y: y / 2, Z: 20}, {}}, Triangles: [][3]int32{{0, 1, 2}}}
	}
	mold := &moldbox.Mold{Left: moldbox.Half{Name: "left"}, Right: moldbox.Half{Name: "right"}}
	for _, c := range []struct {
		name         string
		x, y         float64
		wantX, wantY float64 // where the right frame's corner goes
	}{
		{"beside each other", 45, 80, 50, 0},
		{"one behind the other", 160, 82, 0, 87},
		{"too large for one plate", 200, 180, 205, 0},
	} {
		job := pourplan.Default()
		p := &product{Mold: &making.Mold{Mold: pourplan.Mold{Job: job}, Frames: [2]*geom.TriMesh{frame(c.x, c.y), frame(c.x, c.y)}}}
		p.Solids = mold
		objects := p.plate().Objects
		got := objects[1].Offset.Add(objects[1].Mesh.BoundingBox().Min)
		if got != (geom.Vec{X: c.wantX, Y: c.wantY}) {
			t.Errorf("%s: the right frame is at %v, want (%g, %g, 0)", c.name, got, c.wantX, c.wantY)
		}
	}
}
