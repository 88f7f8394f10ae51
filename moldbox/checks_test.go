package moldbox

import (
	"testing"

	"halfpour/geom"
)

func hasFinding(m *Mold, code string, severity Severity) bool {
	for _, f := range m.Findings {
		if f.Code == code && f.Severity == severity {
			return true
		}
	}
	return false
}

func TestGoodMoldHasNoStops(t *testing.T) {
	for name, spec := range map[string]Spec{
		"balls": ballSpec(2), "darters": darterSpec(t, 2), "bare balls": plainBalls(6, 8),
	} {
		for _, f := range buildOf(t, spec).Findings {
			if f.Severity != Note {
				t.Errorf("%s: %s %s: %s", name, f.Severity, f.Code, f.Message)
			}
		}
	}
}

func TestFindings(t *testing.T) {
	for _, c := range []struct {
		code     string
		severity Severity
		spoil    func(*Spec)
	}{
		// The eye in the middle of the head is full of metal.
		{"eye-not-clear", Stop, func(s *Spec) { s.Cavities[0].Eye = geom.Vec{} }},
		{"eye-off-parting", Warn, func(s *Spec) { s.Cavities[0].Eye.Z = 0.5 }},
		// The leg comes out of the head 0.3 radii before the middle.
		{"gate-on-hook", Stop, func(s *Spec) {
			s.Cavities[0].Turn = 0
			s.Cavities[0].Gate = &geom.Vec{X: -1.8, Y: 5.7}
		}},
		{"gate-moved", Note, func(s *Spec) { s.Cavities[0].Gate = &geom.Vec{X: 5, Y: 0.5} }},
		{"gate-overhangs", Warn, func(s *Spec) { s.Sprue.GateWidth, s.Sprue.Throat = 14, 14; s.Sprue.Mouth = 16 }},
		{"eye-off-parting", Stop, func(s *Spec) { s.Cavities[0].Eye.Z = 2.2 }}, // its radius is 2.1 mm
		{"hook-misses-head", Stop, func(s *Spec) { s.Cavities[0].Eye = geom.Vec{X: 12, Y: 8.6} }},
		{"hook-misses-head", Stop, func(s *Spec) { s.Cavities[0].Pose.Back, s.Cavities[0].Pose.Left = MinusY, MinusZ }},
		{"wire-misses-head", Stop, func(s *Spec) {
			s.Cavities[0].Keepers = []Keeper{{Wire: 0.9, Fit: 0.05, Points: []geom.Vec{{X: 8, Y: 3}, {X: 18, Y: 3}}}}
		}},
		{"thinner-than-nozzle", Warn, func(s *Spec) { s.Vents.Width = 0.3 }},
		{"fewer-keys", Note, func(s *Spec) { s.Keys.Count = 12; s.Keys.Diameter = 9 }},
	} {
		spec := ballSpec(1)
		spec.Cavities[0].MetalVolume = 0
		c.spoil(&spec)
		m := buildOf(t, spec)
		if !hasFinding(m, c.code, c.severity) {
			t.Errorf("no %s %s among %d findings: %v", c.severity, c.code, len(m.Findings), m.Findings)
		}
		for _, f := range m.Findings {
			if f.Message == "" || (f.At == nil) != (f.HeadAt == nil) {
				t.Errorf("%s: finding without message or place: %+v", c.code, f)
			}
		}
	}
}

// A finding's place in the head's file is the same place as in the mold.
func TestFindingPlaces(t *testing.T) {
	spec := ballSpec(1)
	spec.Cavities[0].Eye = geom.Vec{X: 1, Y: 0.5}
	m := buildOf(t, spec)
	for _, f := range m.Findings {
		if f.HeadAt != nil {
			near(t, f.Code, m.Cavities[0].ToMold(*f.HeadAt).Dist(*f.At), 0, 1e-9)
		}
	}
}
