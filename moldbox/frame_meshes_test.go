package moldbox

import (
	"context"
	"runtime"
	"slices"
	"sync"
	"testing"

	"halfpour/geom"
)

// On few processors one frame is meshed at a time, as meshing takes the memory.
func TestFramesAreMeshedInTurn(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(2))
	mold, heads := provedMold(t)
	rubber := [2]geom.Integral{rubberOf(t, mold.Left), rubberOf(t, mold.Right)}
	var mu sync.Mutex
	var steps []string
	_, err := mold.MakeFrames(context.Background(), FrameOptions{
		Tolerance: 0.4, Heads: heads, Rubber: func(context.Context) ([2]geom.Integral, error) {
			mu.Lock()
			defer mu.Unlock()
			if len(steps) < 2 {
				t.Error("asks for the rubber before anything is meshed")
			}
			return rubber, nil
		},
		Progress: func(_, step string) {
			mu.Lock()
			defer mu.Unlock()
			if step == "splitting space" || step == "done" {
				steps = append(steps, step)
			}
		},
	})
	if want := []string{"splitting space", "done", "splitting space", "done"}; err != nil || !slices.Equal(steps, want) {
		t.Errorf("%v, steps %q, want %q", err, steps, want)
	}
}
