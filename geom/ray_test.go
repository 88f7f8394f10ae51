package geom

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
)

// Rays to a meshed ball meet it where they meet the ball, from outside and from
// within, and rays past it meet nothing; what is nearest on its cut lies on the
// circle (analytic).
func TestRaysToABall(t *testing.T) {
	const radius, off = 5.0, 0.02
	centre := Vec{X: 1, Y: -2, Z: 3}
	m, err := Mesh(context.Background(), Ball(centre, radius), MeshOptions{Tolerance: off})
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(1, 2))
	random := func() Vec { return Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}.Unit() }
	for range 200 {
		way, start := random(), centre.Add(random().Mul(3*radius))
		to := centre.Add(random().Mul(0.9 * radius)).Sub(start)
		at, ok := m.FirstHit(start, to.Mul(1+r.Float64()))
		if !ok || math.Abs(at.Sub(centre).Norm()-radius) > 2*off || at.Sub(start).Norm() > to.Norm() {
			t.Fatalf("from %v along %v: %v, %v", start, to, at, ok)
		}
		if at, ok = m.FirstHit(centre, way); !ok || at.Sub(centre.Add(way.Mul(radius))).Norm() > 2*off {
			t.Fatalf("from within along %v: %v, %v", way, at, ok)
		}
		if at, ok = m.FirstHit(centre.Add(way.Mul(3*radius)), way); ok {
			t.Fatalf("away from it: %v", at)
		}
		d := way.Dot(centre) + (2*r.Float64()-1)*0.9*radius
		p := centre.Add(random().Mul(2 * radius))
		at, ok = m.NearestCut(way, d, p)
		middle := centre.Add(way.Mul(d - way.Dot(centre)))
		flat := p.Sub(middle)
		want := middle.Add(flat.Sub(way.Mul(way.Dot(flat))).Unit().Mul(math.Sqrt(radius*radius - math.Pow(d-way.Dot(centre), 2))))
		if !ok || at.Sub(want).Norm() > 0.4 || math.Abs(way.Dot(at)-d) > 1e-9 || at.Sub(p).Norm() > want.Sub(p).Norm()+4*off {
			t.Fatalf("nearest to %v in the plane %v, %v: %v, %v, want %v", p, way, d, at, ok, want)
		}
	}
	if _, ok := m.NearestCut(Vec{X: 1}, centre.X+radius+1, centre); ok {
		t.Error("a plane beside the ball cuts it")
	}
}
