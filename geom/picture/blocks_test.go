package picture

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

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
