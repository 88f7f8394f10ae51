package main

import (
	"context"
	"errors"
	"io"
	"strings"
	"testing"

	"halfpour/geom"
)

// Each claim of the proof is broken once, on a real frame.
func TestProofFails(t *testing.T) {
	ctx := context.Background()
	w, err := openWork(ctx, newTerminal(nil, io.Discard, io.Discard, io.Discard), writeJob(t))
	if err != nil {
		t.Fatal(err)
	}
	const tolerance = 0.2
	half, heads := w.mold.Left, w.cavityHeads()
	mesh, err := geom.Mesh(ctx, half.Frame, geom.MeshOptions{Tolerance: tolerance})
	if err != nil {
		t.Fatal(err)
	}
	moved := func(m *geom.TriMesh, by geom.Vec) *geom.TriMesh {
		return m.Transform(func(v geom.Vec) geom.Vec { return v.Add(by) }, false)
	}
	for _, c := range []struct {
		name  string
		mesh  *geom.TriMesh
		heads []*geom.TriMesh
		want  string // "" for a proof that holds
	}{
		{"sound", mesh, heads, ""},
		{"a triangle short", &geom.TriMesh{Vertices: mesh.Vertices, Triangles: mesh.Triangles[1:]}, heads, "3 open edges"},
		{"too large", mesh.Transform(func(v geom.Vec) geom.Vec { return v.Mul(1.2) }, false), heads, "they may differ by"},
		{"frame moved", moved(mesh, geom.Vec{X: 0.5}), heads, "are farther than 0.2 mm from its surface"},
		{"head moved", mesh, []*geom.TriMesh{moved(heads[0], geom.Vec{Z: 0.5})}, "are farther than 0.2 mm"},
		{"head far off", mesh, []*geom.TriMesh{moved(heads[0], geom.Vec{Z: 2})}, "at most 1 mm is fine"},
		{"head out of the way", mesh, []*geom.TriMesh{moved(heads[0], geom.Vec{Z: -99})}, "no point of a head's own surface"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := proveHalf(ctx, w.mold, half, c.mesh, tolerance, c.heads)
			if c.want == "" {
				if err != nil || p.HeadPoints < 100 {
					t.Errorf("%v, %d points", err, p.HeadPoints)
				}
				return
			}
			if err == nil || !strings.Contains(err.Error(), c.want) || faultOf(err).code != exitFailed {
				t.Errorf("want %q, got %v", c.want, err)
			}
		})
	}
}

func TestProofOfTheWhole(t *testing.T) {
	ctx := context.Background()
	w, err := openWork(ctx, newTerminal(nil, io.Discard, io.Discard, io.Discard), writeJob(t))
	if err != nil {
		t.Fatal(err)
	}
	v, err := w.measure(ctx, volumeShare)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := proveWhole(ctx, w.mold, v.left, v.right); err != nil {
		t.Error(err)
	}
	// Half a head's rubber too much.
	more := 0.5 * w.mold.Cavities[0].HeadVolume
	v.left.Lo, v.left.Best, v.left.Hi = v.left.Lo+more, v.left.Best+more, v.left.Hi+more
	var f *fault
	if _, err := proveWhole(ctx, w.mold, v.left, v.right); !errors.As(err, &f) || f.problems[0].Rule != "proof" {
		t.Errorf("got %v", err)
	}
}

func TestTogetherReportsTheFirstFailure(t *testing.T) {
	broken := errors.New("broken")
	err := together(context.Background(), []func(context.Context) error{
		func(ctx context.Context) error { <-ctx.Done(); return ctx.Err() },
		func(context.Context) error { return broken },
	})
	if !errors.Is(err, broken) {
		t.Errorf("got %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if err := together(ctx, []func(context.Context) error{func(ctx context.Context) error { return ctx.Err() }}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: got %v", err)
	}
}
