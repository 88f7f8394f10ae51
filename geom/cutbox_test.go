package geom

import (
	"math"
	"math/rand"
	"testing"
)

// The volume of the unit cube below x+y+z = t is
// (t³ - 3(t-1)₊³ + 3(t-2)₊³)/6 (inclusion and exclusion).
func TestCutBoxVolumeOfUnitCube(t *testing.T) {
	cube := Box{Vec{}, Vec{1, 1, 1}}
	n := Vec{1, 1, 1}.Unit()
	for _, c := range []struct{ t, want float64 }{
		{0, 0}, {0.5, 1.0 / 48}, {1, 1.0 / 6}, {1.5, 0.5}, {2, 5.0 / 6}, {2.5, 47.0 / 48}, {3, 1},
	} {
		if got := cutBoxVolume(cube, n, c.t/math.Sqrt(3)); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("below x+y+z = %g: got %.15g, want %.15g", c.t, got, c.want)
		}
	}
}

// exactCut is inclusion and exclusion for any normal without zeros.
func exactCut(b Box, n Vec, d float64) float64 {
	sum := 0.0
	for i := 0; i < 8; i++ {
		p := b.Min
		sign := 1.0
		for bit, m := range []float64{n.X, n.Y, n.Z} {
			far := i>>bit&1 != 0
			if far {
				sign = -sign
			}
			if far != (m < 0) {
				q := b.Corner(1 << bit)
				p = p.Add(q.Sub(b.Min))
			}
		}
		if h := d - n.Dot(p); h > 0 {
			sum += sign * h * h * h
		}
	}
	return sum / (6 * math.Abs(n.X*n.Y*n.Z))
}

func TestCutBoxVolumeOfRandomPlanes(t *testing.T) {
	rng := rand.New(rand.NewSource(3))
	for i := 0; i < 20000; i++ {
		b := BoxOf(Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}, Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()})
		n := Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Unit()
		if a := n.Abs(); math.Min(a.X, math.Min(a.Y, a.Z)) < 0.02 {
			continue // the reference loses its digits there
		}
		d := n.Dot(b.Centre()) + b.HalfDiagonal()*(2*rng.Float64()-1)
		got, want := cutBoxVolume(b, n, d), exactCut(b, n, d)
		if math.Abs(got-want) > 1e-8*b.Volume()+1e-12 {
			t.Fatalf("box %v normal %v offset %g: got %.12g, want %.12g", b, n, d, got, want)
		}
	}
}

func TestCutBoxVolumeAlongAxes(t *testing.T) {
	b := Box{Vec{-1, -2, -3}, Vec{1, 2, 3}}
	for _, c := range []struct {
		n    Vec
		d    float64
		want float64
	}{
		{Vec{X: 1}, 0.5, 36}, {Vec{Y: -1}, 1, 36}, {Vec{Z: 1}, -2, 8}, {Vec{Z: 1}, 5, 48}, {Vec{X: -1}, -2, 0},
		{Vec{X: 0.6, Y: 0.8}, 0, 24}, {Vec{X: 1e-9, Z: 1}, 0, 24},
	} {
		if got := cutBoxVolume(b, c.n, c.d); math.Abs(got-c.want) > 1e-6 {
			t.Errorf("normal %v offset %g: got %g, want %g", c.n, c.d, got, c.want)
		}
	}
}
