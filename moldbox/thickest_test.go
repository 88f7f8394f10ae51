package moldbox

import (
	"context"
	"reflect"
	"testing"

	"halfpour/geom"
)

// Volume over surface of a ball of radius r is r/3, of a long round bar r/2, of
// a wide plate half its thickness; windows have ends that are not cooled, so
// that a bar or plate is one however long.
func TestThickest(t *testing.T) {
	everything := geom.Box{Min: geom.Vec{X: -100, Y: -100, Z: -100}, Max: geom.Vec{X: 100, Y: 100, Z: 100}}
	ball := geom.Ball(geom.Vec{}, 6)
	bar := geom.Capsule(geom.Vec{X: -40}, geom.Vec{X: 40}, 2)
	plate := geom.Block(geom.Box{Min: geom.Vec{X: -30, Y: -30, Z: -1.5}, Max: geom.Vec{X: 30, Y: 30, Z: 1.5}})
	meshed := func(s geom.Solid) geom.Solid {
		mesh, err := geom.Mesh(context.Background(), s, geom.MeshOptions{Tolerance: 0.01})
		if err != nil {
			t.Fatal(err)
		}
		solid, err := geom.NewMeshSolid(mesh)
		if err != nil {
			t.Fatal(err)
		}
		return solid
	}
	for _, c := range []struct {
		name   string
		metal  geom.Solid
		within geom.Box
		want   Lump
	}{
		{"ball", ball, everything, Lump{2, 6}},
		{"bar", bar, everything, Lump{1, 2}},
		{"plate", plate, everything, Lump{1.5, 1.5}},
		{"mesh of a ball", meshed(ball), everything, Lump{2, 6}},
		{"mesh of a bar", meshed(bar), everything, Lump{1, 2}},
		{"mesh of a plate", meshed(plate), everything, Lump{1.5, 1.5}},
		{"ball with a long thin tail", geom.Union(ball, geom.Capsule(geom.Vec{}, geom.Vec{X: 80}, 0.8)), everything, Lump{1.9, 6}}, // the tail cools too
		{"half a ball below an open top", ball, geom.Box{Min: everything.Min, Max: geom.Vec{X: 100, Y: 0, Z: 100}}, Lump{2, 6}},
		{"nothing in the box", ball, geom.Box{Min: geom.Vec{X: 50, Y: 50, Z: 50}, Max: everything.Max}, Lump{}},
	} {
		got, err := thickest(context.Background(), c.metal, c.within)
		if err != nil {
			t.Fatal(err)
		}
		if !within(got.Modulus, c.want.Modulus, 0.05) || !within(got.Depth, c.want.Depth, depthShare) {
			t.Errorf("%s: got %.3f, want %.3f", c.name, got, c.want)
		}
	}
}

func within(got, want, share float64) bool {
	return got >= (1-share)*want && got <= (1+share)*want
}

// A head and its sprue have a lump each, cavities that are alike share them,
// and a runner adds its own.
func TestLumpsOfAMold(t *testing.T) {
	spec := plainBalls(4, 9)
	spec.Cavities = append(spec.Cavities[:1:1], spec.Cavities...)
	lumps, err := buildOf(t, spec).lumps(context.Background())
	if err != nil || len(lumps) != 4 {
		t.Fatalf("got %v, %v; want two for each size of ball", lumps, err)
	}
	for i, r := range []float64{4, 9} {
		if !within(lumps[2*i].Modulus, r/3, 0.05) || !within(lumps[2*i].Depth, r, depthShare) {
			t.Errorf("ball of %g mm: %+v", r, lumps[2*i])
		}
	}
	mouth := spec.Sprue.Mouth / 2
	if f := lumps[1]; f.Depth < mouth/2 || f.Depth > mouth || f.Modulus > mouth/2 {
		t.Errorf("funnel with a mouth of %g mm: %+v", 2*mouth, f)
	}
	if _, err := (buildOf(t, spec)).lumps(cancelled()); err == nil {
		t.Error("goes on after its context has ended")
	}
}

func cancelled() context.Context {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	return ctx
}

// A head is looked through once: for its own mold, for one with another funnel, and,
// scaled, for one of another size. Nothing comes out otherwise for it.
func TestLumpsAreKept(t *testing.T) {
	ctx := context.Background()
	spec := plainBalls(9)
	first := buildOf(t, spec)
	if _, err := first.lumps(ctx); err != nil {
		t.Fatal(err)
	}
	spec.Sprue.Mouth += 2
	second := buildOf(t, spec)
	want, err := second.lumps(ctx)
	if err != nil {
		t.Fatal(err)
	}
	third := buildOf(t, spec)
	third.KeepLumps(first)
	if third.made.parts[0].lump != first.made.parts[0].lump {
		t.Error("the same head is looked through anew")
	}
	if got, err := third.lumps(ctx); err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("got %v, %v; want %v", got, err, want)
	}
	spec.Cavities[0].Scale = 1.5
	larger, err := NewSketch(ctx, spec, first)
	if err != nil {
		t.Fatal(err)
	}
	if larger.Mold.made.parts[0].lump != first.made.parts[0].lump {
		t.Error("the head of a sketch is looked through anew")
	}
	got, err := larger.Mold.made.parts[0].thickest(ctx)
	if was := want[0]; err != nil || !near6(got.Depth, 1.5*was.Depth) || !near6(got.Modulus, 1.5*was.Modulus) {
		t.Errorf("a sketch has %v (%v) of a head with %v, 1.5 times as large", got, err, was)
	}
	spec.Cavities[0].Head = geom.Ball(geom.Vec{}, 8)
	if other := buildOf(t, spec); true {
		other.KeepLumps(first)
		if other.made.parts[0].lump == first.made.parts[0].lump {
			t.Error("that of another head is taken")
		}
	}
}

func near6(got, want float64) bool { return within(got, want, 1e-6) }
