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

// The standard library reads what was written.
func TestWritePNGIsRead(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	noise := image.NewRGBA(image.Rect(0, 0, 70, 50))
	even := image.NewRGBA(noise.Rect)
	for y := range 50 {
		for x := range 70 {
			noise.SetRGBA(x, y, color.RGBA{uint8(random.Uint32()), uint8(random.Uint32()), uint8(random.Uint32()), 255})
			even.SetRGBA(x, y, color.RGBA{uint8(3 * x), uint8(5 * y), 7, 255})
		}
	}
	glass := image.NewRGBA(noise.Rect)
	glass.SetRGBA(3, 4, color.RGBA{51, 0, 51, 51})
	part, _ := noise.SubImage(image.Rect(11, 7, 60, 43)).(*image.RGBA)
	dot, _ := noise.SubImage(image.Rect(5, 5, 6, 6)).(*image.RGBA)
	for name, img := range map[string]*image.RGBA{"noise": noise, "even": even, "glass": glass, "part": part, "dot": dot} {
		var file bytes.Buffer
		if err := WritePNG(&file, img); err != nil {
			t.Fatal(err)
		}
		read, err := png.Decode(&file)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if read.Bounds().Size() != img.Rect.Size() {
			t.Fatalf("%s: %v, want %v", name, read.Bounds(), img.Rect)
		}
		for y := range img.Rect.Dy() {
			for x := range img.Rect.Dx() {
				got := color.RGBAModel.Convert(read.At(x, y))
				if want := img.RGBAAt(img.Rect.Min.X+x, img.Rect.Min.Y+y); got != want {
					t.Fatalf("%s: %v at %d, %d, want %v", name, got, x, y, want)
				}
			}
		}
	}
	if err := WritePNG(&bytes.Buffer{}, image.NewRGBA(image.Rectangle{})); err == nil {
		t.Error("a picture without pixels: no error")
	}
}
