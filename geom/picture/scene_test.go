package picture

import (
	"bytes"
	"context"
	"errors"
	"image/color"
	"math"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

var (
	paintRed  = color.RGBA{200, 40, 30, 255}
	paintBlue = color.RGBA{30, 60, 200, 255}
	paper     = color.RGBA{255, 255, 255, 255}
)

func sceneOf(c Camera, meshes ...PaintedMesh) Scene {
	return Scene{Meshes: meshes, Camera: c, Width: 200, Height: 150, Background: paper}
}

var fromAbove = Camera{Look: geom.Vec{X: 0, Y: 0, Z: -1}, Up: geom.Vec{X: 0, Y: 1, Z: 0}, Margin: 0.1}

// mostly says which of the channels of a pixel is far over the others.
func mostly(c color.RGBA) string {
	r, g, b := int(c.R), int(c.G), int(c.B)
	switch {
	case r > 2*b && r > 2*g:
		return "red"
	case b > 2*r && b > 2*g:
		return "blue"
	case c == paper:
		return "paper"
	}
	return "other"
}

func TestRenderFitsAndHides(t *testing.T) {
	plate := PaintedMesh{Mesh: geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -20, Y: -5, Z: 0}, Max: geom.Vec{X: 20, Y: 5, Z: 1}}), Colour: paintRed}
	post := PaintedMesh{Mesh: geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -2, Y: -2, Z: -8}, Max: geom.Vec{X: 2, Y: 2, Z: 6}}), Colour: paintBlue}
	for _, c := range []struct {
		name        string
		look, up    geom.Vec
		perspective float64
		at          map[[2]int]string
	}{
		// 40 mm fill 160 of 200 pixels: 4 pixels a mm about (100, 75).
		{"from above", geom.Vec{X: 0, Y: 0, Z: -1}, geom.Vec{X: 0, Y: 1, Z: 0}, 0, map[[2]int]string{
			{100, 75}: "blue", {105, 70}: "blue", {108, 75}: "red", {112, 75}: "red", {22, 75}: "red", {177, 90}: "red",
			{17, 75}: "paper", {183, 75}: "paper", {100, 53}: "paper", {100, 97}: "paper"}},
		{"from below", geom.Vec{X: 0, Y: 0, Z: 1}, geom.Vec{X: 0, Y: 1, Z: 0}, 0, map[[2]int]string{
			{100, 75}: "blue", {112, 75}: "red"}},
		// Seen from the front the post shows over and under the plate, from
		// z = 6 at the top to -8, the middle at -1.
		{"from the front", geom.Vec{X: 0, Y: 1, Z: 0}, geom.Vec{X: 0, Y: 0, Z: 1}, 0, map[[2]int]string{
			{100, 50}: "blue", {100, 69}: "red", {100, 90}: "blue", {150, 69}: "red", {150, 50}: "paper"}},
		{"upside down", geom.Vec{X: 0, Y: 1, Z: 0}, geom.Vec{X: 0, Y: 0, Z: -1}, 0, map[[2]int]string{
			{100, 81}: "red", {100, 60}: "blue"}},
		{"from above with perspective", geom.Vec{X: 0, Y: 0, Z: -1}, geom.Vec{X: 0, Y: 1, Z: 0}, 1.2, map[[2]int]string{
			{100, 75}: "blue", {108, 75}: "blue", {115, 75}: "red", {17, 75}: "paper"}},
	} {
		cam := Camera{Look: c.look, Up: c.up, Perspective: c.perspective, Margin: 0.1}
		for _, order := range [][]PaintedMesh{{plate, post}, {post, plate}} {
			img, err := Render(context.Background(), sceneOf(cam, order...))
			if err != nil {
				t.Fatalf("%s: %v", c.name, err)
			}
			for p, want := range c.at {
				if got := mostly(img.RGBAAt(p[0], p[1])); got != want {
					t.Errorf("%s: at %v %v, %s, want %s", c.name, p, img.RGBAAt(p[0], p[1]), got, want)
				}
			}
		}
	}
}

func TestRenderIsTheSameForAnyWorkers(t *testing.T) {
	m := wavyBall(48)
	scene := sceneOf(Camera{Look: geom.Vec{X: 1, Y: -1, Z: -2}, Up: geom.Vec{X: 0, Y: 1, Z: 0}, Perspective: 0.4},
		PaintedMesh{m, paintRed, 0.5, nil}, PaintedMesh{m, paintBlue, 0, nil}, // twice the same: every sample a tie
		PaintedMesh{m, paintRed, 0, &Cut{N: geom.Vec{X: 0, Y: 0, Z: 1}, D: 3, Colour: paintGreen}})
	var first []byte
	for _, workers := range []int{1, 2, 7} {
		scene.Workers = workers
		img, err := Render(context.Background(), scene)
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = img.Pix
		}
		if !bytes.Equal(first, img.Pix) {
			t.Errorf("%d workers draw another picture", workers)
		}
	}
}

