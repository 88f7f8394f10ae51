package moldbox

import (
	"context"
	"math"
	"testing"

	"halfpour/examples/heads"
	"halfpour/geom"
)

func meshed(t testing.TB, s geom.Solid) *geom.TriMesh {
	t.Helper()
	m, err := geom.Mesh(context.Background(), s, geom.MeshOptions{Tolerance: 0.06})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// A hole that a head was drawn with for a wire is filled, in whatever shape: the head then
// holds what it does without, to a few hundredths of the hole, as the meshes differ. One that the job keeps stays, as
// does one that no wire goes through.
func TestFillBores(t *testing.T) {
	ball := geom.Ball(geom.Vec{}, 6)
	usual := ballSpec(1).Cavities[0]
	usual.MetalVolume = 0
	legs := geom.Wire([]geom.Vec{{X: -1.8, Y: 20}, {X: -1.8}, {X: 20}}, 0.7)
	drawn := drawnCavity(t, drawnHook(t, heads.HookKind{}), true)
	spike := usual
	spike.Keepers = []Keeper{{Wire: 0.9, Fit: 0.05, Points: []geom.Vec{{X: 1, Y: 3}, {X: 12, Y: 3}}}}
	kept := usual
	kept.KeepBores = true
	for _, c := range []struct {
		name   string
		cavity Cavity
		hole   geom.Solid
		bores  int
		says   Severity // of wire-in-hole; "" where the mold is not built
	}{
		{"of leg and shank", usual, legs, 1, ""},
		{"of the shank, blind", usual, geom.Frustum(geom.Vec{X: -1}, geom.Vec{X: 20}, 0.7, 0.7), 1, ""},
		{"a little off the shank", usual, geom.Frustum(geom.Vec{X: -1, Y: 0.3, Z: 0.1}, geom.Vec{X: 20, Y: 0.3, Z: 0.1}, 0.7, 0.7), 1, ""},
		{"cut out by the hook's body", drawn, geom.Move(drawn.Eye).Solid(drawn.Hook.body.solid), 1, ""},
		{"of a keeper", spike, geom.Frustum(geom.Vec{X: 2, Y: 3}, geom.Vec{X: 20, Y: 3}, 0.5, 0.5), 1, ""},
		{"kept", kept, legs, 0, Warn},
		{"too wide for the wire", usual, geom.Frustum(geom.Vec{X: -1}, geom.Vec{X: 20}, 2, 2), 0, ""},
		{"of no wire", usual, geom.Frustum(geom.Vec{X: 3, Y: -20}, geom.Vec{X: 3, Y: -1.5}, 0.7, 0.7), 0, ""},
	} {
		whole := c.cavity.Head
		if c.cavity.Hook.body == nil {
			whole = ball
		}
		m := meshed(t, geom.Subtract(whole, c.hole))
		v := c.cavity
		var err error
		if v.Head, err = geom.NewMeshSolid(m); err != nil {
			t.Fatal(err)
		}
		filled, bores, err := FillBores(context.Background(), m, v)
		if err != nil {
			t.Fatal(err)
		}
		if len(bores) != c.bores || (filled != m) != (c.bores > 0) {
			t.Errorf("%s: %+v", c.name, bores)
			continue
		}
		hole := meshed(t, whole).Volume() - m.Volume()
		if c.bores > 0 {
			near(t, c.name+": filled", filled.Volume()-m.Volume(), hole, 0.03*hole+0.05)
			near(t, c.name+": said to be", bores[0].Volume, hole, 0.03*hole+0.05)
			if v.Head, err = geom.NewMeshSolid(filled); err != nil {
				t.Fatal(err)
			}
		}
		if c.says != "" {
			spec := Default()
			spec.Cavities = []Cavity{v}
			if m := buildOf(t, spec); !hasFinding(m, "wire-in-hole", c.says) {
				t.Errorf("%s: %+v", c.name, m.Findings)
			}
		}
	}
}

// A hole's width is measured whatever place in it the wire has.
func TestWidthOfABore(t *testing.T) {
	for _, off := range []float64{0, 0.3} {
		head := geom.Subtract(geom.Ball(geom.Vec{}, 6), geom.Frustum(geom.Vec{X: -9}, geom.Vec{X: 9}, 0.8, 0.8))
		usual, most := wallRound(head, geom.Vec{Z: off}, geom.Vec{Y: 1}, geom.Vec{Z: 1}, 1.5)
		near(t, "usual", usual, 0.8, 0.04)
		near(t, "most", most, 0.8+off, 0.01)
		if usual, _ := wallRound(head, geom.Vec{Z: off}, geom.Vec{Y: 1}, geom.Vec{Z: 1}, 0.7+off); usual != 0 && off == 0 {
			t.Error("found a wall beyond reach")
		}
	}
	if _, most := wallRound(geom.Ball(geom.Vec{}, 6), geom.Vec{}, geom.Vec{Y: 1}, geom.Vec{Z: 1}, 1); most != 0 || math.IsNaN(most) {
		t.Error("found a hole in solid metal")
	}
}
