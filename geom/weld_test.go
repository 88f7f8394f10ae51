package geom

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
)

func TestWeldJoinsEqualPointsInOrderSeen(t *testing.T) {
	minus0 := math.Copysign(0, -1)
	got := Weld([]Vec{
		{X: 1}, {Y: 2}, {X: minus0, Y: minus0, Z: minus0},
		{}, {Y: 2}, {Y: math.Nextafter(2, 3)},
		{X: 9}, // no whole triangle
	})
	want := &TriMesh{
		Vertices:  []Vec{{X: 1}, {Y: 2}, {}, {Y: math.Nextafter(2, 3)}},
		Triangles: [][3]int32{{0, 1, 2}, {2, 1, 3}},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	if math.Signbit(got.Vertices[2].X) {
		t.Error("-0 was kept")
	}
	if m := Weld(nil); len(m.Triangles) != 0 || len(m.Vertices) != 0 {
		t.Errorf("nothing welded gave %v", m)
	}
}

// The hash table must agree with a map, whatever its size and load.
func TestWelderAgreesWithMap(t *testing.T) {
	const seed = 20
	rng := rand.New(rand.NewPCG(seed, 0))
	for _, n := range []int{1, 7, 100, 5000, 40000} {
		w, index := NewWelder(n/3), map[Vec]int32{}
		for range n {
			// A coarse lattice repeats points, and its coordinates have few bits.
			p := Vec{float64(rng.IntN(40)) / 8, float64(rng.IntN(40)) - 20, float64(float32(rng.IntN(9)) * 0.1)}
			want, seen := index[p]
			if !seen {
				want = int32(len(index))
				index[p] = want
			}
			if got := w.Index(p); got != want {
				t.Fatalf("seed %d, n %d: %v has index %d, want %d", seed, n, p, got, want)
			}
		}
		for i, p := range w.Points() {
			if index[p] != int32(i) {
				t.Fatalf("seed %d, n %d: point %d is %v", seed, n, i, p)
			}
		}
	}
}

// Lattices are what meshers make and what weak hashes stumble over.
func TestHashSpreadsLattices(t *testing.T) {
	for name, step := range map[string]float64{"binary": 0.25, "decimal": float64(float32(0.1)), "large": 1024} {
		const side, slots = 64, 1 << 19 // half full
		var filled int
		used := make([]bool, slots)
		for i := range side * side * side {
			p := Vec{float64(i%side) * step, float64(i/side%side) * step, float64(i/side/side) * step}
			if h := hashVec(p) & (slots - 1); !used[h] {
				used[h] = true
				filled++
			}
		}
		// Random hashing at load 1/2 fills 1-exp(-1/2) of the table.
		want := (1 - math.Exp(-0.5)) * slots
		if float64(filled) < 0.97*want {
			t.Errorf("%s lattice fills %d slots, a random hash about %.0f", name, filled, want)
		}
	}
}

func TestRounded32(t *testing.T) {
	m := &TriMesh{
		Vertices: []Vec{{X: 99}, {X: 0.1}, {X: 1}, {X: 1 + 1e-12}, {Y: 1}},
		// Vertex 0 is not used; 2 and 3 are one float32.
		Triangles: [][3]int32{{1, 2, 4}, {2, 3, 4}},
	}
	want := &TriMesh{
		Vertices:  []Vec{{X: float64(float32(0.1))}, {X: 1}, {Y: 1}},
		Triangles: [][3]int32{{0, 1, 2}, {1, 1, 2}},
	}
	if got := Rounded32(m); !reflect.DeepEqual(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}
