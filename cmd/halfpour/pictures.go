package main

import (
	"context"
	"image"
	"image/color"
	"math"

	"halfpour/geom"
)

// Pictures of the frames look in from above and a little from the near edge,
// so that the near wall hides nothing; the sprues' mouths are at the top.
const pictureWidth, pictureHeight = 1600, 1100

var (
	leftColour  = color.RGBA{R: 0x9f, G: 0xb8, B: 0xc8, A: 0xff}
	rightColour = color.RGBA{R: 0xd2, G: 0xb9, B: 0x93, A: 0xff}
	paper       = color.RGBA{R: 0xff, G: 0xff, B: 0xff, A: 0xff}
)

func frameColour(half string) color.RGBA {
	if half == "right" {
		return rightColour
	}
	return leftColour
}

// pictureOf draws a frame as it stands on the printer, with marks on it.
func pictureOf(ctx context.Context, half string, frame *geom.TriMesh, marks []geom.PaintedMesh) (image.Image, error) {
	return geom.Render(ctx, geom.Scene{
		Meshes: append([]geom.PaintedMesh{{Mesh: frame, Colour: frameColour(half), Crease: 30 * math.Pi / 180}}, marks...),
		Camera: geom.Camera{
			Look:        geom.Vec{X: 0.16, Y: 0.42, Z: -1.3},
			Up:          geom.Vec{Y: 1},
			Perspective: 25 * math.Pi / 180,
			Margin:      0.04,
		},
		Width: pictureWidth, Height: pictureHeight,
		Background: paper,
	})
}
