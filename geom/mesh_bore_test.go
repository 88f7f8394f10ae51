package geom

import (
	"context"
	"math"
	"testing"
)

// A bore is filled as if it was not drawn: through, blind, bent, slanted at its mouth, of
// any meshing; nothing else of the mesh changes.
func TestFillBore(t *testing.T) {
	ctx := context.Background()
	block := Block(BoxOf(Vec{X: -8, Y: -5, Z: -5}, Vec{X: 8, Y: 5, Z: 5}))
	ball := Ball(Vec{}, 8)
	straight := []Vec{{X: -12}, {X: -7}, {X: 0}, {X: 7}, {X: 12}}
	bent := []Vec{{X: -4, Y: 14}, {X: -4, Y: 5}, {X: -4, Y: 1}, {X: -3.7, Y: 0.3}, {X: -3}, {X: 5}, {X: 14}}
	slanted := []Vec{{X: -10, Y: -10}, {X: -5, Y: -5}, {}, {X: 4, Y: 4}, {X: 10, Y: 10}}
	for _, c := range []struct {
		name   string
		whole  Solid
		bore   Solid
		line   []Vec
		reach  float64
		within float64 // mm³
	}{
		{"through a block", block, Frustum(Vec{X: -9}, Vec{X: 9}, 0.8, 0.8), straight, 1, 0.02},
		{"through a ball", ball, Frustum(Vec{X: -9}, Vec{X: 9}, 0.8, 0.8), straight, 1, 0.4},
		{"blind, flat at its end", block, Frustum(Vec{X: 2}, Vec{X: 9}, 0.8, 0.8), []Vec{{X: -2}, {X: 3}, {X: 7}, {X: 12}}, 1.2, 0.02},
		{"blind, with a cone", block, Union(Frustum(Vec{X: 2}, Vec{X: 9}, 0.8, 0.8), Frustum(Vec{X: 1.5}, Vec{X: 2.1}, 0.02, 0.8)), []Vec{{X: -2}, {X: 3}, {X: 7}, {X: 12}}, 1.2, 0.02},
		{"bent in a ball", ball, Wire([]Vec{{X: -4, Y: 20}, {X: -4}, {X: 20}}, 0.6), bent, 1, 0.4},
		{"slanted through a block", block, Frustum(Vec{X: -9, Y: -9}, Vec{X: 9, Y: 9}, 0.8, 0.8), slanted, 2.1, 0.02},
		{"wider at its mouth", block, Union(Frustum(Vec{X: -9}, Vec{X: 9}, 0.8, 0.8), Frustum(Vec{X: 7.4}, Vec{X: 8.4}, 0.8, 1.8)), straight, 1.6, 0.02},
	} {
		for _, fine := range []float64{0.04, 0.1} {
			m, err := Mesh(ctx, Subtract(c.whole, c.bore), MeshOptions{Tolerance: fine})
			if err != nil {
				t.Fatal(err)
			}
			want, err := Mesh(ctx, c.whole, MeshOptions{Tolerance: fine})
			if err != nil {
				t.Fatal(err)
			}
			filled, ok := FillBore(m, c.line, c.reach)
			if !ok {
				t.Errorf("%s: not filled", c.name)
				continue
			}
			if got := filled.Volume(); math.Abs(got-want.Volume()) > c.within {
				t.Errorf("%s: %.3f mm³ with its bore %.3f mm³, filled %.3f mm³, want %.3f", c.name, m.Volume(), want.Volume()-m.Volume(), got-m.Volume(), want.Volume()-m.Volume())
			}
			if top := TopologyOf(filled); top.Handles != 0 || top.Shells != 1 || top.Hollows != 0 {
				t.Errorf("%s: %+v", c.name, top)
			}
			if faults := Audit(filled); len(faults) > 0 {
				t.Errorf("%s: %v", c.name, faults)
			}
			s, err := NewMeshSolid(filled)
			if err != nil {
				t.Fatal(c.name, err)
			}
			for _, p := range c.line[1 : len(c.line)-1] {
				if c.whole.Evaluate(p) < -0.5 && s.Evaluate(p) > -0.3 {
					t.Errorf("%s: %v is %.2f mm from the surface", c.name, p, s.Evaluate(p))
				}
			}
		}
	}
	whole, err := Mesh(ctx, block, MeshOptions{Tolerance: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := FillBore(whole, straight, 1); ok {
		t.Error("filled a bore where there is none")
	}
}
