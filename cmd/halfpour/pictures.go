package main

import (
	"bytes"
	"context"
	"fmt"
	"image/color"
	"image/png"
	"io"
	"math"

	"halfpour/geom"
	"halfpour/geom/picture"
)

const (
	pictureWidth, pictureHeight = 1400, 960
	roughTolerance              = 0.15 // mm: coarser builds are for a look, and have pictures half as wide

	pictureCrease      = 30 * math.Pi / 180
	picturePerspective = 25 * math.Pi / 180
	pictureMargin      = 0.04
)

// Frames have a colour for each half, rubber a paler one of the same, so that
// what belongs together is seen; cut faces are darker.
var (
	frameColours  = [2]color.RGBA{{R: 0x9f, G: 0xb8, B: 0xc8, A: 0xff}, {R: 0xd2, G: 0xb9, B: 0x93, A: 0xff}}
	rubberColours = [2]color.RGBA{{R: 0x9c, G: 0xc4, B: 0xb8, A: 0xff}, {R: 0xbc, G: 0xcc, B: 0xa4, A: 0xff}}
	rubberFaces   = [2]color.RGBA{{R: 0x4c, G: 0x7f, B: 0x74, A: 0xff}, {R: 0x86, G: 0x97, B: 0x68, A: 0xff}}
	metalColour   = color.RGBA{R: 0xc6, G: 0xca, B: 0xd0, A: 0xff}
	wireColour    = color.RGBA{R: 0x6a, G: 0x72, B: 0x7c, A: 0xff}
	paper         = color.RGBA{R: 0xff, G: 0xff, B: 0xff, A: 0xff}
)

// Halves lie with their mouths at the top of the picture, seen from above and a
// little from the near edge, so that the near wall hides nothing.
var lyingCamera = picture.Camera{
	Look: geom.Vec{X: 0.16, Y: 0.42, Z: -1.3}, Up: geom.Vec{Y: 1},
	Perspective: picturePerspective, Margin: pictureMargin,
}

// writePicture draws a scene on white as PNG.
func (p *product) writePicture(ctx context.Context, w io.Writer, scene picture.Scene) error {
	scene.Width, scene.Height, scene.Background = pictureWidth, pictureHeight, paper
	if p.Proof.Left.Tolerance > roughTolerance {
		scene.Width, scene.Height = scene.Width/2, scene.Height/2
	}
	img, err := picture.Render(ctx, scene)
	if err != nil {
		return err
	}
	// The default takes five times as long, a fifth of a picture's time, to save a
	// fifth of its size.
	var b bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&b, img); err != nil {
		return err
	}
	_, err = b.WriteTo(w)
	return err
}

// writeFramePicture draws a frame as it stands on the printer.
func (p *product) writeFramePicture(ctx context.Context, w io.Writer, i int) error {
	half := p.Solids.Halves()[i]
	scene := picture.Scene{
		Meshes:  []picture.PaintedMesh{{Mesh: p.Frames[i], Colour: frameColours[i], Crease: pictureCrease}},
		Camera:  lyingCamera,
		Floor:   lyingOn(half.Outside.Min.Z),
		Caption: p.caption(half.Name+" frame", half.Outside),
	}
	if err := p.addMarks(ctx, &scene, half, geom.Identity(), half.FillHeight); err != nil {
		return err
	}
	return p.writePicture(ctx, w, scene)
}

// caption names what is shown, with the size of its box.
func (p *product) caption(what string, box geom.Box) string {
	const inch = 25.4
	size := box.Size()
	return fmt.Sprintf("%s: %s, %.1f × %.1f × %.1f mm (%.2f × %.2f × %.2f in)",
		p.Job.Title, what, size.X, size.Y, size.Z, size.X/inch, size.Y/inch, size.Z/inch)
}

// lyingOn is the table under what reaches down to z.
func lyingOn(z float64) *picture.Floor { return &picture.Floor{N: geom.Vec{Z: 1}, D: z} }
