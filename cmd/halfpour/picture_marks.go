package main

import (
	"context"
	"image/color"
	"math"

	"halfpour/geom"
	"halfpour/geom/picture"
	"halfpour/moldbox"
	"halfpour/pourplan"
)

// Findings are shown on a picture as balls on the tip of a pin, so that they
// stand out of what hides their place, with the letters that the pour sheet has
// for them.
const (
	markBall = 2.0 // radius, mm
	markPin  = 0.3
	markOver = 3.0 // of a ball's middle over all that hides it
)

var markColours = map[moldbox.Severity]color.RGBA{
	moldbox.Stop: {R: 0xf0, G: 0x60, B: 0x58, A: 0xff},
	moldbox.Warn: {R: 0xf0, G: 0xb4, B: 0x30, A: 0xff},
}

// addMarks adds the marks of a half's findings to its picture. inPicture takes
// the half's print coordinates to the picture's, where z is up and nothing of
// the half is over top.
func (p *product) addMarks(ctx context.Context, scene *picture.Scene, half moldbox.Half, inPicture geom.Transform, top float64) error {
	for _, m := range pourplan.FindingMarks(p.Solids.Findings, half) {
		at := inPicture.Point(half.ToPrint(m.At))
		tip := geom.Vec{X: at.X, Y: at.Y, Z: math.Max(at.Z, top) + markOver}
		mark := geom.Union(geom.Ball(tip, markBall), geom.Capsule(at, tip, markPin))
		mesh, err := geom.Mesh(ctx, mark, geom.MeshOptions{Tolerance: 0.1})
		if err != nil {
			return err
		}
		scene.Meshes = append(scene.Meshes, picture.PaintedMesh{Mesh: mesh, Colour: markColours[m.Severity], Crease: pictureCrease})
		scene.Labels = append(scene.Labels, picture.Label{Text: m.Letter, At: tip})
	}
	if len(scene.Labels) > 0 {
		scene.Caption += "; letters: findings on the pour sheet"
	}
	return nil
}
