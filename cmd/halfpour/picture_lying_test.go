package main

import (
	"context"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"halfpour/geom/geomtest"
)

// pixelsLike counts pixels of a hue: those whose channels differ as the colour's do.
func pixelsLike(img image.Image, is func(r, g, b int) bool) (n int) {
	for y := range img.Bounds().Dy() {
		for x := range img.Bounds().Dx() {
			c := color.RGBAModel.Convert(img.At(x, y)).(color.RGBA)
			if is(int(c.R), int(c.G), int(c.B)) {
				n++
			}
		}
	}
	return n
}

func readPicture(t *testing.T, path string) image.Image {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

func isBlue(r, g, b int) bool  { return b > r+60 && b > g+25 }
func isGreen(r, g, b int) bool { return g > r+40 && g > b+25 }
func isRed(r, g, b int) bool   { return r > g+70 && r > b+70 }

// A job whose head is wrong is drawn as it lies, with its plane in blue, whether
// the checks say stop or no mold can be made at all; where there is a mold, with
// its gate in green and the findings' places in red.
func TestPictureOfWhatIsWrong(t *testing.T) {
	for name, code := range map[string]int{
		"back-turned-round": 6, "eye-off-plane": 6, "piece-unfed": 6, "piece-floats": 6, "air-trapped": 6,
		"collar-thin": 6, "socket-narrow": 6, "hook-too-thick": 6, "keeper-outside": 6, "misses-plane": 4, "hook-in-head-file": 6,
	} {
		if !geomtest.Long() && slices.Contains([]string{"piece-unfed", "piece-floats", "air-trapped", "keeper-outside", "hook-too-thick"}, name) {
			continue
		}
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			copyInto(t, filepath.Join(badFolder, name), dir)
			t.Chdir(dir)
			got, _, stderr := halfpour(context.Background(), "check", "job.toml", "--picture", "head.png")
			if got != code || !strings.Contains(stderr, "to see how it lies now: head.png") {
				t.Errorf("exit %d, want %d: %s", got, code, stderr)
			}
			img := readPicture(t, "head.png")
			if n := pixelsLike(img, isBlue); n < 1500 {
				t.Errorf("%d pixels of the plane", n)
			}
			green, red := pixelsLike(img, isGreen), pixelsLike(img, isRed)
			// The axes alone have some of each.
			if code == 6 && (green < 4000 || red < 1000 && name != "socket-narrow" || name == "hook-in-head-file" && red < 8000) || code == 4 && red < 1000 {
				t.Errorf("%d pixels of the gate, %d of what is wrong", green, red)
			}
		})
	}
}

// A build that is stopped draws too, and writes nothing else; without a head there
// is no picture, and a file that is none is refused.
func TestPictureOption(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	copyInto(t, filepath.Join(badFolder, "eye-off-plane"), dir)
	t.Chdir(dir)
	code, stdout, stderr := halfpour(ctx, "build", "job.toml", "--picture", "stopped.png")
	if code != 6 || !strings.Contains(stdout, "picture: stopped.png") || !strings.Contains(stderr, "to build it anyway") {
		t.Errorf("exit %d\n%s%s", code, stdout, stderr)
	}
	readPicture(t, "stopped.png")
	if _, err := os.Stat("job-out"); err == nil {
		t.Error("the stopped build wrote its folder")
	}
	if code, _, stderr := halfpour(ctx, "check", "job.toml", "--picture", "head.jpg"); code != 3 || !strings.Contains(stderr, "--picture must name a .png") {
		t.Errorf("exit %d: %s", code, stderr)
	}
	if err := os.Remove("head.stl"); err != nil {
		t.Fatal(err)
	}
	if code, _, stderr := halfpour(ctx, "check", "job.toml", "--picture", "none.png"); code != 5 || strings.Contains(stderr, "to see how it lies") {
		t.Errorf("exit %d: %s", code, stderr)
	}
	if _, err := os.Stat("none.png"); err == nil {
		t.Error("a picture of no head was written")
	}
}
