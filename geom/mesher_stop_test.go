package geom_test

import (
	"context"
	"errors"
	"slices"
	"sync"
	"testing"
	"time"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// longScene takes some tenths of a second to mesh and to measure: fine meshes,
// curved parts, and sharp edges between them.
func longScene(t testing.TB) geom.Solid {
	lump := meshSolid(t, lumpMesh(8, 100, 140, 0.05))
	parts := []geom.Solid{geom.Block(geom.Box{Min: geom.Vec{X: -20, Y: -15, Z: -3}, Max: geom.Vec{X: 20, Y: 15, Z: 0}})}
	for _, side := range []float64{-1, 1} {
		parts = append(parts, geom.Move(geom.Vec{X: 9 * side}).Solid(lump),
			geom.Torus(geom.Vec{X: 9 * side, Z: 2}, geom.Vec{X: 1, Y: side, Z: 3}.Unit(), 7, 2))
	}
	return geom.Subtract(geom.Union(parts...), geom.Capsule(geom.Vec{X: -30, Y: 1, Z: 6}, geom.Vec{X: 30, Z: 7}, 1))
}

// stages are those of Mesh in their order.
var stages = []string{"splitting space", "sampling the surface", "thinning flat areas", "done"}

// Progress never falls, keeps to the order of the stages and ends at 1.
func TestMeshReportsProgress(t *testing.T) {
	last, stage, heard := 0.0, 0, 0
	_, err := geom.Mesh(context.Background(), longScene(t), geom.MeshOptions{Tolerance: 0.1, Progress: func(name string, done float64) {
		heard++
		at := slices.Index(stages, name)
		if at < stage || done < last || done > 1 {
			t.Errorf("after %q at %.3f came %q at %.3f", stages[stage], last, name, done)
		}
		last, stage = done, max(at, 0)
	}})
	if err != nil {
		t.Fatal(err)
	}
	if last != 1 || stages[stage] != "done" || heard < len(stages) {
		t.Errorf("heard %d times, last %q at %.3f", heard, stages[stage], last)
	}
}

// A cancelled call comes back soon, whatever it is at. The bound is loose, for
// machines under load; -v tells what it took.
func TestWorkStopsSoonAfterCancelling(t *testing.T) {
	s := longScene(t)
	// mesh cancels some time after a stage has begun.
	mesh := func(stage string) func(context.Context, func()) error {
		return func(ctx context.Context, begin func()) error {
			_, err := geom.Mesh(ctx, s, geom.MeshOptions{Tolerance: 0.1, Progress: func(name string, _ float64) {
				if name == stage {
					begin()
				}
			}})
			return err
		}
	}
	works := map[string]func(context.Context, func()) error{
		"integrate": func(ctx context.Context, begin func()) error {
			begin()
			_, err := geom.Integrate(ctx, s, geom.IntegrateOptions{RelTol: 1e-7})
			return err
		},
	}
	for _, stage := range stages[:len(stages)-1] {
		works[stage] = mesh(stage)
	}
	for name, work := range works {
		worst := time.Duration(0)
		for _, after := range []time.Duration{3 * time.Millisecond, 70 * time.Millisecond}[:geomtest.Rounds(1, 2)] {
			took, err := cancelAfter(after, work)
			if err != nil && !errors.Is(err, context.Canceled) {
				t.Errorf("%s cancelled after %v: %v", name, after, err)
			}
			if took > 5*time.Second { // a machine may have better things to do
				t.Errorf("%s cancelled after %v took %v more", name, after, took)
			}
			worst = max(worst, took)
		}
		t.Logf("%s: at most %v after cancelling", name, worst)
	}
}

// cancelAfter cancels work some time after it calls begin, and returns how long
// it took from then on.
func cancelAfter(after time.Duration, work func(ctx context.Context, begin func()) error) (time.Duration, error) {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	cancelled := make(chan time.Time, 1)
	var once sync.Once
	err := work(ctx, func() {
		once.Do(func() {
			time.AfterFunc(after, func() {
				cancelled <- time.Now()
				cancel()
			})
		})
	})
	select {
	case at := <-cancelled:
		return time.Since(at), err
	default:
		return 0, err // it had ended before
	}
}
