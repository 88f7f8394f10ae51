package geom

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
)

// wheel is a closed fan about the first vertex: corners at turns, some way out, at heights.
func wheel(turns, out, high []float64) *TriMesh {
	m := &TriMesh{Vertices: []Vec{{}}}
	n := int32(len(turns))
	for i, turn := range turns {
		s, c := math.Sincos(turn)
		m.Vertices = append(m.Vertices, Vec{out[i] * c, out[i] * s, high[i]})
		m.Triangles = append(m.Triangles, [3]int32{0, 1 + int32(i), 1 + (int32(i)+1)%n})
	}
	return m
}

// rimOf are the outer edges of a fan.
func rimOf(m *TriMesh) (open []int32) {
	for t := range m.Triangles {
		open = append(open, int32(3*t+1))
	}
	return open
}

// Fans that go round once or twice, back and forth, or fold over, turned any way: where
// two triangles meet elsewhere, or would once their corners have wobbled, none is sound.
func TestSoundFansAreSure(t *testing.T) {
	const seed = 5
	rng := rand.New(rand.NewPCG(seed, 0))
	hits := map[[2]bool]int{}
	for round := range 3000 {
		n := 3 + rng.IntN(5)
		wobble := []float64{0, 1e-3, 0.1}[rng.IntN(3)]
		rounds, back := 1+rng.IntN(2), 0.6*rng.Float64()*float64(rng.IntN(2))
		turns, out, high := make([]float64, n), make([]float64, n), make([]float64, n)
		for i := range n {
			turns[i] = 2*math.Pi*float64(rounds)*float64(i)/float64(n) + back*rng.NormFloat64()
			out[i], high[i] = 0.2+rng.Float64(), 0.5*rng.NormFloat64()
		}
		m := wheel(turns, out, high)
		place := Rotate(Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}, 7*rng.Float64()).Then(Move(Vec{X: 10 * rng.NormFloat64()}))
		m = m.Transform(place.Point, false)
		fans, err := m.soundFans(context.Background(), rimOf(m), wobble)
		if err != nil {
			t.Fatal(err)
		}
		crossed := fanCrosses(m)
		for range 10 {
			moved := m.Transform(func(p Vec) Vec {
				return p.Add(Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Unit().Mul(wobble))
			}, false)
			crossed = crossed || fanCrosses(moved)
		}
		if fans.at[0] && crossed {
			t.Fatalf("seed %d, round %d: %v is sound at a wobble of %g mm", seed, round, m, wobble)
		}
		for v := range n {
			if fans.at[1+v] {
				t.Fatalf("round %d: vertex %d at the rim is sound", round, 1+v)
			}
		}
		hits[[2]bool{fans.at[0], crossed}]++
	}
	if hits[[2]bool{true, false}] < 300 || hits[[2]bool{false, true}] < 300 {
		t.Errorf("sound and crossed: %v; the cases are not mixed", hits)
	}
}

// fanCrosses asks of each pair of triangles.
func fanCrosses(m *TriMesh) bool {
	for b := range m.Triangles {
		for a := range b {
			if !m.hasArea(int32(a)) || !m.hasArea(int32(b)) {
				continue
			}
			if _, crosses := trianglesCross(m.cornersOf(int32(a)), m.cornersOf(int32(b))); crosses {
				return true
			}
		}
	}
	return false
}

// All vertices of a ball are sound but those of an edge that is open.
func TestFansOfABallAreSound(t *testing.T) {
	m := icosphere(5, 3)
	for _, open := range [][]int32{nil, {7}} {
		fans, err := m.soundFans(context.Background(), open, wobble)
		if err != nil {
			t.Fatal(err)
		}
		left := 0
		for _, sound := range fans.at {
			if !sound {
				left++
			}
		}
		if left != 2*len(open) {
			t.Errorf("%d vertices are not sound with %d open edges", left, len(open))
		}
	}
}