// TestRenderLeavesNoSeams looks for background within a ball of many facets.
func TestRenderLeavesNoSeams(t *testing.T) {
	scene := sceneOf(Camera{Look: geom.Vec{X: 3, Y: -2, Z: -1}, Up: geom.Vec{X: 0, Y: 0, Z: 1}}, PaintedMesh{wavyBall(64), paintRed, 0, nil})
	scene.Background = color.RGBA{0, 255, 0, 255}
	img, err := Render(context.Background(), scene)
	if err != nil {
		t.Fatal(err)
	}
	for y := range 150 {
		for x := range 200 {
			if math.Hypot(float64(x)-99.5, float64(y)-74.5) < 68 && img.RGBAAt(x, y).G > img.RGBAAt(x, y).R {
				t.Fatalf("background shows at %d, %d: %v", x, y, img.RGBAAt(x, y))
			}
		}
	}
}

// TestRenderShowsShallowRelief draws a plate 60 mm wide with a bar 0.4 mm
// high on it, straight from above, where both tops have the same light.
func TestRenderShowsShallowRelief(t *testing.T) {
	scene := sceneOf(fromAbove,
		PaintedMesh{geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -30, Y: -20, Z: 0}, Max: geom.Vec{X: 30, Y: 20, Z: 1}}), paintRed, 0, nil},
		PaintedMesh{geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -2, Y: -10, Z: 1}, Max: geom.Vec{X: 2, Y: 10, Z: 1.4}}), paintRed, 0, nil})
	scene.Width, scene.Height = 800, 600
	img, err := Render(context.Background(), scene)
	if err != nil {
		t.Fatal(err)
	}
	least := 255
	for x := 360; x < 440; x++ {
		least = min(least, int(img.RGBAAt(x, 300).R))
	}
	plain := int(img.RGBAAt(250, 300).R)
	if least > plain*4/5 {
		t.Errorf("over the bar's edge the picture goes from %d to %d only", plain, least)
	}
	if top := int(img.RGBAAt(400, 300).R); top < plain-3 || top > plain+3 {
		t.Errorf("the bar's top is %d, the plate %d", top, plain)
	}
}

func TestRenderTransparentBackground(t *testing.T) {
	scene := sceneOf(fromAbove, PaintedMesh{wavyBall(32), paintRed, 0, nil})
	scene.Background = color.RGBA{}
	img, err := Render(context.Background(), scene)
	if err != nil {
		t.Fatal(err)
	}
	if c := img.RGBAAt(1, 1); c != (color.RGBA{}) {
		t.Errorf("corner %v", c)
	}
	if c := img.RGBAAt(100, 75); c.A != 255 {
		t.Errorf("middle %v", c)
	}
	mixed := 0
	for i := 0; i < len(img.Pix); i += 4 {
		p := img.Pix[i : i+4]
		if p[0] > p[3] || p[1] > p[3] || p[2] > p[3] {
			t.Fatalf("pixel %v is brighter than its alpha", p)
		}
		if p[3] != 0 && p[3] != 255 {
			mixed++
		}
	}
	if mixed < 100 {
		t.Errorf("only %d pixels of the rim are partly covered", mixed)
	}
}

func TestRenderErrors(t *testing.T) {
	good := func() Scene { return sceneOf(fromAbove, PaintedMesh{wavyBall(8), paintRed, 0, nil}) }
	for _, c := range []struct {
		want  string
		spoil func(*Scene)
	}{
		{"got 0 x 150", func(s *Scene) { s.Width = 0 }},
		{"got 200 x 100000", func(s *Scene) { s.Height = 100000 }},
		{"along one line", func(s *Scene) { s.Camera.Up = s.Camera.Look.Mul(-3) }},
		{"along one line", func(s *Scene) { s.Camera.Look = geom.Vec{} }},
		{"along one line", func(s *Scene) { s.Camera.Look.X = math.NaN() }},
		{"perspective must be", func(s *Scene) { s.Camera.Perspective = 3 }},
		{"margin must be", func(s *Scene) { s.Camera.Margin = 0.5 }},
		{"got 0", func(s *Scene) { s.Meshes = nil }},
		{"mesh 0 is missing", func(s *Scene) { s.Meshes[0].Mesh = nil }},
		{"mesh 0: a cut needs", func(s *Scene) { s.Meshes[0].Cut = &Cut{D: 1} }},
		{"mesh 0: a cut needs", func(s *Scene) { s.Meshes[0].Cut = &Cut{N: geom.Vec{Z: 1}, D: math.NaN()} }},
		{"side that the cut takes away", func(s *Scene) { s.Meshes[0].Cut = &Cut{N: geom.Vec{Z: -1}} }},
		{"over the floor", func(s *Scene) { s.Floor = &Floor{N: geom.Vec{Z: -1}, D: 20} }},
		{"no finite vertex 99999", func(s *Scene) { s.Meshes[0].Mesh.Triangles[3][1] = 99999 }},
		{"no finite vertex 0", func(s *Scene) { s.Meshes[0].Mesh.Vertices[0].Y = math.Inf(1) }},
	} {
		scene := good()
		c.spoil(&scene)
		if _, err := Render(context.Background(), scene); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("got error %v, want one with %q", err, c.want)
		}
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Render(ctx, good()); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}
