package moldbox

import (
	"errors"
	"math"
	"math/rand/v2"
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
		{"Cavities[0].Pose.Nose", func(s *Spec) { s.Cavities[0].Pose.Nose = geom.Vec{} }},
		{"Cavities[0].Pose.Back", func(s *Spec) { s.Cavities[0].Pose.Back = geom.Vec{X: 1, Y: 0.3} }},
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

// Any two directions that are not in one line map to -X and, as far as the
// second is square to the first, to +Y; the left flank follows. The parting is
// the coordinate on the file's axis across it, whichever flank is left.
func TestPoseMapping(t *testing.T) {
	dice := rand.New(rand.NewPCG(5, 7))
	all := []geom.Vec{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}, {Z: 1}, {Z: -1}}
	for range 20 {
		all = append(all, geom.Vec{X: dice.NormFloat64(), Y: dice.NormFloat64(), Z: 9 * dice.NormFloat64()})
	}
	good, axes := 0, 0
	for i, nose := range all {
		for j, back := range all {
			pose := Pose{Nose: nose, Back: back, Parting: 1.5}
			b, err := pose.axes()
			sine := nose.Unit().Cross(back.Unit()).Norm()
			if (sine >= leastApart) != (err == nil) {
				t.Fatalf("nose %v back %v: %v", nose, back, err)
			}
			if err != nil {
				continue
			}
			good++
			r := b.rotation()
			near(t, "nose", r.Point(nose.Unit()).Dist(geom.Vec{X: -1}), 0, 1e-12)
			up := r.Point(back.Unit())
			near(t, "back's height", up.Y, sine, 1e-12)
			near(t, "back across", up.Z, 0, 1e-12)
			near(t, "left", r.Point(pose.Left()).Dist(geom.Vec{Z: 1}), 0, 1e-12)
			if r.Mirrors() {
				t.Fatalf("nose %v back %v: mirrored", nose, back)
			}
			on, off := pose.onParting(geom.Vec{X: 1, Y: 2, Z: 3})
			near(t, "on parting", on.Dot(pose.Across()), 1.5, 1e-12)
			near(t, "off", geom.Vec{X: 1, Y: 2, Z: 3}.Dist(on), math.Abs(off), 1e-12)
			if i < 6 && j < 6 {
				axes++
				if a := pose.Across(); a.X+a.Y+a.Z != 1 {
					t.Errorf("nose %v back %v: the parting counts along %v", nose, back, a)
				}
			}
		}
	}
	if good < 200 || axes != 24 {
		t.Errorf("%d poses, %d of them along the axes", good, axes)
	}
}
