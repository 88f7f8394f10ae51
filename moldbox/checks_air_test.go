package moldbox

import (
	"math"
	"testing"

	"halfpour/geom"
)

// findingsOf are the findings of a code.
func findingsOf(m *Mold, code string) []Finding {
	var fs []Finding
	for _, f := range m.Findings {
		if f.Code == code {
			fs = append(fs, f)
		}
	}
	return fs
}

// hornSpec is a bare ball with a horn on its left flank, which ends in half a
// ball of 1.5 mm about (4, 4, 7): 14.1 mm³ and more of air when it stands up.
func hornSpec(turn float64) Spec {
	spec := plainBalls(6)
	spec.Cavities[0].Head = geom.Union(geom.Ball(geom.Vec{}, 6), geom.Capsule(geom.Vec{X: 3, Z: 4}, geom.Vec{X: 4, Y: 4, Z: 7}, 1.5))
	spec.Cavities[0].Turn = turn
	return spec
}

// Air in a horn that no vent in the parting plane can reach is found at its
// tip; upside down the horn fills.
func TestTrappedAir(t *testing.T) {
	fs := findingsOf(buildOf(t, hornSpec(0)), "air-trapped")
	if len(fs) != 1 || fs[0].Severity != Stop {
		t.Fatalf("%d findings of trapped air, want one that says stop: %v", len(fs), fs)
	}
	near(t, "place of the air", fs[0].HeadAt.Dist(geom.Vec{X: 4, Y: 5.5, Z: 7}), 0, 0.5)
	if v := fs[0].Value; v < 2.0/3*math.Pi*1.5*1.5*1.5 || v > 40 {
		t.Errorf("%.2f mm³ stay, want between half a ball's and all of the horn's", v)
	}
	if fs := findingsOf(buildOf(t, hornSpec(math.Pi)), "air-trapped"); len(fs) != 0 {
		t.Errorf("upside down: %v", fs)
	}
}

// The limit may be raised.
func TestTrappedAirLimit(t *testing.T) {
	spec := hornSpec(0)
	spec.Checks.Air = 60
	if fs := findingsOf(buildOf(t, spec), "air-trapped"); len(fs) != 0 {
		t.Errorf("with a limit of 60 mm³: %v", fs)
	}
}

// Pockets that the vents of the outline leave are vented too: a horn that leans
// out of the parting plane so little that its roof is still cut by it.
func TestVentFromPocket(t *testing.T) {
	spec := plainBalls(6)
	spec.Cavities[0].Head = geom.Union(geom.Ball(geom.Vec{}, 6), geom.Capsule(geom.Vec{X: 3}, geom.Vec{X: 8, Y: 3, Z: 0.6}, 1.5))
	m := buildOf(t, spec)
	if fs := findingsOf(m, "air-trapped"); len(fs) != 0 {
		t.Errorf("air stays: %v", fs)
	}
	if len(m.Cavities[0].VentsAt) == 0 {
		t.Error("no vent")
	}
}
