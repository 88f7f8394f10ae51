package geom_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"halfpour/geom"
)

// A row of alike meshes, and what is cut out of a block by them, come to what one does, and
// where each is counts for the moments.
func TestIntegralOfARow(t *testing.T) {
	head := meshSolid(t, lumpMesh(3, 24, 36, 0.1))
	volume := lumpMesh(3, 24, 36, 0.1).Volume()
	odd := geom.Block(geom.BoxOf(geom.Vec{X: 20, Y: 20}, geom.Vec{X: 22, Y: 21, Z: 1}))
	for _, pitch := range []geom.Vec{{X: 11.7}, {X: -9}, {Y: 13, Z: 2}, {X: 8, Y: -8, Z: 0.5}} {
		parts := []geom.Solid{odd}
		var middle geom.Vec
		const n = 4
		for i := range n {
			at := pitch.Mul(float64(i))
			parts, middle = append(parts, geom.Move(at).Solid(head)), middle.Add(at)
		}
		row := geom.Union(parts...)
		got, err := geom.Integrate(context.Background(), row, geom.IntegrateOptions{RelTol: 1e-4, Moments: true})
		if err != nil {
			t.Fatal(err)
		}
		want := n*volume + 2
		if math.Abs(got.Best-want) > 1e-4*want || got.Lo > want || got.Hi < want {
			t.Errorf("pitch %v: %+v, want %.4f mm³", pitch, got, want)
		}
		one, err := geom.Integrate(context.Background(), head, geom.IntegrateOptions{RelTol: 1e-4, Moments: true})
		if err != nil {
			t.Fatal(err)
		}
		at := one.Centroid.Mul(n * volume).Add(middle.Mul(volume)).Add(geom.Vec{X: 21, Y: 20.5, Z: 0.5}.Mul(2)).Mul(1 / want)
		if got.Centroid.Dist(at) > 2e-3 {
			t.Errorf("pitch %v: centroid %v, want %v", pitch, got.Centroid, at)
		}
		box := row.BoundingBox().Grow(1)
		left, err := geom.Integrate(context.Background(), geom.Subtract(geom.Block(box), row), geom.IntegrateOptions{RelTol: 1e-5})
		if err != nil || math.Abs(left.Best-(box.Volume()-want)) > 1e-4*want+left.Error {
			t.Errorf("pitch %v: %+v left of %.4f less %.4f, %v", pitch, left, box.Volume(), want, err)
		}
	}
}

// Far away steps may be less than what 64 bits tell apart.
func TestIntegralOfARowFarAway(t *testing.T) {
	far := geom.Vec{X: 9e8, Y: 9e8, Z: 9e8}
	head := geom.Move(far).Solid(meshSolid(t, blockAt(-3, -3, -3, 3, 3, 3)))
	row := geom.Union(head, geom.Move(geom.Vec{X: 9}).Solid(head))
	within := geom.Box{Min: far, Max: far.Add(geom.Vec{X: 1e-6, Y: 1.2e-7, Z: 1.2e-7})}
	got, err := geom.Integrate(context.Background(), row, geom.IntegrateOptions{Within: within})
	if err != nil || !(got.Lo <= within.Volume() && got.Hi >= within.Volume()) {
		t.Errorf("%+v, %v, want %g mm³", got, err, within.Volume())
	}
}

func TestIntegralOfARowKnowsWhatIsOdd(t *testing.T) {
	head := meshSolid(t, lumpMesh(3, 24, 36, 0.1))
	rng := rand.New(rand.NewPCG(5, 9))
	for range 20 {
		pitch := geom.Vec{X: 7 + 5*rng.Float64()}
		row := geom.Union(head, geom.Move(pitch).Solid(head), geom.Move(pitch.Mul(2)).Solid(head))
		one := lumpMesh(3, 24, 36, 0.1).Volume()
		// A block between two of them, and one within a head: it is 1 mm³ of it.
		at := pitch.Mul(float64(rng.IntN(3)))
		s := geom.Subtract(row, geom.Block(geom.BoxOf(at.Add(geom.Vec{X: -0.5, Y: -0.5, Z: -0.5}), at.Add(geom.Vec{X: 0.5, Y: 0.5, Z: 0.5}))))
		got, err := geom.Integrate(context.Background(), s, geom.IntegrateOptions{RelTol: 1e-4})
		if want := 3*one - 1; err != nil || math.Abs(got.Best-want) > 1e-4*want {
			t.Errorf("%v: %.4f mm³, want %.4f, %v", at, got.Best, want, err)
		}
	}
}
