package moldbox

import (
	"errors"
	"math"
	"reflect"
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
		{"Cavities", func(s *Spec) { s.Cavities = nil }},
		{"Frame.Wall", func(s *Spec) { s.Frame.Wall = 0.8 }},
		{"Frame.Draft", func(s *Spec) { s.Frame.Draft = 2 }},
		{"Frame.Floor", func(s *Spec) { s.Frame.Floor = math.NaN() }},
		{"Frame.Over", func(s *Spec) { s.Frame.Over = -1 }},
		{"Keys.Count", func(s *Spec) { s.Keys.Count = 2 }},
		{"Keys.Depth", func(s *Spec) { s.Keys.Depth = 4 }},
		{"Sprue.Mouth", func(s *Spec) { s.Sprue.Mouth = 3 }},
		{"Sprue.GateLength", func(s *Spec) { s.Sprue.GateLength = 0 }},
		{"Vents.Count", func(s *Spec) { s.Vents.Count = 0 }},
		{"Marking.Relief", func(s *Spec) { s.Marking.Relief = math.Inf(1) }},
		{"Print.Nozzle", func(s *Spec) { s.Print.Nozzle = 0 }},
		{"Cavities[1].Head", func(s *Spec) { s.Cavities[1].Head = nil }},
		{"Cavities[1].Eye", func(s *Spec) { s.Cavities[1].Eye.Y = math.NaN() }},
		{"Cavities[0].Gate", func(s *Spec) { s.Cavities[0].Gate = &geom.Vec{X: math.Inf(1)} }},
		{"Cavities[0].Shrink", func(s *Spec) { s.Cavities[0].Shrink = 2 }},
		{"Cavities[0].Scale", func(s *Spec) { s.Cavities[0].Scale = -1 }},
		{"Cavities[0].MetalVolume", func(s *Spec) { s.Cavities[0].MetalVolume = -1 }},
		{"Cavities[0].Pose.Nose", func(s *Spec) { s.Cavities[0].Pose.Nose = "x" }},
		{"Cavities[0].Pose.Back", func(s *Spec) { s.Cavities[0].Pose.Back = PlusX }},
		{"Cavities[0].Pose.Left", func(s *Spec) { s.Cavities[0].Pose.Left = MinusZ }},
		{"Cavities[0].Hook.Wire", func(s *Spec) { s.Cavities[0].Hook.Wire = 0 }},
		{"Cavities[0].Hook.Leg", func(s *Spec) { s.Cavities[0].Hook.Leg = 1 }},
		{"Cavities[0].Hook.LegAngle", func(s *Spec) { s.Cavities[0].Hook.LegAngle = 0 }},
		{"Cavities[0].Hook.Gape", func(s *Spec) { s.Cavities[0].Hook.Gape = 1 }},
		{"Cavities[0].Hook.Points", func(s *Spec) { s.Cavities[0].Hook.Points = [][2]float64{{0, 0}, {1, 0}} }},
		{"Cavities[0].Hook.Points[1]", func(s *Spec) { s.Cavities[0].Hook.Points = [][2]float64{{9, 0}, {9, 0}} }},
	} {
		spec := ballSpec(2)
		c.spoil(&spec)
		var se *SpecError
		if err := spec.Validate(); !errors.As(err, &se) {
			t.Errorf("%s: error is %v, want a SpecError", c.field, err)
		} else if se.Field != c.field {
			t.Errorf("%s: field is %s (%v)", c.field, se.Field, err)
		}
		at := reflect.TypeFor[Spec]()
		for _, name := range strings.Split(c.field, ".") {
			name, _, _ = strings.Cut(name, "[")
			f, ok := at.FieldByName(name)
			if !ok {
				t.Fatalf("%s: a Spec has no such field", c.field)
			}
			if at = f.Type; at.Kind() == reflect.Slice || at.Kind() == reflect.Pointer {
				at = at.Elem()
			}
		}
	}
}

func TestValidateReportsAll(t *testing.T) {
	spec := ballSpec(1)
	spec.Frame.Wall, spec.Keys.Count = 0.5, 1
	err := spec.Validate()
	for _, field := range []string{"Frame.Wall must be at least 1 mm, got 0.5 mm", "Keys.Count must be at least 3, got 1"} {
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
