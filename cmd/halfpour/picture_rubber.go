package main

import (
	"context"
	"io"

	"halfpour/geom"
	"halfpour/geom/picture"
	"halfpour/pourplan"
)

// faceUp turns a half over, from its frame onto the table.
var faceUp = geom.FromAxes(geom.Vec{X: -1}, geom.Vec{Y: 1}, geom.Vec{Z: -1})

// writeRubberPicture draws a rubber half out of its frame, the parting face up.
func (p *product) writeRubberPicture(ctx context.Context, w io.Writer, i int) error {
	half := p.Solids.Halves()[i]
	rubber := p.Rubber[i].Transform(faceUp.Point, false)
	scene := picture.Scene{
		Meshes:  []picture.PaintedMesh{{Mesh: rubber, Colour: pourplan.RubberColours[i], Crease: pictureCrease}},
		Camera:  lyingCamera,
		Floor:   lyingOn(-half.FillHeight),
		Caption: p.caption(half.Name+" rubber half", half.Inside),
	}
	if err := p.addMarks(ctx, &scene, half, faceUp, 0); err != nil {
		return err
	}
	return p.writePicture(ctx, w, scene)
}
