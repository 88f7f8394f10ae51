package moldbox

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// anySpec is a spec within the ranges that Validate allows, sensible or not:
// heads at any turn, hooks of all three kinds, their eyes across or not,
// keepers, wires that leave, gates beside the head, seal coats.
func anySpec(r *rand.Rand, mesh geom.Solid) Spec {
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	spec := Default()
	for range 1 + r.IntN(3) {
		c := ballCavity(between(2.5, 12))
		if r.IntN(2) == 0 {
			c.Head, c.Eye = mesh, geom.Vec{X: between(-12, 5), Y: between(0, 9)}
		}
		if r.IntN(3) > 0 {
			c.Turn = between(-math.Pi, math.Pi)
		}
		c.Pose.Parting = between(-1, 1)
		switch r.IntN(4) {
		case 0:
			c.Hook = nil
		case 1:
			c.Hook.Leg, c.Hook.Shank = 0, between(5, 40)
		case 2:
			c.Hook.Points = [][2]float64{{0, 0}}
			for range 3 {
				c.Hook.Points = append(c.Hook.Points, [2]float64{between(5, 30), between(-20, 20)})
			}
		default:
			c.Hook.LegAngle, c.Hook.Gape, c.Hook.Wire = between(0.4, 2.7), between(3, 20), between(0.4, 1.5)
		}
		if c.Hook != nil {
			c.Hook.EyeAcross, c.Hook.Leaves = r.IntN(2) == 0, r.IntN(4) == 0
		}
		for range r.IntN(3) {
			k := Keeper{Wire: between(0.4, 1.2), Fit: 0.05, Count: 1 + r.IntN(2), Step: geom.Vec{Y: between(1, 4)}, Leaves: r.IntN(4) == 0}
			for range 2 + r.IntN(3) {
				k.Points = append(k.Points, geom.Vec{X: between(-10, 20), Y: between(-6, 6), Z: between(-0.1, 0.1)})
			}
			c.Keepers = append(c.Keepers, k)
		}
		if r.IntN(4) == 0 {
			c.Gate = &geom.Vec{X: between(-10, 10), Y: between(-10, 10), Z: c.Pose.Parting}
		}
		if r.IntN(2) == 0 {
			c.MetalVolume = between(100, 5000)
		}
		spec.Cavities = append(spec.Cavities, c)
	}
	if r.IntN(2) == 0 {
		spec.Finish.SealCoat = between(0, 0.2)
	}
	f, k, s := &spec.Frame, &spec.Keys, &spec.Sprue
	f.Draft, f.Corner, f.Wall, f.ToWall, f.Between = between(0, 0.26), between(0, 20), between(1, 4), between(4, 20), between(1, 10)
	k.Count, k.Diameter, k.Clear = 3+r.IntN(8), between(2, 10), between(0.5, 4)
	k.Depth = between(0.2, 0.5) * k.Diameter
	s.Throat, s.GateWidth, s.GateThickness = between(2, 6), between(1, 6), between(1, 4)
	s.Mouth = s.Throat + between(0, 10)
	spec.Vents.Count, spec.Vents.Width = 1+r.IntN(3), between(0.3, 2)
	spec.Marking.Lines = []string{"AB", "LONGER LINE"}
	return spec
}

// A spec either builds, and then every point of the block has one place, or
// the error says which field is at fault and what to do.
func TestAnySpecBuildsOrSaysWhy(t *testing.T) {
	const seed = 22
	r := rand.New(rand.NewPCG(seed, 1))
	mesh := darterMesh(t, 24, 24)
	built := 0
	rounds := geomtest.Rounds(8, 16)
	for round := range rounds {
		m, err := Build(context.Background(), anySpec(r, mesh))
		if err != nil {
			var se *SpecError
			if !errors.As(err, &se) || se.Field == "" || se.Remedy == "" && se.Cause == "" {
				t.Errorf("seed %d round %d: error %v is no SpecError with field and what helps", seed, round, err)
			}
			continue
		}
		built++
		for _, h := range []Half{m.Left, m.Right} {
			if b := h.Frame.BoundingBox(); b.Min.Dist(h.Outside.Min) > 1e-6 || b.Max.Dist(h.Outside.Max) > 1e-6 {
				t.Errorf("seed %d round %d: the %s frame's box is %v, outside says %v", seed, round, h.Name, b, h.Outside)
			}
		}
		checkPlaces(t, r, m, 1500)
		if t.Failed() {
			t.Fatalf("seed %d round %d", seed, round)
		}
	}
	if built < rounds/2 {
		t.Errorf("seed %d: %d of %d specs were built, the test shows too little", seed, built, rounds)
	}
}

// checkPlaces asks at random points that whatever is in the block is in exactly
// one of left rubber, right rubber and void, and nothing outside it in any.
func checkPlaces(t *testing.T, r *rand.Rand, m *Mold, points int) {
	t.Helper()
	left, right := m.Left.Rubber(), m.Right.Rubber()
	box := m.Block.BoundingBox().Grow(1)
	size := box.Size()
	for range points {
		p := box.Min.Add(geom.Vec{X: size.X * r.Float64(), Y: size.Y * r.Float64(), Z: size.Z * r.Float64()})
		if r.IntN(2) == 0 {
			p.Z *= 0.1 // most happens near the parting plane
		}
		block := m.Block.Evaluate(p)
		values := []float64{left.Evaluate(m.Left.ToPrint(p)), right.Evaluate(m.Right.ToPrint(p)), m.Void.Evaluate(p)}
		surface, in, want := math.Abs(block) < 1e-6, 0, 0
		for _, v := range values {
			surface = surface || math.Abs(v) < 1e-6
			if v < 0 {
				in++
			}
		}
		if block < 0 {
			want = 1
		}
		if !surface && in != want {
			t.Fatalf("%v is in %d of left, right and void, want %d: block %g, values %v", p, in, want, block, values)
		}
	}
}
