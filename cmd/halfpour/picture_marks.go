package main

import (
	"context"
	"image/color"
	"math"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/pourplan"
)

// Findings are shown on a picture as balls on the tip of a pin, so that they
// stand out of what hides their place.
const (
	markBall = 1.6 // radius, mm
	markPin  = 0.3
)

var markColours = map[moldbox.Severity]color.RGBA{
	moldbox.Stop: {R: 0xd0, G: 0x20, B: 0x20, A: 0xff},
	moldbox.Warn: {R: 0xe8, G: 0xa0, B: 0x10, A: 0xff},
}

// findingMeshes are the marks of a half's findings, in print coordinates.
func findingMeshes(ctx context.Context, fs []moldbox.Finding, half moldbox.Half) ([]geom.PaintedMesh, error) {
	var out []geom.PaintedMesh
	for _, m := range pourplan.FindingMarks(fs, half) {
		at := half.ToPrint(m.At)
		top := at
		top.Z = math.Max(at.Z, half.FillHeight) + 2
		mark := geom.Union(geom.Ball(top, markBall), geom.Capsule(at, top, markPin))
		mesh, err := geom.Mesh(ctx, mark, geom.MeshOptions{Tolerance: 0.1})
		if err != nil {
			return nil, err
		}
		out = append(out, geom.PaintedMesh{Mesh: mesh, Colour: markColours[m.Severity]})
	}
	return out, nil
}
