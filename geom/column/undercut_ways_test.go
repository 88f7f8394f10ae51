package column

import (
	"math/rand/v2"
	"testing"
)

// The tree finds what looking at every line finds.
func TestNearestFreeLine(t *testing.T) {
	const seed = 11
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	for range 300 {
		nx, ny := 1+rnd.IntN(40), 1+rnd.IntN(40)
		tops, share := make([]float32, nx*ny), rnd.Float64()
		for k := range tops {
			if tops[k] = rnd.Float32(); rnd.Float64() < share {
				tops[k] += 1
			}
		}
		f := newFreeLines(nx, ny, tops)
		for range 50 {
			i, j, height := rnd.IntN(nx), rnd.IntN(ny), 1.2*rnd.Float64()
			toI, toJ, far := f.nearest(i, j, height)
			want := way{i: i, j: j, far: 1 << 30}
			for b := -1; b <= ny; b++ {
				for a := -1; a <= nx; a++ {
					if a < 0 || b < 0 || a == nx || b == ny || float64(tops[b*nx+a]) <= height {
						want.take(a, b)
					}
				}
			}
			if toI != want.toI || toJ != want.toJ || far != want.far {
				t.Fatalf("%d × %d lines, from (%d, %d) over %g: got (%d, %d), %d, want (%d, %d), %d", nx, ny, i, j, height, toI, toJ, far, want.toI, want.toJ, want.far)
			}
		}
	}
}
