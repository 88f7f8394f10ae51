package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

func randomVec(r *rand.Rand) Vec { return Vec{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()} }

// randomTriangle is often thin, and sometimes a line or a point.
func randomTriangle(r *rand.Rand) triangle {
	t := triangle{randomVec(r), randomVec(r), randomVec(r)}
	switch r.IntN(6) {
	case 0:
		t.c = t.a.Lerp(t.b, r.Float64()).Add(randomVec(r).Mul(math.Pow(10, -9*r.Float64())))
	case 1:
		t.c = t.a.Lerp(t.b, float64(r.IntN(5))/2-0.5)
	case 2:
		t.b = t.a.Add(randomVec(r).Mul(1e-6))
	case 3:
		t.b, t.c = t.a, t.a
	}
	return t
}

// slowDistance minimises the distance over the three edges, and over the plane
// where the foot of the perpendicular has no negative weight.
func slowDistance(t *triangle, p Vec) float64 {
	corners := [3]Vec{t.a, t.b, t.c}
	least := math.Inf(1)
	for k, a := range corners {
		u := corners[(k+1)%3].Sub(a)
		s := 0.0
		if long := u.Dot(u); long > 0 {
			s = math.Max(0, math.Min(1, p.Sub(a).Dot(u)/long))
		}
		least = math.Min(least, p.Dist(a.Add(u.Mul(s))))
	}
	u, v, w := t.b.Sub(t.a), t.c.Sub(t.a), p.Sub(t.a)
	uu, uv, vv := u.Dot(u), u.Dot(v), v.Dot(v)
	if det := uu*vv - uv*uv; det > 1e-12*uu*vv {
		x := (vv*w.Dot(u) - uv*w.Dot(v)) / det
		y := (uu*w.Dot(v) - uv*w.Dot(u)) / det
		if x >= 0 && y >= 0 && x+y <= 1 {
			least = math.Min(least, w.Dist(u.Mul(x).Add(v.Mul(y))))
		}
	}
	return least
}

func TestClosestPointOfTriangle(t *testing.T) {
	const seed = 21
	r := rand.New(rand.NewPCG(seed, 0))
	seen := map[feature]int{}
	for range 100000 {
		tri := randomTriangle(r)
		p := randomVec(r).Mul(2)
		way, on := tri.closest(p)
		seen[on]++
		if got, want := way.Norm(), slowDistance(&tri, p); math.Abs(got-want) > 1e-9*(1+want) {
			t.Fatalf("seed %d: %v to %+v: got %.15g on %d, want %.15g", seed, p, tri, got, on, want)
		}
		q := p.Sub(way)
		corners := [4]Vec{tri.a, tri.b, tri.c, tri.a}
		switch {
		case on >= onCorner:
			if d := q.Dist(corners[on-onCorner]); d > 1e-12 {
				t.Fatalf("seed %d: %v of %+v is %g from corner %d", seed, q, tri, d, on-onCorner)
			}
		case on >= onEdge:
			k := on - onEdge
			if d := q.Dist(corners[k]) + q.Dist(corners[k+1]) - corners[k].Dist(corners[k+1]); d > 1e-9 {
				t.Fatalf("seed %d: %v of %+v is off edge %d", seed, q, tri, k)
			}
		}
	}
	if len(seen) != 7 {
		t.Errorf("features seen: %v, want all 7", seen)
	}
}

func TestSolidAngle(t *testing.T) {
	x, y, z := Vec{X: 1}, Vec{Y: 1}, Vec{Z: 1}
	for _, c := range []struct {
		name string
		t    triangle
		p    Vec
		want float64
	}{
		{"an eighth of the sky", triangle{x, y, z}, Vec{}, math.Pi / 2},
		{"from the other side", triangle{x, z, y}, Vec{}, -math.Pi / 2},
		{"half a cube's face", triangle{Vec{1, -1, 1}, Vec{1, 1, 1}, Vec{-1, 1, 1}}, Vec{}, math.Pi / 3},
		// A square of side 2 at a height of 1 over its middle is a face of a cube, 4π/6;
		// lines of symmetry part it in eight.
		{"an eighth of a cube's face", triangle{z, Vec{X: 1, Z: 1}, Vec{1, 1, 1}}, Vec{}, math.Pi / 12},
		{"turned over", triangle{z, Vec{1, 1, 1}, Vec{X: 1, Z: 1}}, Vec{}, -math.Pi / 12},
		{"in its plane", triangle{x, y, Vec{X: -1}}, Vec{X: 0.1, Y: 0.1}, 0},
		// Close to a face one sees all but a hemisphere's rim of it.
		{"close by", triangle{Vec{-1e9, -1e9, 1}, Vec{1e9, -1e9, 1}, Vec{0, 1e9, 1}}, Vec{}, 2 * math.Pi},
	} {
		got := c.t.solidAngle(c.p)
		if math.Abs(got-c.want) > 1e-8 {
			t.Errorf("%s: got %v, want %v", c.name, got, c.want)
		}
	}
}

// A point right over an end of a triangle without width is nearest to that corner,
// not to the edge that ends there: the two have different normals.
func TestNearestFeatureOfALine(t *testing.T) {
	tri := triangle{Vec{}, Vec{X: 1}, Vec{X: 3}}
	for _, c := range []struct {
		x    float64
		want feature
	}{{-2, onCorner}, {0, onCorner}, {0.5, onEdge}, {1, onCorner + 1}, {2, onEdge + 1}, {3, onCorner + 2}, {4, onCorner + 2}} {
		if _, got := tri.closest(Vec{X: c.x, Y: 1}); got != c.want {
			t.Errorf("over x = %g: feature %d, want %d", c.x, got, c.want)
		}
	}
}
