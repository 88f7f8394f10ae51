package picture

import (
	"bytes"
	"errors"
	"image"
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
