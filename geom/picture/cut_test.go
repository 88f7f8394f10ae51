package picture

import (
	"context"
	"image"
	"image/color"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

var paintGreen = color.RGBA{20, 160, 40, 255}

func render(t *testing.T, s Scene) *image.RGBA {
	t.Helper()
	img, err := Render(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// hollowBlock is a block of 40 x 20 x 12 mm with a room of 20 x 10 x 8 mm in it.
func hollowBlock() *geom.TriMesh {
	m := geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -20, Y: -10, Z: -6}, Max: geom.Vec{X: 20, Y: 10, Z: 6}})
	for _, t := range geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -10, Y: -5, Z: -4}, Max: geom.Vec{X: 10, Y: 5, Z: 4}}).Triangles {
		m.Triangles = append(m.Triangles, [3]int32{t[0] + 8, t[2] + 8, t[1] + 8})
	}
	m.Vertices = append(m.Vertices, geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -10, Y: -5, Z: -4}, Max: geom.Vec{X: 10, Y: 5, Z: 4}}).Vertices...)
	return m
}

// A block cut through its hollow shows the cut face round it, in the face's own
// colour, and the far wall in it; what is before the plane is gone, and another
// mesh stays whole.
func TestRenderCut(t *testing.T) {
	block := PaintedMesh{Mesh: hollowBlock(), Colour: paintRed, Cut: &Cut{N: geom.Vec{Z: 2}, D: 2, Colour: paintGreen}}
	post := PaintedMesh{Mesh: geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -2, Y: -2, Z: -3}, Max: geom.Vec{X: 2, Y: 2, Z: 5}}), Colour: paintBlue}
	for _, perspective := range []float64{0, 0.5} {
		cam := fromAbove
		cam.Perspective = perspective
		for _, meshes := range [][]PaintedMesh{{block, post}, {post, block}} {
			img := render(t, sceneOf(cam, meshes...))
			// 40 mm fill 160 of 200 pixels, more or less: the face is over 10 mm
			// to the side, the far wall within 10.
			for p, want := range map[[2]int]color.RGBA{{35, 75}: paintGreen, {100, 45}: paintGreen, {165, 75}: paintGreen} {
				if got := img.RGBAAt(p[0], p[1]); got != want {
					t.Errorf("perspective %g: the cut face at %v is %v, want %v flat", perspective, p, got, want)
				}
			}
			for p, want := range map[[2]int]string{{100, 75}: "blue", {80, 75}: "red", {100, 88}: "red", {10, 75}: "paper"} {
				if got := mostly(img.RGBAAt(p[0], p[1])); got != want {
					t.Errorf("perspective %g: at %v %v, %s, want %s", perspective, p, img.RGBAAt(p[0], p[1]), got, want)
				}
			}
		}
	}
}

// A plane that takes nothing away changes nothing, one that takes all leaves
// the paper.
func TestRenderCutAtTheEnds(t *testing.T) {
	base := PaintedMesh{Mesh: geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -30, Y: -20, Z: -9}, Max: geom.Vec{X: 30, Y: 20, Z: -8}}), Colour: paintBlue}
	ball := PaintedMesh{Mesh: wavyBall(32), Colour: paintRed, Crease: 0.5}
	whole := render(t, sceneOf(fromAbove, base, ball))
	ball.Cut = &Cut{N: geom.Vec{Z: 1}, D: 11, Colour: paintGreen}
	if cut := render(t, sceneOf(fromAbove, base, ball)); string(cut.Pix) != string(whole.Pix) {
		t.Error("a plane over the ball changes it")
	}
	alone := render(t, sceneOf(fromAbove, base))
	ball.Cut.D = -11
	if cut := render(t, sceneOf(fromAbove, base, ball)); string(cut.Pix) != string(alone.Pix) {
		t.Error("a plane under the ball leaves some of it")
	}
}

// A cut face is hatched where it is asked for.
func TestRenderHatch(t *testing.T) {
	block := PaintedMesh{Mesh: hollowBlock(), Colour: paintRed, Cut: &Cut{N: geom.Vec{Z: 1}, D: 1, Colour: paintGreen, Hatch: HatchUp}}
	img := render(t, sceneOf(fromAbove, block))
	shades := map[color.RGBA]bool{}
	for x := 25; x < 55; x++ {
		shades[img.RGBAAt(x, 75)] = true
	}
	if !shades[paintGreen] || len(shades) < 2 {
		t.Errorf("a hatched face has the shades %v", shades)
	}
}

// A post throws its shadow away from the lamp, on the plate and on the floor.
func TestRenderShadows(t *testing.T) {
	scene := sceneOf(fromAbove,
		PaintedMesh{Mesh: geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -20, Y: -14, Z: 0}, Max: geom.Vec{X: 20, Y: 14, Z: 4}}), Colour: paintRed},
		PaintedMesh{Mesh: geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -2, Y: -2, Z: 4}, Max: geom.Vec{X: 2, Y: 2, Z: 10}}), Colour: paintRed})
	scene.Width, scene.Height = 800, 600
	img := render(t, scene)
	lit, dark := img.RGBAAt(400-60, 300-60).R, img.RGBAAt(400+52, 300+44).R
	if !(float64(dark) < 0.85*float64(lit)) {
		t.Errorf("toward the lamp the plate is %d, behind the post %d", lit, dark)
	}
	if c := img.RGBAAt(740, 520); c != paper {
		t.Errorf("without a floor the paper is %v", c)
	}
	scene.Floor = &Floor{N: geom.Vec{Z: 1}}
	img = render(t, scene)
	near, far := img.RGBAAt(725, 400).R, img.RGBAAt(795, 20).R
	if !(near < 235 && far > 250) {
		t.Errorf("the floor beside the plate is %d, far from it %d", near, far)
	}
}

// A caption has its own room under the model; a label is where its place is.
func TestRenderText(t *testing.T) {
	plate := PaintedMesh{Mesh: geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -10, Y: -20, Z: 0}, Max: geom.Vec{X: 10, Y: 20, Z: 1}}), Colour: paintRed}
	scene := sceneOf(fromAbove, plate)
	scene.Width, scene.Height = 800, 600
	scene.Caption = "a plate"
	scene.Labels = []Label{{"b", geom.Vec{X: 5, Y: 10, Z: 1}}}
	img := render(t, scene)
	dark := func(r image.Rectangle) (n int) {
		for y := r.Min.Y; y < r.Max.Y; y++ {
			for x := r.Min.X; x < r.Max.X; x++ {
				if c := img.RGBAAt(x, y); c.R < 90 && c.G < 90 && c.B < 90 {
					n++
				}
			}
		}
		return n
	}
	caption := image.Rect(300, 555, 500, 600)
	if dark(caption) < 100 {
		t.Error("there is no caption")
	}
	for x := range 800 {
		if mostly(img.RGBAAt(x, 556)) == "red" {
			t.Fatal("the model reaches into the caption's room")
		}
	}
	// 40 mm fill 0.8 of 555 rows: 11.1 pixels a mm about (400, 277.5).
	if at := image.Pt(400+55, 277-111); dark(image.Rect(at.X-10, at.Y-10, at.X+10, at.Y+10)) < 20 {
		t.Error("the label is not at its place")
	}
	scene.Caption = "a caption so long that it goes beyond both sides of the picture if it is set as large as short ones are, so it is not"
	img = render(t, scene)
	if n := dark(image.Rect(0, 555, 10, 600)) + dark(image.Rect(790, 555, 800, 600)); n > 0 {
		t.Error("a long caption leaves the picture")
	}
}
