package making

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// Frames for a look are closed and hold what those of the mold do, to 0.3 %; they come again for the same mold.
func TestLook(t *testing.T) {
	ctx := context.Background()
	text, heads := example(t, "ball-jig")
	heads = kept(heads)
	run := runOf(t, text, heads)
	if err := run.Open(ctx, nil); err != nil {
		t.Fatal(err)
	}
	if err := run.Look(ctx, 0.2); err != nil {
		t.Fatal(err)
	}
	m := run.Molds[0]
	if len(m.Coarse.Cavities) != 1 || m.Coarse.Cavities[0].Head == m.Solids.Cavities[0].Head {
		t.Error("the head for a look is the head itself")
	}
	for i, half := range m.Solids.Halves() {
		geomtest.CheckMesh(t, m.Frames[i])
		v, err := geom.Integrate(ctx, half.Frame, geom.IntegrateOptions{RelTol: 1e-3})
		if err != nil {
			t.Fatal(err)
		}
		if off := m.Frames[i].Volume()/v.Best - 1; math.Abs(off) > 3e-3 {
			t.Errorf("%s: %.4f %% off", half.Name, 100*off)
		}
	}
	again := runOf(t, text, heads)
	again.Reuse(run)
	if err := again.Open(ctx, nil); err != nil {
		t.Fatal(err)
	}
	if err := again.Look(ctx, 0.2); err != nil {
		t.Fatal(err)
	}
	if again.Molds[0].Frames != m.Frames {
		t.Error("the same mold is meshed again")
	}
}
