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
	"halfpour/pourplan"
)

const (
	pictureWidth, pictureHeight = 1400, 960
	roughTolerance              = 0.15 // mm: coarser builds are for a look, and have pictures half as wide

	pictureCrease      = 30 * math.Pi / 180
	picturePerspective = 25 * math.Pi / 180
	pictureMargin      = 0.04
)

// Wires and paper; what else there is has the colours of pourplan.
var (
	wireColour = color.RGBA{R: 0x6a, G: 0x72, B: 0x7c, A: 0xff}
	paper      = color.RGBA{R: 0xff, G: 0xff, B: 0xff, A: 0xff}
)

// Halves lie with their mouths at the top of the picture, seen from above and so
// little from the near edge that the near wall hides no lettering beside it.
var lyingCamera = picture.Camera{
	Look: geom.Vec{X: 0.16, Y: 0.12, Z: -1.3}, Up: geom.Vec{Y: 1},
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
		Meshes:  []picture.PaintedMesh{{Mesh: p.Frames[i], Colour: pourplan.TrayColours[i], Crease: pictureCrease}},
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
