package pourplan

import (
	"math"
	"strings"
	"testing"

	"halfpour/moldbox"
)

// Same shape, other alloy: m2 = m1·ρ2/ρ1 (by arithmetic), but for the metals'
// shrinkage and the wire.
func TestSwaps(t *testing.T) {
	p := plan(t, read(t, shortJob), measuredBalls(3))
	if len(p.Swaps) != len(metalPresets())-1 {
		t.Fatalf("got %d metals", len(p.Swaps))
	}
	steel := 47.5 * 7.85e-3
	byName := map[string]SwapPlan{}
	for _, s := range p.Swaps {
		byName[s.Metal] = s
		ratio := (s.FinishedG[1] - steel) / p.Heads[1].MetalG.Best
		band := 0.03
		if strings.Contains(s.Metal, "bismuth") {
			band = 0.05 // which grows as it freezes, where lead shrinks
		}
		near(t, s.Metal, ratio, s.DensityGCM3/p.Metal.DensityGCM3.Best, band)
	}
	// Tin by hand: it shrinks 0.46 %; half of it is cut off as melt of 6.979 g/cm³.
	k := (1 - 0.0046) / (1 - shrinkByHand())
	tin, fed := byName["tin"], 0.5+0.5*6.979/(7.287*math.Pow(1-0.0046, 3))
	near(t, "tin", tin.FinishedG[0], fed*7.287e-3*(940*k*k*k-12)+steel, 1e-9)
	near(t, "shot of tin", tin.ShotG, 3*(fed*7.287e-3*(940*k*k*k-12)+0.7*7.287), 1e-9)
	near(t, "pour", tin.PourC, 261.93, 1e-9)
	if tin.Verdict != Fine || byName["lead"].Verdict != DoNot {
		t.Errorf("tin %s, lead %s", tin.Verdict, byName["lead"].Verdict)
	}
	if _, own := byName["lead-antimony 4"]; own {
		t.Error("the job's own metal is among the others")
	}
	// Back into its own metal a head weighs what it did.
	m, _ := read(t, shortJob).Metal.resolve()
	near(t, "no swap", swapped(moldbox.MeasuredCavity{Head: 940, WireInHead: 12}, m, m), p.Heads[0].MetalG.Best, 1e-12)
}

// 38 shots of 3 heads by hand; the pot holds so many shots above its heel.
func TestMelts(t *testing.T) {
	job := read(t, shortJob+"[casting]\nheads = 100\npot = \"1 kg\"\nheel = 100\ndross = 5\n")
	m := plan(t, job, measuredBalls(3)).Metal
	if want := int(900 * 0.95 / m.ShotG); m.Shots != 38 || m.ShotsPerMelt != want || m.Melts != (38+want-1)/want {
		t.Errorf("got %d shots, %d a melt, %d melts", m.Shots, m.ShotsPerMelt, m.Melts)
	}
	// Used up: the hundred heads and the dross.
	near(t, "used up", m.UsedUpG, 100*m.HeadsPerShotG/3+38*m.ShotG*(1/0.95-1), 1e-9)
}
