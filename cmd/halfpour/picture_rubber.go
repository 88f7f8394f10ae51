package main

import (
	"context"
	"io"

	"halfpour/geom"
	"halfpour/geom/picture"
)

// rubberTolerance is how true a rubber half is drawn where its frame's mesh
// cannot stand for it, mm.
const rubberTolerance = 0.1

// makeRubber takes the skins of the cured rubber halves, as they lie in their
// frames.
func (p *product) makeRubber(ctx context.Context) error {
	for i, half := range p.halves() {
		var err error
		if p.mold.Spec.Finish.SealCoat > 0 {
			p.rubber[i], err = geom.Mesh(ctx, half.Rubber(), geom.MeshOptions{Tolerance: rubberTolerance})
		} else {
			p.rubber[i], err = half.RubberMesh(p.frames[i])
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// faceUp turns a half over, from its frame onto the table.
var faceUp = geom.FromAxes(geom.Vec{X: -1}, geom.Vec{Y: 1}, geom.Vec{Z: -1})

// writeRubberPicture draws a rubber half out of its frame, the parting face up.
func (p *product) writeRubberPicture(ctx context.Context, w io.Writer, i int) error {
	half := p.halves()[i]
	rubber := p.rubber[i].Transform(faceUp.Point, false)
	scene := picture.Scene{
		Meshes:  []picture.PaintedMesh{{Mesh: rubber, Colour: rubberColours[i], Crease: pictureCrease}},
		Camera:  lyingCamera,
		Floor:   lyingOn(-half.FillHeight),
		Caption: p.caption(half.Name+" rubber half", half.Inside),
	}
	if err := p.addMarks(ctx, &scene, half, faceUp, 0); err != nil {
		return err
	}
	return p.writePicture(ctx, w, scene)
}
