package moldbox

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// Held against the rubber of whole molds: as built, every bump of one half has
// its socket in the other; with one half turned in the parting plane, some bump
// meets solid rubber, and the mold stays open.
func TestRubberClosesOneWay(t *testing.T) {
	const seed = 34
	r := rand.New(rand.NewPCG(seed, 1))
	mesh := darterMesh(t, 12, 12)
	built, want := 0, geomtest.Rounds(4, 8)
	for round := 0; built < want && round < 40; round++ {
		m, err := Build(context.Background(), sensibleSpec(r, mesh))
		if err != nil || hasFinding(m, "keys-symmetric", Warn) {
			continue
		}
		built++
		turns := []float64{0, math.Pi}
		if size := m.Left.Inside.Size(); math.Abs(size.X-size.Y) < m.Spec.Keys.Diameter {
			turns = append(turns, math.Pi/2, -math.Pi/2) // else the outlines tell
		}
		for _, turn := range turns {
			if blocked := blockedBumps(m, turn); (blocked > 0) != (turn != 0) {
				t.Errorf("seed %d round %d: %d keys, turned by %.0f°: %d bumps meet rubber", seed, round, len(m.Keys), turn*180/math.Pi, blocked)
			}
		}
	}
	if built < want {
		t.Errorf("seed %d: %d molds built, want %d", seed, built, want)
	}
}

// blockedBumps counts the bumps that meet the other half's rubber when the left
// half is turned about the middle of the parting plane.
func blockedBumps(m *Mold, turn float64) int {
	c := m.Left.Inside.Centre()
	c.Z = 0
	there := geom.Move(c.Neg()).Then(geom.Rotate(geom.Vec{Z: 1}, turn)).Then(geom.Move(c))
	left, right := m.Left.Rubber(), m.Right.Rubber()
	blocked := 0
	for _, k := range m.Keys {
		tip := k.At.Add(geom.Vec{Z: 0.7 * k.side() * k.Depth})
		meets := geom.Inside(right, m.Right.ToPrint(there.Point(tip)))
		if !k.BumpLeft {
			meets = geom.Inside(left, there.Inverse().Point(tip))
		}
		if meets {
			blocked++
		}
	}
	return blocked
}
