package geom

import (
	"math"
	"math/rand/v2"
	"sync"
	"testing"
)

// The threshold is 1/2, so an error of 0.1 leaves a wide margin.
func TestWindingNumber(t *testing.T) {
	two := cubeMesh(1, Vec{})
	two.Vertices = append(two.Vertices, cubeMesh(1, Vec{0.5, 0.4, 0.3}).Vertices...)
	for _, k := range two.Triangles[:12] {
		two.Triangles = append(two.Triangles, [3]int32{k[0] + 8, k[1] + 8, k[2] + 8})
	}
	for name, m := range map[string]*TriMesh{"two cubes": two, "ball": icosphere(1, 3), "bumpy": bumpy(icosphere(1, 3), 0.4)} {
		const seed = 25
		r := rand.New(rand.NewPCG(seed, 0))
		w := &winding{tree: newBVH(m)}
		worst, rounds := 0.0, [3]int{}
		for range 1000 {
			p := randomIn(r, m.BoundingBox().Grow(0.3))
			if r.IntN(2) == 0 { // close to the surface, where it matters
				p = m.Vertices[r.IntN(len(m.Vertices))].Add(randomVec(r).Mul(0.01))
			}
			exact := 0.0
			for i := range w.tree.triangles {
				exact += w.tree.triangles[i].solidAngle(p) / (4 * math.Pi)
			}
			worst = max(worst, math.Abs(w.at(p)-exact))
			rounds[int(math.Round(exact))]++
		}
		if worst > 0.1 {
			t.Errorf("%s, seed %d: off by up to %g", name, seed, worst)
		}
		if rounds[0] == 0 || rounds[1] == 0 || (name == "two cubes") != (rounds[2] > 0) {
			t.Errorf("%s, seed %d: winds %v", name, seed, rounds)
		}
		t.Logf("%s: off by up to %.3g", name, worst)
	}
}

func TestWindingIsSafeForConcurrentUse(t *testing.T) {
	w := &winding{tree: newBVH(icosphere(1, 3))}
	var group sync.WaitGroup
	for range 4 {
		group.Add(1)
		go func() {
			defer group.Done()
			if v := w.at(Vec{}); math.Abs(v-1) > 0.1 {
				t.Errorf("at the middle: got %g, want 1", v)
			}
		}()
	}
	group.Wait()
}

func TestJoinDipoles(t *testing.T) {
	a := dipole{at: Vec{X: 1}, normal: Vec{Z: 1}, area: 1, radius: 2}
	b := dipole{at: Vec{X: 5}, normal: Vec{Y: 3}, area: 3, radius: 0.5}
	if got, want := joinDipoles(&a, &b), (dipole{Vec{X: 4}, Vec{0, 3, 1}, 4, 5}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	a.area, b.area = 0, 0 // collapsed triangles
	if got := joinDipoles(&a, &b); got.at != a.at || got.radius != 4.5 {
		t.Errorf("without area: %+v", got)
	}
}
