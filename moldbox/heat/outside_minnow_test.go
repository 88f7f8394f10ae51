package heat_test

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest/tets"
	"halfpour/geom/stl"
	"halfpour/moldbox"
	"halfpour/moldbox/heat"
)

var bismuth = line("bismuth-tin 58-42", 20, [2]float64{0, 0}, [2]float64{138.5, 0.2021}, [2]float64{139.5, 0.5886}, [2]float64{339.5, 0.9139})

// minnow is a mold of one minnow head without its hook, 3/8 oz of bismuth-tin.
func minnow(t *testing.T) *moldbox.Mold {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "examples", "minnow-tray", "head.stl"))
	if err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	mesh, _, err := stl.Decode(ctx, data)
	if err != nil {
		t.Fatal(err)
	}
	head, err := geom.NewMeshSolid(mesh)
	if err != nil {
		t.Fatal(err)
	}
	spec := moldbox.Default()
	spec.Cavities = []moldbox.Cavity{{
		Name: "minnow", Head: head, Pose: moldbox.Pose{Nose: geom.Vec{X: -1}, Back: geom.Vec{Y: 1}},
		Eye: geom.Vec{X: -11.5, Y: 9}, Turn: -math.Pi / 2, MetalVolume: 1186,
	}}
	m, err := moldbox.Build(ctx, spec)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// One cavity of the minnow tray with its sprue, in rubber between two boards.
func TestFiniteElementsMinnow(t *testing.T) {
	needFreeFem(t)
	m := minnow(t)
	cavity := m.Cavities[0]
	const board = 14.0
	inside := m.Left.Inside
	depth := m.Left.FillHeight
	box := geom.Box{
		Min: geom.Vec{X: inside.Min.X, Y: inside.Min.Y, Z: -depth - board},
		Max: geom.Vec{X: inside.Max.X, Y: inside.Max.Y, Z: depth + board},
	}
	half := box
	half.Min.Z = 0
	gate := cavity.GateAt
	at := []geom.Vec{
		{X: gate.X, Y: gate.Y - 10, Z: 4}, {X: gate.X, Y: gate.Y - 20, Z: 4}, {X: gate.X - 6, Y: gate.Y - 12}, {X: gate.X + 2, Y: gate.Y - 25},
		{X: gate.X, Y: gate.Y + 1, Z: 1.2}, {X: gate.X, Y: gate.Y + 10, Z: 4}, {X: gate.X, Y: gate.Y + 16, Z: 6},
	}
	metal := geom.Union(cavity.Head, cavity.Sprue)
	for i := range at {
		for range 3 { // onto the surface
			d, way := geom.Gradient(metal, at[i])
			at[i] = at[i].Sub(way.Unit().Mul(d))
		}
	}
	// Elements of half the width freeze 0.5 % later at a contact of 2000.
	for name, c := range map[string]struct {
		pouring
		elements float64 // width of the finest, mm
	}{
		"perfect contact": {pouring{metal: bismuth, rubber: rubber, board: wood, pour: 179, mold: 70, air: 20, loss: 8, until: 165}, 0.7},
		"contact of 2000": {pouring{metal: lead, rubber: rubber, board: wood, pour: 370, mold: 60, air: 20, loss: 8, contact: 2000, until: 40}, 0.5},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			p := c.pouring
			mesh := cut(t, metal, half, tets.Options{Finest: c.elements, Halvings: 2, Size: graded(c.elements, 2, 0.6), Plane: depth})
			boards(mesh, depth)
			files := inBlock(t, mesh, p, gate.Y, gate.Y+2, at...)
			theirs := finiteElements(t, "block.edp", p, files)
			compare(t, p, inBox(cavity, p, box, depth), theirs, 0.5, 2, patch, at)
		})
	}
}

// inBox is the cavity in a box of rubber up to depth from the parting and boards
// beyond.
func inBox(cavity moldbox.Placed, p pouring, box geom.Box, depth float64) heat.Scene {
	over, under := box, box
	over.Min.Z, under.Max.Z = depth, -depth
	// One body: each must be its own mirror image for one half to stand for both.
	boards := heat.Body{Role: heat.Fixed, Cavity: -1, Solid: geom.Union(geom.Block(over), geom.Block(under)), Substance: p.board, Start: p.mold}
	melt := func(role heat.Role, s geom.Solid) heat.Body {
		return heat.Body{Role: role, Solid: s, Substance: p.metal, Start: p.pour, Contact: p.contact}
	}
	return heat.Scene{
		Box: box, Fill: p.rubber, FillC: p.mold, AirC: p.air, Air: [3]float64{p.loss, p.loss, p.loss},
		Bodies: []heat.Body{melt(heat.Head, cavity.Head), melt(heat.Funnel, cavity.Sprue), boards},
	}
}

// boards makes boards of what is beyond the rubber.
func boards(m *tets.Mesh, z float64) {
	const boardRegion = 3 // of block.edp
	for n, t := range m.Tets {
		middle := (m.Points[t[0]].Z + m.Points[t[1]].Z + m.Points[t[2]].Z + m.Points[t[3]].Z) / 4
		if middle > z {
			m.Region[n] = boardRegion
		}
	}
}
