package moldbox

import (
	"math"
	"testing"

	"halfpour/geom"
)

// Of a ball the area is evenly spread over the cosine (Archimedes), so that its mean is
// one half, and the share above 1/√(1 + t²) lies in steps wider than 1 mm of layers t.
func TestSlopesOfABall(t *testing.T) {
	turned := func(p geom.Vec) geom.Vec { return geom.Vec{X: p.Z, Y: p.X, Z: 3 + 1.7*p.Y} }
	ball, err := geom.Mesh(t.Context(), geom.Ball(geom.Vec{}, 5), geom.MeshOptions{Tolerance: 0.004})
	if err != nil {
		t.Fatal(err)
	}
	layers := UsualLayers(0.4)
	s := slopesOf(ball, turned, layers)
	if math.Abs(s.Mean-0.5) > 0.005 {
		t.Errorf("mean %.4f, want 0.5", s.Mean)
	}
	for i, layer := range layers {
		if want := 1 - 1/math.Sqrt(1+layer*layer); math.Abs(s.Wider[i]-want) > 0.004 {
			t.Errorf("layers of %g mm: %.4f of the ball in wide steps, want %.4f", layer, s.Wider[i], want)
		}
	}
}

// A block's faces are level or upright, whichever way it is turned by right angles.
func TestSlopesOfABlock(t *testing.T) {
	m, err := geom.Mesh(t.Context(), geom.Block(geom.Box{Max: geom.Vec{X: 3, Y: 4, Z: 5}}), geom.MeshOptions{Tolerance: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	if s := slopesOf(m, func(p geom.Vec) geom.Vec { return p }, nil); s.Mean > 1e-6 {
		t.Errorf("%+v", s)
	}
}

// On a ball of radius r the surface rises over z = √(r² - ρ²) at ρ from its middle, so that
// it runs z/ρ for each mm; both flanks are alike, and nothing lies beyond r.
func TestRunsOfABall(t *testing.T) {
	const r = 5.0
	ball, err := geom.Mesh(t.Context(), geom.Ball(geom.Vec{}, r), geom.MeshOptions{Tolerance: 0.002})
	if err != nil {
		t.Fatal(err)
	}
	middle := geom.Vec{X: 30, Y: -8}
	for side, m := range slopesOf(ball, func(p geom.Vec) geom.Vec { return p.Add(middle) }, nil).Runs {
		seen := 0
		for k, run := range m.Runs {
			at := m.Least.Add(geom.Vec{X: float64(k%m.NX) * m.Step, Y: float64(k/m.NX) * m.Step}).Sub(middle)
			out := math.Hypot(at.X, at.Y)
			switch {
			case run < 0 && out < r-0.1 || run >= 0 && out > r:
				t.Fatalf("flank %d, %g mm from the middle: %g", side, out, run)
			case run >= 0 && out > 1 && out < r-0.5:
				seen++
				if want := math.Sqrt(r*r-out*out) / out; math.Abs(float64(run)/want-1) > 0.12 {
					t.Fatalf("flank %d, %g mm from the middle: %g, want %g", side, out, run, want)
				}
			}
		}
		if seen < 10000 {
			t.Errorf("flank %d: %d cells", side, seen)
		}
	}
}
