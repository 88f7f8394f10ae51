package moldbox

import (
	"errors"
	"math"
	"strings"
	"testing"

	"halfpour/geom"
)

func TestValidate(t *testing.T) {
	if err := ballSpec(2).Validate(); err != nil {
		t.Fatalf("good spec: %v", err)
	}
	for _, c := range []struct {
		field string
		spoil func(*Spec)
	}{
		{"cavities", func(s *Spec) { s.Cavities = nil }},
		{"frame.wall", func(s *Spec) { s.Frame.Wall = 0.8 }},
		{"frame.draft", func(s *Spec) { s.Frame.Draft = 2 }},
		{"frame.floor", func(s *Spec) { s.Frame.Floor = math.NaN() }},
		{"frame.over", func(s *Spec) { s.Frame.Over = -1 }},
		{"keys.count", func(s *Spec) { s.Keys.Count = 2 }},
		{"keys.depth", func(s *Spec) { s.Keys.Depth = 4 }},
		{"sprue.mouth", func(s *Spec) { s.Sprue.Mouth = 3 }},
		{"sprue.gate_length", func(s *Spec) { s.Sprue.GateLength = 0 }},
		{"vents.count", func(s *Spec) { s.Vents.Count = 0 }},
		{"marking.relief", func(s *Spec) { s.Marking.Relief = math.Inf(1) }},
		{"print.nozzle", func(s *Spec) { s.Print.Nozzle = 0 }},
		{"cavities[1].head", func(s *Spec) { s.Cavities[1].Head = nil }},
		{"cavities[1].eye", func(s *Spec) { s.Cavities[1].Eye.Y = math.NaN() }},
		{"cavities[0].gate", func(s *Spec) { s.Cavities[0].Gate = &geom.Vec{X: math.Inf(1)} }},
		{"cavities[0].shrink", func(s *Spec) { s.Cavities[0].Shrink = 2 }},
		{"cavities[0].scale", func(s *Spec) { s.Cavities[0].Scale = -1 }},
		{"cavities[0].metal_volume", func(s *Spec) { s.Cavities[0].MetalVolume = -1 }},
		{"cavities[0].pose.nose", func(s *Spec) { s.Cavities[0].Pose.Nose = "x" }},
		{"cavities[0].pose.back", func(s *Spec) { s.Cavities[0].Pose.Back = PlusX }},
		{"cavities[0].pose.left", func(s *Spec) { s.Cavities[0].Pose.Left = MinusZ }},
		{"cavities[0].hook.wire", func(s *Spec) { s.Cavities[0].Hook.Wire = 0 }},
		{"cavities[0].hook.leg", func(s *Spec) { s.Cavities[0].Hook.Leg = 1 }},
		{"cavities[0].hook.leg_angle", func(s *Spec) { s.Cavities[0].Hook.LegAngle = 0 }},
		{"cavities[0].hook.gape", func(s *Spec) { s.Cavities[0].Hook.Gape = 1 }},
		{"cavities[0].hook.points", func(s *Spec) { s.Cavities[0].Hook.Points = [][2]float64{{0, 0}, {1, 0}} }},
		{"cavities[0].hook.points[1]", func(s *Spec) { s.Cavities[0].Hook.Points = [][2]float64{{9, 0}, {9, 0}} }},
	} {
		spec := ballSpec(2)
		c.spoil(&spec)
		var se *SpecError
		if err := spec.Validate(); !errors.As(err, &se) {
			t.Errorf("%s: error is %v, want a SpecError", c.field, err)
		} else if se.Field != c.field {
			t.Errorf("%s: field is %s (%v)", c.field, se.Field, err)
		}
	}
}

func TestValidateReportsAll(t *testing.T) {
	spec := ballSpec(1)
	spec.Frame.Wall, spec.Keys.Count = 0.5, 1
	err := spec.Validate()
	for _, field := range []string{"frame.wall must be at least 1 mm, got 0.5 mm", "keys.count must be at least 3, got 1"} {
		if err == nil || !strings.Contains(err.Error(), field) {
			t.Errorf("error %v does not name %q", err, field)
		}
	}
}

// Every right-handed choice of axes maps nose, back and left to -X, +Y, +Z;
// every other choice is refused.
func TestPoseMapping(t *testing.T) {
	all := []Axis{PlusX, MinusX, PlusY, MinusY, PlusZ, MinusZ}
	good := 0
	for _, nose := range all {
		for _, back := range all {
			for _, left := range all {
				pose := Pose{Nose: nose, Back: back, Left: left, Parting: 1.5}
				b, err := pose.axes()
				n, _ := nose.vec()
				u, _ := back.vec()
				l, _ := left.vec()
				if right := n.Dot(u) == 0 && u.Cross(n) == l; right != (err == nil) {
					t.Fatalf("nose %s back %s left %s: right-handed %v, error %v", nose, back, left, right, err)
				}
				if err != nil {
					continue
				}
				good++
				r := b.rotation()
				near(t, "nose", r.Point(n).Dist(geom.Vec{X: -1}), 0, 1e-12)
				near(t, "back", r.Point(u).Dist(geom.Vec{Y: 1}), 0, 1e-12)
				near(t, "left", r.Point(l).Dist(geom.Vec{Z: 1}), 0, 1e-12)
				on, off := pose.onParting(geom.Vec{X: 1, Y: 2, Z: 3})
				near(t, "on parting", on.Dot(l), 1.5, 1e-12)
				near(t, "off", geom.Vec{X: 1, Y: 2, Z: 3}.Dist(on), math.Abs(off), 1e-12)
			}
		}
	}
	if good != 24 {
		t.Errorf("%d poses are right-handed, want 24", good)
	}
}
