package making

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
	"halfpour/moldbox"
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
	if err := run.Look(ctx); err != nil {
		t.Fatal(err)
	}
	m := run.Molds[0]
	if len(m.Coarse.Cavities) != 1 || m.Coarse.Cavities[0].Head == m.Solids.Cavities[0].Head {
		t.Error("the head for a look is the head itself")
	}
	for mesh := range m.shelf.thinned {
		first, err := geom.Thin(ctx, mesh.mesh, mesh.by/thinnings)
		if err != nil {
			t.Fatal(err)
		}
		if few := m.shelf.thinned[mesh].(*geom.MeshSolid).Mesh(); len(few.Triangles) > len(first.Triangles)*2/3 {
			t.Errorf("%d facets for a look, %d after the first turn", len(few.Triangles), len(first.Triangles))
		}
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
	in, err := m.Solids.Measure(ctx, CheckShare, nil)
	if err != nil {
		t.Fatal(err)
	}
	opt := moldbox.FrameOptions{Tolerance: 0.2, Heads: m.cavityHeads(),
		Rubber: func(context.Context) ([2]geom.Integral, error) {
			return [2]geom.Integral{in.Left.Rubber, in.Right.Rubber}, nil
		}}
	m.Rough = true
	rough, err := m.makeFrames(ctx, opt)
	if err != nil {
		t.Fatal(err)
	}
	if p := rough[0].Proof; len(m.shelf.thinned) != 2 || p.Tolerance != opt.Tolerance || p.HeadPoints == 0 {
		t.Errorf("a rough build thins %d heads, held at %d points to %g mm", len(m.shelf.thinned)-1, p.HeadPoints, p.Tolerance)
	}
	again := runOf(t, text, heads)
	again.Reuse(run)
	if err := again.Open(ctx, nil); err != nil {
		t.Fatal(err)
	}
	if err := again.Look(ctx); err != nil {
		t.Fatal(err)
	}
	if again.Molds[0].Frames != m.Frames {
		t.Error("the same mold is meshed again")
	}
}

// The larger a mold is, the coarser it is shown, within bounds.
func TestLookTolerance(t *testing.T) {
	for _, c := range []struct{ wide, high, want float64 }{{20, 30, 0.2}, {80, 60, 0.2}, {60, 90, 0.3}, {139, 77, 0.4}, {400, 300, 0.5}} {
		if got := lookTolerance(geom.Vec{X: c.wide, Y: c.high, Z: 500}); got != c.want {
			t.Errorf("%g x %g mm: %g mm, want %g mm", c.wide, c.high, got, c.want)
		}
	}
}

// A head that is scaled a little differently keeps its fewer facets, and no facet moves
// further than it may.
func TestThinnedOnce(t *testing.T) {
	s := &shelf{thinned: map[thinned]geom.Solid{}}
	mesh, err := geom.Mesh(context.Background(), geom.Ball(geom.Vec{}, 5), geom.MeshOptions{Tolerance: 0.02})
	if err != nil {
		t.Fatal(err)
	}
	first := s.thin(context.Background(), mesh, 0.101)
	if first == nil || s.thin(context.Background(), mesh, 0.103) != first || len(s.thinned) != 1 {
		t.Errorf("thinned %d times", len(s.thinned))
	}
	for k := range s.thinned {
		if !(k.by <= 0.101 && k.by > 0.08) {
			t.Errorf("by %g mm", k.by)
		}
	}
}
