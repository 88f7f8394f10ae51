package moldbox

import (
	"context"
	"runtime"
	"slices"
	"sync"
	"testing"

	"halfpour/geom"
)

// On few processors one frame is meshed at a time, as meshing takes the memory. Whoever asks
// has each mesh before it is proved, and the same one after.
func TestFramesAreMeshedInTurn(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(2))
	mold, heads := provedMold(t)
	rubber := [2]geom.Integral{rubberOf(t, mold.Left), rubberOf(t, mold.Right)}
	var mu sync.Mutex
	var steps []string
	var meshed [2]*geom.TriMesh
	_, err := mold.MakeFrames(context.Background(), FrameOptions{
		Tolerance: 0.4, Heads: heads, Rubber: func(context.Context) ([2]geom.Integral, error) {
			mu.Lock()
			defer mu.Unlock()
			if len(steps) < 2 {
				t.Error("asks for the rubber before anything is meshed")
			}
			return rubber, nil
		},
		Meshed: func(half int, mesh *geom.TriMesh) {
			mu.Lock()
			defer mu.Unlock()
			meshed[half] = mesh
		},
		Made: func(half int, f FrameMesh) {
			mu.Lock()
			defer mu.Unlock()
			if meshed[half] != f.Mesh {
				t.Errorf("half %d is another mesh once it is proved", half)
			}
		},
		Progress: func(name, step string) {
			mu.Lock()
			defer mu.Unlock()
			if half := map[string]int{"left": 0, "right": 1}[name]; step == "proving" && meshed[half] == nil {
				t.Errorf("the %s half is proved before its mesh is told", name)
			}
			if step == "splitting space" || step == "done" {
				steps = append(steps, step)
			}
		},
	})
	if want := []string{"splitting space", "done", "splitting space", "done"}; err != nil || !slices.Equal(steps, want) {
		t.Errorf("%v, steps %q, want %q", err, steps, want)
	}
}
