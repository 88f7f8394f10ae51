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
	s := slopesOf(ball, turned)
	if math.Abs(s.Mean-0.5) > 0.005 {
		t.Errorf("mean %.4f, want 0.5", s.Mean)
	}
	for i, layer := range LayerHeights {
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
	if s := slopesOf(m, func(p geom.Vec) geom.Vec { return p }); s.Mean > 1e-6 {
		t.Errorf("%+v", s)
	}
}
