package geom_test

import (
	"context"
	"math"
	"math/rand"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// Closed forms: sphere 4/3πr³, cap πh²(3R-h)/3, frustum πh(R²+Rr+r²)/3, torus
// 2π²Rr². The values are these at the sizes named.
func TestIntegrateClosedForms(t *testing.T) {
	up := geom.Vec{Z: 1}
	capOf := func(h float64) geom.Solid {
		return geom.Intersect(geom.Ball(geom.Vec{}, 5), geom.HalfSpace(geom.Vec{Z: -1}, h-5))
	}
	for _, c := range []struct {
		name string
		s    geom.Solid
		want float64
	}{
		{"sphere r 5", geom.Ball(geom.Vec{}, 5), 523.598775598},
		{"cap R 5 h 1", capOf(1), 14.660765717},
		{"cap R 5 h 2", capOf(2), 54.454272663},
		{"cap R 5 h 5", capOf(5), 261.799387799},
		{"cap R 5 h 8", capOf(8), 469.144502936},
		{"frustum 6, 3, 10", geom.Frustum(geom.Vec{}, geom.Vec{Z: 10}, 6, 3), 659.734457254},
		{"cone 6, 0, 10", geom.Frustum(geom.Vec{}, geom.Vec{Z: 10}, 6, 0), 376.991118431},
		{"cylinder 6, 6, 10", geom.Frustum(geom.Vec{}, geom.Vec{Z: 10}, 6, 6), 1130.973355292},
		{"torus 10, 2", geom.Torus(geom.Vec{}, up, 10, 2), 789.568352087},
		{"block", geom.Block(geom.Box{Max: geom.Vec{X: 2, Y: 3, Z: 4}}), 24},
		{"dome 3, 2", geom.Dome(geom.Vec{}, up, 3, 2), math.Pi * 2 / 6 * (3*9 + 4)},
	} {
		rng := rand.New(rand.NewSource(1))
		for i := 0; i < 3; i++ {
			place := geom.Identity()
			if i > 0 {
				place = geom.Rotate(randomPoint(rng, inBlock).Unit(), 6*rng.Float64()).Then(geom.Move(randomPoint(rng, inBlock)))
			}
			got, err := geom.Integrate(context.Background(), place.Solid(c.s), geom.IntegrateOptions{})
			if err != nil {
				t.Fatal(err)
			}
			if c.want < got.Lo || c.want > got.Hi {
				t.Errorf("%s, place %d: %.6f is outside [%.6f, %.6f]", c.name, i, c.want, got.Lo, got.Hi)
			}
			if e := math.Abs(got.Best - c.want); e > got.Error+1e-6*c.want || e > 5e-4*c.want {
				t.Errorf("%s, place %d: best %.6f is off %.6f by %.2g, expected error %.2g", c.name, i, got.Best, c.want, e, got.Error)
			}
		}
	}
}

func TestIntegrateAreaAndCentroid(t *testing.T) {
	at := geom.Vec{X: 3, Y: -2, Z: 7}
	got, err := geom.Integrate(context.Background(), geom.Ball(at, 5), geom.IntegrateOptions{Moments: true})
	if err != nil {
		t.Fatal(err)
	}
	if d := got.Centroid.Dist(at); d > 0.01 {
		t.Errorf("centroid %v is %.4f mm off", got.Centroid, d)
	}
	if e := math.Abs(got.Area/314.159265359 - 1); e > 1e-3 {
		t.Errorf("area %.3f, want 314.159", got.Area)
	}
	// A ball's ∫x² about its middle is V·r²/5.
	for _, x := range [3]float64{got.Square.X, got.Square.Y, got.Square.Z} {
		if e := math.Abs(x/(523.598775598*25/5) - 1); e > 1e-3 {
			t.Errorf("second moments %v, want 2617.99 each", got.Square)
		}
	}
	if got.Product.Norm() > 1 {
		t.Errorf("products %v, want 0", got.Product)
	}
}

// A slanted wedge of a block, whose moments are those of two tetrahedra less:
// flat parts are measured exactly whatever the cells.
func TestIntegrateFlatPartsExactly(t *testing.T) {
	block := geom.Block(geom.Box{Min: geom.Vec{X: -1, Y: -2, Z: 0}, Max: geom.Vec{X: 4, Y: 2, Z: 3}})
	wedge := geom.Intersect(block, geom.HalfSpace(geom.Vec{X: 3, Y: 0, Z: 5}.Unit(), 12/math.Sqrt(34)))
	// Over y it is 4 long; its section under 3x+5z = 12 is the rectangle of 15
	// less the triangle with corners (-1, 3), (4, 3), (4, 0).
	got, err := geom.Integrate(context.Background(), wedge, geom.IntegrateOptions{Moments: true})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(got.Best-30) > 1e-5 || got.Hi-got.Lo > 1e-3 {
		t.Errorf("got %+v, want 30 mm³ between bounds near it", got)
	}
	if want := (geom.Vec{X: -1 + 5./3, Z: 1}); got.Centroid.Dist(want) > 1e-6 {
		t.Errorf("centroid %v, want %v", got.Centroid, want)
	}
}

// The bracket must hold and the estimate be good to 1e-4 by default, for shapes
// of many sizes anywhere: closed forms of balls, frusta and tori with a ball
// taken out of the middle of a face.
func TestIntegrateDefaultIsGoodTo1e4(t *testing.T) {
	rng := rand.New(rand.NewSource(6))
	for i := range geomtest.Rounds(16, 40) {
		size := math.Pow(10, 2*rng.Float64()-0.5)
		var s geom.Solid
		var want float64
		up := geom.Vec{Z: 1}
		switch i % 4 {
		case 0:
			s, want = geom.Ball(geom.Vec{}, size), 4*math.Pi/3*size*size*size
		case 1:
			s, want = geom.Frustum(geom.Vec{}, up.Mul(2*size), size, size/2), math.Pi*2*size/3*(1+0.5+0.25)*size*size
		case 2:
			s, want = geom.Torus(geom.Vec{}, up, size, size/4), 2*math.Pi*math.Pi*size*size*size/16
		case 3: // half of the ball is in the block
			r := 0.4 * size
			block := geom.Block(geom.Box{Min: geom.Vec{X: -size, Y: -size, Z: -size}, Max: geom.Vec{X: size, Y: size, Z: 0}})
			s, want = geom.Subtract(block, geom.Ball(geom.Vec{}, r)), 4*size*size*size-2*math.Pi/3*r*r*r
		}
		place := geom.Rotate(randomPoint(rng, inBlock), 6*rng.Float64()).Then(geom.Move(randomPoint(rng, inBlock)))
		got, err := geom.Integrate(context.Background(), place.Solid(s), geom.IntegrateOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if want < got.Lo || want > got.Hi {
			t.Errorf("case %d, size %.3g: %.9g is not in [%.9g, %.9g]", i, size, want, got.Lo, got.Hi)
		}
		if e := math.Abs(got.Best/want - 1); e > 1e-4 {
			t.Errorf("case %d, size %.3g: off by %.2g of the volume", i, size, e)
		}
	}
}

func TestIntegrateWithinABox(t *testing.T) {
	half := geom.Box{Min: geom.Vec{X: -9, Y: -9, Z: 0}, Max: geom.Vec{X: 9, Y: 9, Z: 9}}
	got, err := geom.Integrate(context.Background(), geom.Ball(geom.Vec{}, 5), geom.IntegrateOptions{Within: half})
	if err != nil {
		t.Fatal(err)
	}
	if e := math.Abs(got.Best/261.799387799 - 1); e > 3e-4 {
		t.Errorf("got %.5f, want 261.79939", got.Best)
	}
}

// The sum must not depend on how the work was shared out.
func TestIntegrateIsTheSameForAnyWorkers(t *testing.T) {
	s := randomSolid(rand.New(rand.NewSource(2)), 9)
	one, err1 := geom.Integrate(context.Background(), s, geom.IntegrateOptions{Workers: 1})
	many, err2 := geom.Integrate(context.Background(), s, geom.IntegrateOptions{Workers: 5})
	if err1 != nil || err2 != nil || one != many {
		t.Errorf("1 worker: %+v, %v; 5 workers: %+v, %v", one, err1, many, err2)
	}
}

func TestIntegrateOfNothing(t *testing.T) {
	apart := geom.Intersect(geom.Ball(geom.Vec{}, 1), geom.Ball(geom.Vec{X: 5}, 1))
	got, err := geom.Integrate(context.Background(), apart, geom.IntegrateOptions{})
	if err != nil || got.Best != 0 || got.Hi != 0 {
		t.Errorf("got %+v, %v", got, err)
	}
	flat := geom.Block(geom.Box{Max: geom.Vec{X: 2, Y: 3}})
	if got, err := geom.Integrate(context.Background(), flat, geom.IntegrateOptions{}); err != nil || got != (geom.Integral{}) {
		t.Errorf("a block without height: %+v, %v", got, err)
	}
}

// How the second pass differs from the first tells the error, so that a ball is
// known to half a thousandth after two passes, with 13,228 cells.
func TestIntegrateEndsWhenSureEnough(t *testing.T) {
	const want = 4. / 3 * math.Pi * 27
	got, err := geom.Integrate(context.Background(), geom.Ball(geom.Vec{}, 3), geom.IntegrateOptions{})
	if err != nil || got.Cells > 20000 || got.Error > 1e-4*want || math.Abs(got.Best-want) > got.Error {
		t.Errorf("%d cells, %.6f ± %.6f, want %.6f", got.Cells, got.Best, got.Error, want)
	}
}

// A box with nothing in it has no middle, but no NaN either.
func TestIntegrateOfAnEmptyBox(t *testing.T) {
	none := geom.Subtract(geom.Ball(geom.Vec{}, 1), geom.Ball(geom.Vec{}, 2))
	if none.BoundingBox().IsEmpty() {
		t.Fatal("the box is empty too")
	}
	got, err := geom.Integrate(context.Background(), none, geom.IntegrateOptions{Moments: true})
	if err != nil || got.Best != 0 || got.Hi != 0 || got.Centroid != (geom.Vec{}) || got.Square != (geom.Vec{}) || got.Product != (geom.Vec{}) {
		t.Errorf("got %+v, %v", got, err)
	}
}

func TestIntegrateStopsWhenCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := geom.Integrate(ctx, geom.Ball(geom.Vec{}, 5), geom.IntegrateOptions{}); err != context.Canceled {
		t.Errorf("got %v", err)
	}
}
