package picture

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// Nothing of the model is seen from cells of the floor that are taken for bare, and no
// shadow falls there; and many are.
func TestBareFloorSeesNothing(t *testing.T) {
	for _, from := range []Camera{fromAbove, {Look: geom.Vec{X: 1, Y: 2, Z: -2}, Up: geom.Vec{Z: 1}, Perspective: 0.5}} {
		tower := geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -2, Y: -2}, Max: geom.Vec{X: 2, Y: 2, Z: 30}})
		scene := sceneOf(from, PaintedMesh{Mesh: tower, Colour: paintRed})
		scene.Width, scene.Height, scene.Floor = 800, 600, &Floor{N: geom.Vec{Z: 1}}
		scene.Camera.Margin = 0.3
		sh, err := scene.shader(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		img, err := sh.paint(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		c, bare, shaded := sh.cells, 0, 0
		for k := range c.places {
			x, y := k%c.width, k/c.width
			open, hidden := sh.open.askAll(x, y), sh.shadows.askAll(x, y)
			if hidden > 0.1 && sh.only[k] == 0 {
				shaded++
			}
			if !c.bare[y/blockSide*c.blockColumns()+x/blockSide] {
				continue
			}
			if bare++; open != 1 || hidden != 0 {
				t.Fatalf("a bare cell at %d, %d is open by %g and hidden by %g", x, y, open, hidden)
			}
			if got := img.RGBAAt(x*perCell, y*perCell); got != scene.Background {
				t.Fatalf("a bare cell at %d, %d is painted %v", x, y, got)
			}
		}
		if share := float64(bare) / float64(len(c.places)); share < 0.3 || share > 0.9 || shaded < 100 {
			t.Errorf("%.0f %% of the cells are bare, %d cells of the floor are in shadow", 100*share, shaded)
		}
	}
}

// What is passed by as too low to count would not have counted.
func TestLowRisesDoNotCount(t *testing.T) {
	for _, perspective := range []float64{0, 0.4, 2} {
		scene := sceneOf(Camera{Look: geom.Vec{X: 3, Y: -2, Z: -1}, Up: geom.Vec{Z: 1}, Perspective: perspective}, PaintedMesh{wavyBall(64), paintRed, 0.5, nil})
		sh, err := scene.shader(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		for y := range sh.cells.height {
			sh.cells.look(sh, y)
		}
		all := *sh.open
		all.low = [len(openSteps)]float32{}
		hollows := 0
		for k := range sh.cells.places {
			x, y := k%sh.cells.width, k/sh.cells.width
			got, want := sh.open.askAll(x, y), all.askAll(x, y)
			if got != want {
				t.Fatalf("perspective %g: a cell is open by %g, with all that is low by %g", perspective, got, want)
			}
			if want < 0.9 {
				hollows++
			}
		}
		if hollows < 20 {
			t.Errorf("perspective %g: %d cells are in hollows", perspective, hollows)
		}
	}
}

// Where cells of a flat block are not asked, they have what they would have found,
// nearly; and few have to be asked.
func TestFlatBlocksNeedNotBeAsked(t *testing.T) {
	block := func(x, y, low, high float64) PaintedMesh {
		return PaintedMesh{Mesh: geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -x, Y: -y, Z: low}, Max: geom.Vec{X: x, Y: y, Z: high}}), Colour: paintRed}
	}
	scene := sceneOf(fromAbove, block(20, 14, 0, 4), block(2, 2, 4, 10))
	scene.Width, scene.Height, scene.Floor = 800, 600, &Floor{N: geom.Vec{Z: 1}}
	sh, err := scene.shader(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := sh.paint(context.Background()); err != nil {
		t.Fatal(err)
	}
	c, settled, seen, sum := sh.cells, 0, 0, 0.0
	for k := range c.places {
		x, y := k%c.width, k/c.width
		if !c.settled[y/blockSide*c.blockColumns()+x/blockSide] {
			continue
		}
		settled++
		off := math.Max(math.Abs(float64(sh.open.open[k]-sh.open.askAll(x, y))), math.Abs(float64(sh.shadows.hidden[k]-sh.shadows.askAll(x, y))))
		if sum += off; off > 0.1 {
			seen++ // at the edge of a shadow
		}
	}
	if share := float64(settled) / float64(len(c.places)); share < 0.8 || share > 0.99 {
		t.Errorf("%.0f %% of the cells need not be asked", 100*share)
	}
	if mean, share := sum/float64(settled), float64(seen)/float64(settled); mean > 0.008 || share > 0.004 {
		t.Errorf("what they would have found differs by %.4f in the mean, and so that one sees it at %.2f %%", mean, 100*share)
	}
}

// Whatever is quickly taken for even in depth is no step by the whole reckoning.
func TestEvenDepthIsNoStep(t *testing.T) {
	for _, perspective := range []float64{0, 0.4, 2} {
		scene := sceneOf(Camera{Look: geom.Vec{X: 3, Y: -2, Z: -1}, Up: geom.Vec{Z: 1}, Perspective: perspective}, PaintedMesh{wavyBall(64), paintRed, 0, nil})
		sh, err := scene.shader(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		even, steps := 0, 0
		sh.eachPair(func(p *patch, k, l int) {
			far := sh.place(p, l).sub(sh.place(p, k)).norm()
			switch {
			case !sh.evenDepth(p.near[k], p.near[l]):
				steps++
			case far > stepPixels*sh.pixel*1.001:
				t.Fatalf("perspective %g: two samples %g pixels apart are even in depth", perspective, far/sh.pixel)
			default:
				even++
			}
		})
		if even < 1000 || steps < 100 {
			t.Errorf("perspective %g: %d pairs of samples are even in depth, %d not", perspective, even, steps)
		}
	}
}

// eachPair calls f for neighbouring samples that are on faces.
func (sh *shader) eachPair(f func(p *patch, k, l int)) {
	var p patch
	for j := range sh.cells.height - 1 {
		for i := range sh.cells.width - 1 {
			around := sh.cells.quad(i, j)
			p.gather(sh, i, j, &around.cell)
			for y := range cellSide {
				for x := range cellSide {
					k := y*patchSide + x
					for _, l := range [2]int{k + 1, k + patchSide} {
						if p.on[k] > 0 && p.on[l] > 0 {
							f(&p, k, l)
						}
					}
				}
			}
		}
	}
}
