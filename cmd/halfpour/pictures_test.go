package main

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/png"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/pourplan"
)

// drawnProduct is a product of the starter job, as far as pictures need it.
func drawnProduct(t *testing.T) *product {
	t.Helper()
	p := &product{Mold: openJob(t, writeJob(t))}
	in, err := p.Solids.Measure(context.Background(), 1e-3, nil)
	if err != nil {
		t.Fatal(err)
	}
	frames, err := p.Solids.MakeFrames(context.Background(), moldbox.FrameOptions{
		Tolerance: 0.3, Heads: []*geom.TriMesh{coarseBall()},
		Rubber: func(context.Context) ([2]geom.Integral, error) {
			return [2]geom.Integral{in.Left.Rubber, in.Right.Rubber}, nil
		},
	})
	if err != nil {
		t.Fatal(err)
	}
	p.Frames = [2]*geom.TriMesh{frames[0].Mesh, frames[1].Mesh}
	p.Proof.Left = frames[0].Proof
	if p.Rubber, err = p.Solids.RubberMeshes(context.Background(), p.Frames); err != nil {
		t.Fatal(err)
	}
	return p
}

// pictureOf is one of the product's pictures.
func pictureOf(t *testing.T, p *product, name string) image.Image {
	t.Helper()
	for _, f := range outputs {
		if f.name != name {
			continue
		}
		var b bytes.Buffer
		if err := f.write(p, context.Background(), &b); err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(&b)
		if err != nil {
			t.Fatal(err)
		}
		return img
	}
	t.Fatalf("a build writes no %s", name)
	return nil
}

// pixelsThat is how many pixels of a picture are so.
func pixelsThat(img image.Image, is func(r, g, b int) bool) (n int) {
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

// isAmber is a mark in any light: nothing else in the pictures is so yellow.
func isAmber(r, g, b int) bool { return r > 120 && r > g && g > b && r-b > 80 }

// A finding with a place is marked on the half that it is in, on its frame and
// on its rubber, and not on the other; the closed mold shows the cut faces of
// both halves in their flat colours.
func TestPictures(t *testing.T) {
	p := drawnProduct(t)
	at := geom.Vec{X: p.Solids.Cavities[0].Eye.X, Y: p.Solids.Cavities[0].Eye.Y, Z: 4}
	if n := pixelsThat(pictureOf(t, p, "left.png"), isAmber); n > 0 {
		t.Errorf("without findings the left frame has %d pixels of marks", n)
	}
	p.Plan = &pourplan.Plan{Findings: pourplan.PlanFindings([]moldbox.Finding{{Severity: moldbox.Warn, Code: "test", Message: "a test", At: &at}})}
	for name, want := range map[string]bool{"left.png": true, "left-rubber.png": true, "right-rubber.png": false} {
		if n := pixelsThat(pictureOf(t, p, name), isAmber); (n > 100) != want || (!want && n > 0) {
			t.Errorf("%s, with a finding in the left half: %d pixels of marks", name, n)
		}
	}
	img := pictureOf(t, p, "closed-mold.png")
	for i, half := range p.Solids.Halves() {
		c := pourplan.RubberCuts[i]
		same := func(r, g, b int) bool { return r == int(c.R) && g == int(c.G) && b == int(c.B) }
		if n := pixelsThat(img, same); n < 2000 {
			t.Errorf("%d pixels of the %s half's cut face", n, half.Name)
		}
	}
}

// Under a seal coat the rubber is larger than the printed inside, and so is what
// is drawn of it.
func TestRubberUnderASealCoat(t *testing.T) {
	job := writeJob(t)
	editJob(t, job, "# seal_coat = 0 ", "seal_coat = 0.1 ")
	mold := openJob(t, job).Solids
	rubber, err := mold.RubberMeshes(context.Background(), [2]*geom.TriMesh{})
	if err != nil {
		t.Fatal(err)
	}
	for i, half := range mold.Halves() {
		v, err := geom.Integrate(context.Background(), half.Rubber(), geom.IntegrateOptions{RelTol: 1e-3})
		if err != nil {
			t.Fatal(err)
		}
		if got := rubber[i].Volume(); !(got > v.Best*0.995 && got < v.Best*1.005) {
			t.Errorf("the %s rubber is drawn with %.1f mm³, measured are %.1f", half.Name, got, v.Best)
		}
	}
}
