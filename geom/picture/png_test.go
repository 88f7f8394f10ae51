package picture

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/png"
	"math/rand/v2"
	"testing"
)

// Whatever is in a picture, the standard library reads the same from its file.
func TestWritePNG(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for _, size := range []image.Point{{1, 1}, {3, 1}, {1, 5}, {37, 20}, {200, 300}} {
		for _, alpha := range []uint8{255, 255, 128} {
			// Part of a greater picture, so that rows do not lie close.
			img := image.NewRGBA(image.Rect(0, 0, size.X+2, size.Y+1)).SubImage(image.Rect(1, 1, 1+size.X, 1+size.Y)).(*image.RGBA)
			b := img.Bounds()
			for y := b.Min.Y; y < b.Max.Y; y++ {
				for x := b.Min.X; x < b.Max.X; x++ {
					shade := func() uint8 { return uint8(random.IntN(int(alpha) + 1)) }
					img.SetRGBA(x, y, color.RGBA{shade(), uint8(y), shade() / 64, alpha})
					if alpha < 255 {
						img.SetRGBA(x, y, color.RGBA{shade(), shade(), shade(), alpha})
					}
				}
			}
			var file bytes.Buffer
			if err := WritePNG(&file, img); err != nil {
				t.Fatal(err)
			}
			back, err := png.Decode(&file)
			if err != nil {
				t.Fatalf("%v, alpha %d: %v", size, alpha, err)
			}
			if back.Bounds().Size() != size {
				t.Fatalf("%v comes back as %v", size, back.Bounds())
			}
			for y := range size.Y {
				for x := range size.X {
					got := color.NRGBAModel.Convert(back.At(x, y))
					want := color.NRGBAModel.Convert(img.At(b.Min.X+x, b.Min.Y+y))
					if got != want {
						t.Fatalf("%v, alpha %d: pixel (%d, %d) is %v, want %v", size, alpha, x, y, got, want)
					}
				}
			}
		}
	}
}

// fullDisk takes so many bytes, then nothing more.
type fullDisk struct{ room int }

var errFull = errors.New("no space left")

func (d *fullDisk) Write(b []byte) (int, error) {
	if d.room -= len(b); d.room < 0 {
		return 0, errFull
	}
	return len(b), nil
}

func TestWritePNGTellsOfAFullDisk(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 300, 300))
	random := rand.New(rand.NewPCG(1, 2))
	for i := range img.Pix {
		if img.Pix[i] = uint8(random.Uint32()); i%4 == 3 {
			img.Pix[i] = 255
		}
	}
	var file bytes.Buffer
	if err := WritePNG(&file, img); err != nil {
		t.Fatal(err)
	}
	for _, room := range []int{0, 10, 40, 100_000, file.Len() - 1} {
		if err := WritePNG(&fullDisk{room}, img); !errors.Is(err, errFull) {
			t.Errorf("with room for %d of %d bytes: %v", room, file.Len(), err)
		}
	}
}
