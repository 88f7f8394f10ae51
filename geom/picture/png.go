package picture

import (
	"bytes"
	"image"
	"image/png"
	"io"
)

// WritePNG writes a picture as PNG. The library's usual level takes five times as long,
// a fifth of a picture's time, to save a fifth of its size.
func WritePNG(w io.Writer, img image.Image) error {
	var b bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&b, img); err != nil {
		return err
	}
	_, err := b.WriteTo(w)
	return err
}
