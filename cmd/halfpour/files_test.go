package main

import (
	"testing"

	"halfpour/geom"
	"halfpour/pourplan"
	"halfpour/pourplan/making"
)

// Both frames lie where the plan has them, on z = 0; what is printed on its own lies on
// another bed.
func TestPlate(t *testing.T) {
	frame := func(x, y float64) *geom.TriMesh {
		return &geom.TriMesh{Vertices: []geom.Vec{{X: -x / 2, Y: -y / 2, Z: -3}, {X: x / 2, Y: y / 2, Z: 17}, {}}, Triangles: [][3]int32{{0, 1, 2}}}
	}
	left := pourplan.BedFrame{Half: "left", AtMM: [2]float64{20, 70}}
	for _, c := range []struct {
		name   string
		prints []pourplan.BedPrint
		want   geom.Box // of the right frame
	}{
		{"beside each other", []pourplan.BedPrint{{Frames: []pourplan.BedFrame{left, {Half: "right", AtMM: [2]float64{112.5, 70}}}}},
			geom.Box{Min: geom.Vec{X: 112.5, Y: 70}, Max: geom.Vec{X: 157.5, Y: 150, Z: 20}}},
		{"turned", []pourplan.BedPrint{{Frames: []pourplan.BedFrame{left, {Half: "right", AtMM: [2]float64{112, 70}, Turned: true}}}},
			geom.Box{Min: geom.Vec{X: 112, Y: 70}, Max: geom.Vec{X: 192, Y: 115, Z: 20}}},
		{"one by one", []pourplan.BedPrint{{Frames: []pourplan.BedFrame{left}}, {Frames: []pourplan.BedFrame{{Half: "right", AtMM: [2]float64{10, 20}}}}},
			geom.Box{Min: geom.Vec{X: 230 + bedsApart, Y: 20}, Max: geom.Vec{X: 275 + bedsApart, Y: 100, Z: 20}}},
	} {
		p := &product{Mold: &making.Mold{Mold: pourplan.Mold{Job: pourplan.Default()}, Frames: [2]*geom.TriMesh{frame(45, 80), frame(45, 80)}}}
		p.Plan = &pourplan.Plan{Print: &pourplan.PrintPlan{Frames: []pourplan.PrintFrame{{Half: "left"}, {Half: "right"}},
			Bed: pourplan.BedPlan{SizeMM: [2]float64{220, 220}, Prints: c.prints}}}
		right := p.plate().Objects[1]
		box := right.Mesh.BoundingBox()
		box.Min, box.Max = box.Min.Add(right.Offset), box.Max.Add(right.Offset)
		if box.Min.Sub(c.want.Min).Norm()+box.Max.Sub(c.want.Max).Norm() > 1e-9 {
			t.Errorf("%s: the right frame fills %v, want %v", c.name, box, c.want)
		}
	}
}
