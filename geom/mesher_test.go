package geom_test

import (
	"context"
	"fmt"
	"math"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// gridSolid is the trilinear field over a 4×4×4 grid of 1 mm in which the
// eight inner points are inside where mask has a bit and all others are
// outside.
type gridSolid struct{ mask int }

func (g gridSolid) at(x, y, z int) float64 {
	if x < 1 || x > 2 || y < 1 || y > 2 || z < 1 || z > 2 {
		return 1
	}
	if g.mask>>((x-1)|(y-1)<<1|(z-1)<<2)&1 != 0 {
		return -1
	}
	return 1
}

func (g gridSolid) Evaluate(p geom.Vec) float64 {
	q := p.Max(geom.Vec{}).Min(geom.Vec{X: 3, Y: 3, Z: 3})
	x, y, z := math.Min(2, math.Floor(q.X)), math.Min(2, math.Floor(q.Y)), math.Min(2, math.Floor(q.Z))
	fx, fy, fz := q.X-x, q.Y-y, q.Z-z
	v := 0.0
	for i := 0; i < 8; i++ {
		w := 1.0
		for k, f := range [3]float64{fx, fy, fz} {
			if i>>k&1 != 0 {
				w *= f
			} else {
				w *= 1 - f
			}
		}
		v += w * g.at(int(x)+i&1, int(y)+i>>1&1, int(z)+i>>2)
	}
	// A value changes by at most 2 per mm along each axis.
	return v/(2*math.Sqrt(3)) + p.Dist(q)
}

func (g gridSolid) BoundingBox() geom.Box {
	return geom.Box{Max: geom.Vec{X: 3, Y: 3, Z: 3}}
}

func TestMeshOfEveryCornerMask(t *testing.T) {
	for mask := 1; mask < 256; mask++ {
		m, err := geom.Mesh(context.Background(), gridSolid{mask}, geom.MeshOptions{Tolerance: 0.1})
		if err != nil {
			t.Fatal(err)
		}
		if len(m.Triangles) == 0 {
			t.Fatalf("mask %08b: no triangles", mask)
		}
		t.Run(fmt.Sprintf("%08b", mask), func(t *testing.T) { geomtest.CheckMesh(t, m) })
	}
}

// inBlock is a box with room for random solids in the tests below.
var inBlock = geom.Box{Min: geom.Vec{X: -10, Y: -10, Z: -10}, Max: geom.Vec{X: 10, Y: 10, Z: 10}}

func randomPoint(rng *rand.Rand, b geom.Box) geom.Vec {
	s := b.Size()
	return b.Min.Add(geom.Vec{X: s.X * rng.Float64(), Y: s.Y * rng.Float64(), Z: s.Z * rng.Float64()})
}

func randomPrimitive(rng *rand.Rand) geom.Solid {
	p, q := randomPoint(rng, inBlock), randomPoint(rng, inBlock)
	r := 0.5 + 3*rng.Float64()
	var s geom.Solid
	switch rng.Intn(5) {
	case 0:
		s = geom.Ball(p, r)
	case 1:
		s = geom.Block(geom.BoxOf(p, q).Grow(0.3))
	case 2:
		s = geom.Frustum(p, q, r, 0.3+r*rng.Float64())
	case 3:
		s = geom.Capsule(p, q, r)
	default:
		s = geom.Torus(p, q, r+2, 0.3+r/2)
	}
	if rng.Intn(2) == 0 {
		turn := geom.Rotate(randomPoint(rng, inBlock).Unit(), 7*rng.Float64())
		s = turn.Solid(s)
	}
	return s
}

func randomSolid(rng *rand.Rand, n int) geom.Solid {
	s := randomPrimitive(rng)
	for i := 1; i < n; i++ {
		o := randomPrimitive(rng)
		switch rng.Intn(4) {
		case 0:
			s = geom.Subtract(s, o)
		default:
			s = geom.Union(s, o)
		}
	}
	return s
}

func TestMeshOfRandomSolids(t *testing.T) {
	const seed = 11
	rng := rand.New(rand.NewSource(seed))
	for i := range geomtest.Rounds(4, 12) {
		n := 2 + rng.Intn(20)
		s := randomSolid(rng, n)
		t.Run(fmt.Sprintf("seed %d round %d of %d parts", seed, i, n), func(t *testing.T) {
			const tol = 0.05
			m, err := geom.Mesh(context.Background(), s, geom.MeshOptions{Tolerance: tol})
			if err != nil {
				t.Fatal(err)
			}
			geomtest.CheckMesh(t, m)
			got, err := geom.Integrate(context.Background(), s, geom.IntegrateOptions{RelTol: 1e-3})
			if err != nil {
				t.Fatal(err)
			}
			if d := math.Abs(m.Volume() - got.Best); d > tol*m.Area()+got.Error {
				t.Errorf("mesh %.3f mm³, integral %.3f mm³: apart by more than tolerance × area", m.Volume(), got.Best)
			}
		})
	}
}

func TestMeshIsTheSameForAnyWorkers(t *testing.T) {
	s := randomSolid(rand.New(rand.NewSource(5)), 12)
	one, err := geom.Mesh(context.Background(), s, geom.MeshOptions{Tolerance: 0.1, Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	many, err := geom.Mesh(context.Background(), s, geom.MeshOptions{Tolerance: 0.1, Workers: 7})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(one.Vertices, many.Vertices) || !slices.Equal(one.Triangles, many.Triangles) {
		t.Error("meshes by 1 and by 7 workers differ")
	}
}

// A block becomes the twelve triangles that it is, its corners exact.
func TestMeshOfABlockIsItself(t *testing.T) {
	b := geom.Box{Min: geom.Vec{X: -5, Y: -4, Z: -3}, Max: geom.Vec{X: 5, Y: 4, Z: 3}}
	m, err := geom.Mesh(context.Background(), geom.Block(b), geom.MeshOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if len(m.Triangles) != 12 || math.Abs(m.Volume()-480) > 1e-5 {
		t.Errorf("got %d triangles of %.9f mm³, want 12 of 480", len(m.Triangles), m.Volume())
	}
	for _, v := range m.Vertices {
		near := math.Inf(1)
		for i := 0; i < 8; i++ {
			near = math.Min(near, v.Dist(b.Corner(i)))
		}
		if near > 1e-6 {
			t.Errorf("vertex %v is %.3g mm from the nearest corner", v, near)
		}
	}
}

func TestMeshDeviation(t *testing.T) {
	for name, s := range map[string]geom.Solid{
		"ball":           geom.Ball(geom.Vec{X: 1.1}, 5),
		"torus":          geom.Torus(geom.Vec{}, geom.Vec{X: 1, Y: 2, Z: 3}.Unit(), 6, 1),
		"frustum":        geom.Frustum(geom.Vec{}, geom.Vec{X: 3, Y: 7, Z: 2}, 4, 1),
		"half wire":      geom.Union(geom.Block(geom.Box{Min: geom.Vec{X: -8, Y: -3, Z: -2}, Max: geom.Vec{X: 8, Y: 3}}), geom.Capsule(geom.Vec{X: -6, Y: 0.7}, geom.Vec{X: 6, Y: -0.9}, 0.25)),
		"shallow groove": geom.Subtract(geom.Block(geom.Box{Min: geom.Vec{X: -8, Y: -3, Z: -2}, Max: geom.Vec{X: 8, Y: 3}}), geom.Block(geom.Box{Min: geom.Vec{X: -6, Y: -0.5, Z: -0.3}, Max: geom.Vec{X: 6, Y: 0.5, Z: 1}})),
	} {
		for _, tol := range []float64{0.05, 0.02} {
			m, err := geom.Mesh(context.Background(), s, geom.MeshOptions{Tolerance: tol})
			if err != nil {
				t.Fatal(err)
			}
			d, at, err := geom.Deviation(context.Background(), m, s)
			if err != nil || d > tol {
				t.Errorf("%s at %g mm: %d triangles, farthest %.4f mm at %v, %v", name, tol, len(m.Triangles), d, at, err)
			}
		}
	}
}

func TestMeshStopsWhenCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if m, err := geom.Mesh(ctx, geom.Ball(geom.Vec{}, 5), geom.MeshOptions{}); err != context.Canceled {
		t.Errorf("got %v, %v", m, err)
	}
}

func TestMeshRefuses(t *testing.T) {
	inf := math.Inf(1)
	for name, c := range map[string]struct {
		s    geom.Solid
		tol  float64
		want string
	}{
		"half space":            {geom.HalfSpace(geom.Vec{Z: 1}, 0), 0, "finite box"},
		"nothing":               {geom.Union(), 0, "finite box"},
		"endless upwards":       {geom.Block(geom.Box{Max: geom.Vec{X: 1, Y: 1, Z: inf}}), 0, "finite box"},
		"endless downwards":     {geom.Block(geom.Box{Min: geom.Vec{Z: -inf}, Max: geom.Vec{X: 1, Y: 1}}), 0, "finite box"},
		"too fine":              {geom.Ball(geom.Vec{}, 1), 1e-6, "tolerance must be at least"},
		"too large":             {geom.Ball(geom.Vec{}, 1e8), 0.02, "too large"},
		"too large one way":     {geom.Capsule(geom.Vec{}, geom.Vec{Y: 1e8}, 1), 0.02, "too large"},
		"a tolerance of no use": {geom.Ball(geom.Vec{}, 1), math.NaN(), "tolerance must be at least"},
	} {
		_, err := geom.Mesh(context.Background(), c.s, geom.MeshOptions{Tolerance: c.tol})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}
