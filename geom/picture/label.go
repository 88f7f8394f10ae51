package picture

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"halfpour/geom"
)

// Label is a word or two over a place of the model, drawn over whatever hides
// it. What the embedded font lacks comes out as an empty box, here and in a
// caption.
type Label struct {
	Text string
	At   geom.Vec
}

// Sizes of text are shares of the picture's height, per em.
const (
	labelSize   = 0.026
	captionSize = 0.026
	captionRoom = 0.075 // kept free for the caption
	capsOfEm    = 0.72  // how high capitals are
)

var inkColour = color.RGBA{0x22, 0x26, 0x2a, 0xff}

// modelHeight is how many rows of the picture the model may fill.
func (s Scene) modelHeight() float64 {
	h := float64(s.Height)
	if s.Caption != "" {
		h -= captionRoom * h
	}
	return h
}

// letter writes labels and caption over a picture. A caption too long for the
// picture is set smaller.
func (s Scene) letter(img *image.RGBA, v *view) error {
	h := float64(s.Height)
	if len(s.Labels) > 0 {
		face, err := faceOf(gobold.TTF, labelSize*h)
		if err != nil {
			return err
		}
		for _, l := range s.Labels {
			x, y, _ := v.project(l.At)
			write(img, face, l.Text, x, y+capsOfEm*labelSize*h/2)
		}
	}
	if s.Caption == "" {
		return nil
	}
	size := captionSize * h
	face, err := faceOf(goregular.TTF, size)
	if err != nil {
		return err
	}
	if room := 0.95 * float64(s.Width); width(face, s.Caption) > room {
		size *= room / width(face, s.Caption)
		if face, err = faceOf(goregular.TTF, size); err != nil {
			return err
		}
	}
	write(img, face, s.Caption, float64(s.Width)/2, h-captionRoom*h/2+capsOfEm*size/2)
	return nil
}

// faceOf is an embedded font at a size in pixels.
func faceOf(ttf []byte, size float64) (font.Face, error) {
	f, err := opentype.Parse(ttf)
	if err != nil {
		return nil, fmt.Errorf("picture: embedded font: %w", err)
	}
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		return nil, fmt.Errorf("picture: embedded font: %w", err)
	}
	return face, nil
}

// width is of a line of text, pixels.
func width(face font.Face, text string) float64 {
	return float64(font.MeasureString(face, text)) / 64
}

// write sets a line of text about x with its baseline at y, pixels.
func write(img *image.RGBA, face font.Face, text string, x, y float64) {
	x -= width(face, text) / 2
	d := font.Drawer{Dst: img, Src: image.NewUniform(inkColour), Face: face,
		Dot: fixed.Point26_6{X: fixed.Int26_6(math.Round(64 * x)), Y: fixed.Int26_6(math.Round(64 * y))}}
	d.DrawString(text)
}
