package picture

import (
	"math"
	"math/rand/v2"
	"testing"
)

// What cells have found comes to the pixels between them without a shift: a value
// that grows evenly over the picture is at each pixel what it is there.
func TestCellsReachPixels(t *testing.T) {
	c := newCells(Scene{Width: 41, Height: 24}, 1)
	found := make([]float32, len(c.places))
	const offset = (cellSample + 0.5) / perSide
	for k := range found {
		x, y := float32(k%c.width*perCell)+offset, float32(k/c.width*perCell)+offset
		found[k] = 3*x - 2*y
	}
	for y := perCell; y < 24-perCell; y++ {
		for x := perCell; x < 41-perCell; x++ {
			i, j := (x-1)/perCell, (y-1)/perCell
			a := c.quad(i, j)
			a.share = quadShares[(y-firstPixel(j))*perCell+x-firstPixel(i)]
			if got, want := a.mean(found), 3*(float32(x)+0.5)-2*(float32(y)+0.5); math.Abs(float64(got-want)) > 1e-3 {
				t.Fatalf("pixel %d, %d has %g, want %g", x, y, got, want)
			}
		}
	}
}

// A pixel takes nothing from cells that lie off its plane or face away.
func TestCellsKeepToTheirSurface(t *testing.T) {
	c := newCells(Scene{Width: 8, Height: 8}, 0.1)
	up := vec3{z: 1}
	for k := range c.places {
		c.places[k], c.normals[k] = vec3{float32(k%c.width) * 0.2, -float32(k/c.width) * 0.2, 0}, up
	}
	for _, off := range []struct {
		what          string
		place, normal vec3
	}{{"a step down", vec3{z: -5}, up}, {"a wall", vec3{}, vec3{x: 1}}} {
		a := c.quad(1, 1)
		a.share = quadShares[0]
		other := a.cell[1]
		place, normal := c.places[other], c.normals[other]
		c.places[other], c.normals[other] = place.add(off.place), off.normal
		a.weigh(c, c.places[a.cell[0]], up)
		if sum := a.share[0] + a.share[1] + a.share[2] + a.share[3]; a.share[1] != 0 || math.Abs(float64(sum)-1) > 1e-5 {
			t.Errorf("%s counts for %g of %g", off.what, a.share[1], sum)
		}
		c.places[other], c.normals[other] = place, normal
	}
}

// The stretch of a row that is reckoned is the one that trying each sample finds.
func TestRasterEdgeWithin(t *testing.T) {
	const seed = 5
	rng := rand.New(rand.NewPCG(seed, 0))
	for range 20000 {
		e := rasterEdge{value: rng.Int64N(4001) - 2000, dx: rng.Int64N(201) - 100}
		x0 := rng.IntN(50)
		end := x0 + 1 + rng.IntN(60)
		lo, hi := e.within(x0, end, x0)
		for x := x0; x < end; x++ {
			if inside := e.value+int64(x-x0)*e.dx >= 0; inside != (x >= lo && x < hi) {
				t.Fatalf("seed %d: of %+v from %d to %d, sample %d is inside: %v; reckoned %d to %d", seed, e, x0, end, x, inside, lo, hi)
			}
		}
	}
}
