package moldbox

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
)

// barbedWire is a keeper that rises from the shank's side of a ball's collar.
var barbedWire = []geom.Vec{{X: 3, Y: 2}, {X: 9, Y: 2}, {X: 7, Y: 4}}

// Every wire of a mirrored keeper has its image on the other side of the shank, as far
// from it, and is cut and bent alike.
func TestMirroredKeeper(t *testing.T) {
	v := ballCavity(6)
	v.Keepers = []Keeper{{Wire: 0.8, Fit: 0.05, Points: barbedWire, Count: 2, Step: geom.Vec{X: 3}, Mirror: true}}
	ws := v.wires(1)
	if len(ws) != 5 || v.Keepers[0].Wires() != 4 {
		t.Fatalf("%d wires, %d of the keeper", len(ws), v.Keepers[0].Wires())
	}
	shank := -v.Hook.Leg // of its axis, in the hook's plane
	for k := 1; k < 5; k += 2 {
		a, b := ws[k], ws[k+1]
		for i, p := range a.axis.along(0.3) {
			q := b.axis.along(0.3)[i]
			near(t, "along", q.X, p.X, 1e-9)
			near(t, "across", q.Y-shank, -(p.Y - shank), 1e-9)
		}
		for i, s := range a.stretches() {
			q := b.stretches()[i]
			near(t, "straight", q.Straight, s.Straight, 1e-9)
			near(t, "bend", q.Bend, s.Bend, 1e-9)
			near(t, "inside", q.Inside, s.Inside, 1e-9)
		}
		near(t, "volume", b.volume(), a.volume(), 1e-9)
	}
	bare := v
	bare.Hook = nil
	spec := Default()
	spec.Cavities = []Cavity{bare}
	if err := spec.Validate(); err == nil {
		t.Error("mirrored without a hook")
	}
}

// A keeper by its body takes the room of the same by its points, as it lies and mirrored.
func TestKeeperFromItsBody(t *testing.T) {
	v := ballCavity(6)
	given := Keeper{Wire: 0.8, Fit: 0.05, Points: barbedWire, Mirror: true, Count: 2, Step: geom.Vec{X: 1}}
	axis := given.axis(v, 1, 0)
	inFile := geom.Move(v.Eye) // the pose of these tests is the mold's own
	mesh, err := geom.Mesh(context.Background(), axis.tube(0.4, inFile), geom.MeshOptions{Tolerance: 0.01})
	if err != nil {
		t.Fatal(err)
	}
	b, err := MeasureWire(context.Background(), mesh)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "wire", b.Wire, 0.8, 0.02)
	drawn := b.Lay(Keeper{Fit: 0.05, Mirror: true, Count: 2, Step: geom.Vec{X: 1}}, v.Pose, 0)
	near(t, "volume", drawn.Volume(v.Pose), axis.volume(), 0.02*axis.volume())
	byPoints, byBody := v, v
	byPoints.Keepers, byBody.Keepers = []Keeper{given}, []Keeper{drawn}
	ends := func(w partWire) [2]geom.Vec {
		a, c := w.axis.pieces[0].from, w.axis.pieces[len(w.axis.pieces)-1].to
		if a.X < c.X && math.Abs(a.X-c.X) > 0.5 {
			return [2]geom.Vec{a, c}
		}
		return [2]geom.Vec{c, a}
	}
	a, c := byPoints.wires(1), byBody.wires(1)
	if len(a) != len(c) {
		t.Fatalf("%d and %d wires", len(a), len(c))
	}
	for i := 1; i < len(a); i++ {
		for k := range 2 {
			if d := ends(a[i])[k].Dist(ends(c[i])[k]); d > 0.5 { // the body's ends reach half a wire further
				t.Errorf("wire %d: end %d is %.2f mm off", i, k, d)
			}
		}
		mid := a[i].axis.pieces[0].at(0.5)
		if d := c[i].solid(geom.Identity()).Evaluate(mid); math.Abs(d+0.4) > 0.03 {
			t.Errorf("wire %d: its middle is %.3f mm deep in the body, want 0.4", i, -d)
		}
		if d := c[i].bed(geom.Identity()).Evaluate(mid); math.Abs(d+0.45) > 0.03 {
			t.Errorf("wire %d: its middle is %.3f mm deep in the bed, want 0.45", i, -d)
		}
	}
	if list := v.wires(1)[0].stretches(); len(list) < 3 {
		t.Errorf("a hook by its dimensions has %d stretches", len(list))
	}
	v.Keepers = []Keeper{drawn}
	if list := v.wires(1)[1].stretches(); len(list) != 0 {
		t.Errorf("a bought wire has %d stretches to bend", len(list))
	}
}
