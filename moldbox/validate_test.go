package moldbox

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"halfpour/geom"
)

// rulesBroken are the rules of a field that an error tells are broken.
func rulesBroken(err error, field string) (rules []*SpecError) {
	many, ok := err.(interface{ Unwrap() []error })
	if !ok {
		return nil
	}
	for _, e := range many.Unwrap() {
		var rule *SpecError
		if errors.As(e, &rule) && rule.Field == field {
			rules = append(rules, rule)
		}
	}
	return rules
}

// Every figure may be as small and as large as its limits, and no more. The
// limits are common practice, no source.
func TestLimits(t *testing.T) {
	const degree = math.Pi / 180
	hook := func(set func(h *Hook, v float64)) func(*Spec, float64) {
		return func(s *Spec, v float64) { set(s.Cavities[0].Hook, v) }
	}
	keeper := func(set func(k *Keeper, v float64)) func(*Spec, float64) {
		return func(s *Spec, v float64) {
			k := keeperAt(2)
			set(&k, v)
			s.Cavities[0].Keepers = []Keeper{k}
		}
	}
	for _, c := range []struct {
		field  string
		lo, hi float64
		set    func(s *Spec, v float64)
	}{
		{"Frame.Floor", 0.8, 50, func(s *Spec, v float64) { s.Frame.Floor = v }},
		{"Frame.Wall", 1, 30, func(s *Spec, v float64) { s.Frame.Wall = v }},
		{"Frame.Draft", 0, 15 * degree, func(s *Spec, v float64) { s.Frame.Draft = v }},
		{"Frame.Corner", 0, 50, func(s *Spec, v float64) { s.Frame.Corner = v }},
		{"Frame.Over", 1, 200, func(s *Spec, v float64) { s.Frame.Over = v }},
		{"Frame.ToWall", 1, 200, func(s *Spec, v float64) { s.Frame.ToWall = v }},
		{"Frame.Between", 1, 200, func(s *Spec, v float64) { s.Frame.Between = v }},
		{"Frame.Pitch", 1, 500, func(s *Spec, v float64) { s.Frame.Pitch = v }},
		{"Frame.Freeboard", 1, 100, func(s *Spec, v float64) { s.Frame.Freeboard = v }},
		{"Frame.PryTab", 0, 50, func(s *Spec, v float64) { s.Frame.PryTab = v }},
		{"Keys.Diameter", 1, 40, func(s *Spec, v float64) { s.Keys.Diameter = v }},
		{"Keys.Depth", 0.4, 20, func(s *Spec, v float64) { s.Keys.Depth, s.Keys.Diameter = v, 40 }},
		{"Keys.Clearance", 0.01, 2, func(s *Spec, v float64) { s.Keys.Clearance = v }},
		{"Keys.Clear", 0.5, 50, func(s *Spec, v float64) { s.Keys.Clear = v }},
		{"Sprue.Throat", 0.5, 60, func(s *Spec, v float64) { s.Sprue.Throat = v }},
		{"Sprue.Mouth", 0.5, 80, func(s *Spec, v float64) { s.Sprue.Mouth, s.Sprue.Throat = v, 0.5 }},
		{"Sprue.Length", 1, 200, func(s *Spec, v float64) { s.Sprue.Length = v }},
		{"Sprue.GateWidth", 0.4, 60, func(s *Spec, v float64) { s.Sprue.GateWidth = v }},
		{"Sprue.GateThickness", 0.4, 60, func(s *Spec, v float64) { s.Sprue.GateThickness = v }},
		{"Sprue.GateLength", 0.5, 50, func(s *Spec, v float64) { s.Sprue.GateLength = v }},
		{"Runner.Diameter", 1, 40, func(s *Spec, v float64) { s.Runner.Diameter = v }},
		{"Runner.Rise", 0, 30 * degree, func(s *Spec, v float64) { s.Runner.Rise = v }},
		{"Vents.Width", 0.2, 10, func(s *Spec, v float64) { s.Vents.Width = v }},
		{"Vents.Depth", 0.05, 10, func(s *Spec, v float64) { s.Vents.Depth = v }},
		{"Marking.Height", 1, 100, func(s *Spec, v float64) { s.Marking.Height = v }},
		{"Marking.Relief", 0.1, 5, func(s *Spec, v float64) { s.Marking.Relief = v }},
		{"Finish.SealCoat", 0, 0.25, func(s *Spec, v float64) { s.Finish.SealCoat = v }},
		{"Print.Nozzle", 0.05, 3, func(s *Spec, v float64) { s.Print.Nozzle = v }},
		{"Print.BedX", 20, 5000, func(s *Spec, v float64) { s.Print.BedX = v }},
		{"Print.BedY", 20, 5000, func(s *Spec, v float64) { s.Print.BedY = v }},
		{"Print.BedHigh", 10, 5000, func(s *Spec, v float64) { s.Print.BedHigh = v }},
		{"Checks.Air", 0.05, 1e4, func(s *Spec, v float64) { s.Checks.Air = v }},
		{"Checks.Undercut", 0, 50, func(s *Spec, v float64) { s.Checks.Undercut = v }},
		{"Checks.Rubber", 0.1, 50, func(s *Spec, v float64) { s.Checks.Rubber = v }},
		{"Checks.Overhang", 0, 90 * degree, func(s *Spec, v float64) { s.Checks.Overhang = v }},
		{"Checks.Gap", 0.01, 5, func(s *Spec, v float64) { s.Checks.Gap = v }},
		{"Checks.Flash", 0.1, 100, func(s *Spec, v float64) { s.Checks.Flash = v }},
		{"Cavities[0].Turn", -360 * degree, 360 * degree, func(s *Spec, v float64) { s.Cavities[0].Turn = v }},
		{"Cavities[0].MetalVolume", 0.1, 1e7, func(s *Spec, v float64) { s.Cavities[0].MetalVolume = v }},
		{"Cavities[0].Scale", 0.05, 20, func(s *Spec, v float64) { s.Cavities[0].Scale = v }},
		{"Cavities[0].Shrink", 0.9, 1.2, func(s *Spec, v float64) { s.Cavities[0].Shrink = v }},
		{"Cavities[0].Wall", 0, 20, func(s *Spec, v float64) { s.Cavities[0].Wall = v }},
		{"Cavities[0].Hook.Wire", 0.2, 6, hook(func(h *Hook, v float64) { h.Wire = v })},
		{"Cavities[0].Hook.EyeInside", 0.2, 30, hook(func(h *Hook, v float64) { h.EyeInside = v })},
		{"Cavities[0].Hook.EyeRubber", 0, 20, hook(func(h *Hook, v float64) { h.EyeRubber = v })},
		{"Cavities[0].Hook.Fit", 0, 1, hook(func(h *Hook, v float64) { h.Fit = v })},
		{"Cavities[0].Hook.Bend", 0, 50, hook(func(h *Hook, v float64) { h.Bend = v })},
		// The eye's ring of 1 mm wire is 1.6 mm round its middle.
		{"Cavities[0].Hook.Leg", 2.6, 200, hook(func(h *Hook, v float64) { h.Leg = v })},
		{"Cavities[0].Hook.LegAngle", 20 * degree, 160 * degree, hook(func(h *Hook, v float64) { h.LegAngle = v })},
		{"Cavities[0].Hook.Shank", 2.6, 300, hook(func(h *Hook, v float64) { h.Shank = v })},
		{"Cavities[0].Hook.Gape", 2, 200, hook(func(h *Hook, v float64) { h.Gape = v })},
		{"Cavities[0].Hook.Point", 0, 200, hook(func(h *Hook, v float64) { h.Point = v })},
		{"Cavities[0].Keepers[0].Wire", 0.2, 6, keeper(func(k *Keeper, v float64) { k.Wire = v })},
		{"Cavities[0].Keepers[0].Fit", 0, 1, keeper(func(k *Keeper, v float64) { k.Fit = v })},
		{"Cavities[0].Keepers[0].Bend", 0, 50, keeper(func(k *Keeper, v float64) { k.Bend = v })},
	} {
		broken := func(v float64) []*SpecError {
			spec := ballSpec(1)
			c.set(&spec, v)
			return rulesBroken(spec.Validate(), c.field)
		}
		// What counts as equal: angles are degrees times π/180, one way or the other.
		near := 1e-12 * max(1, math.Abs(c.lo), c.hi)
		for _, v := range []float64{c.lo + near*min(1, math.Abs(c.lo)), c.hi - near} {
			if rules := broken(v); rules != nil {
				t.Errorf("%s = %g is refused: %v", c.field, v, rules[0])
			}
		}
		for v, limit := range map[float64]float64{c.lo - near: c.lo, c.hi + near: c.hi} {
			if rules := broken(v); len(rules) == 0 || math.Abs(rules[0].Limit-limit) > near || rules[0].Value != v {
				t.Errorf("%s = %g: got %v, want the limit %g", c.field, v, rules, limit)
			}
		}
	}
}

// What counts things has limits too, and goes by whole ones.
func TestLimitsOfNumbers(t *testing.T) {
	for _, c := range []struct {
		field  string
		lo, hi int
		set    func(s *Spec, n int)
	}{
		{"Cavities", 1, 64, func(s *Spec, n int) { s.Cavities = slices.Repeat(s.Cavities[:1], n) }},
		{"Layout.Rows", 0, 4, func(s *Spec, n int) { s.Cavities, s.Layout.Rows = slices.Repeat(s.Cavities[:1], 5), n }},
		{"Keys.Count", 3, 12, func(s *Spec, n int) { s.Keys.Count = n }},
		{"Vents.Count", 1, 8, func(s *Spec, n int) { s.Vents.Count = n }},
		{"Cavities[0].Keepers", 0, 32, func(s *Spec, n int) { s.Cavities[0].Keepers = slices.Repeat([]Keeper{keeperAt(2)}, max(0, n)) }},
		{"Cavities[0].Keepers[0].Count", 0, 32, func(s *Spec, n int) {
			k := keeperAt(2)
			k.Count, k.Step = n, geom.Vec{Y: 3}
			s.Cavities[0].Keepers = []Keeper{k}
		}},
		{"Cavities[0].Keepers[0].Points", 2, mostPoints, func(s *Spec, n int) {
			k := keeperAt(2)
			k.Points = nil
			for i := range n {
				k.Points = append(k.Points, geom.Vec{X: float64(i)})
			}
			s.Cavities[0].Keepers = []Keeper{k}
		}},
		{"Cavities[0].Hook.Points", 1, mostPoints, func(s *Spec, n int) {
			s.Cavities[0].Hook.Points = nil
			for i := range n {
				s.Cavities[0].Hook.Points = append(s.Cavities[0].Hook.Points, [2]float64{20 + float64(i%2), -8.6})
			}
		}},
	} {
		for _, n := range []int{c.lo, c.lo + 1, c.hi, c.hi + 1, c.lo - 1} {
			if n < 0 || n == 0 && c.field == "Cavities[0].Hook.Points" { // none is another kind of hook
				continue
			}
			spec := ballSpec(1)
			c.set(&spec, n)
			rules := rulesBroken(spec.Validate(), c.field)
			if (rules != nil) != (n < c.lo || n > c.hi) {
				t.Errorf("%d %s: %v", n, c.field, rules)
			}
		}
	}
}

// What is left out is found or taken as modelled.
func TestLeftOutIsFine(t *testing.T) {
	spec := ballSpec(2)
	c := &spec.Cavities[0]
	spec.Frame.Pitch, spec.Runner.Diameter, c.MetalVolume, c.Scale, c.Shrink, c.Hook.Leg, c.Hook.LegAngle = 0, 0, 0, 0, 0, 0, 0
	if err := spec.Validate(); err != nil {
		t.Error(err)
	}
}

// A keeper's copies stand apart, and no farther from the first than a head is large.
func TestKeeperRules(t *testing.T) {
	for _, c := range []struct {
		what, field string
		edit        func(k *Keeper)
		refused     bool
	}{
		{"three, 3 mm apart", "Step", func(k *Keeper) { k.Count, k.Step = 3, geom.Vec{Y: 3} }, false},
		{"three at one place", "Step", func(k *Keeper) { k.Count = 3 }, true},
		{"one with a long step", "Step", func(k *Keeper) { k.Count, k.Step = 1, geom.Vec{Y: 400} }, false},
		{"the third as far as a head is large", "Step", func(k *Keeper) { k.Count, k.Step = 3, geom.Vec{Y: largestHead / 2} }, false},
		{"the third a little farther", "Step", func(k *Keeper) { k.Count, k.Step = 3, geom.Vec{Y: largestHead/2 + 1e-9} }, true},
		{"along head.left only", "Points", func(k *Keeper) { k.Points = []geom.Vec{{X: 2}, {X: 2, Z: 8}} }, true},
		{"500 mm long", "Points[1]", func(k *Keeper) { k.Points = []geom.Vec{{}, {X: 500}} }, false},
		{"longer", "Points[1]", func(k *Keeper) { k.Points = []geom.Vec{{}, {X: 500.001}} }, true},
		{"points twice over", "Points[1]", func(k *Keeper) { k.Points = []geom.Vec{{X: 1}, {X: 1}} }, true},
		{"both kinds of points", "InHook", func(k *Keeper) { k.InHook = [][2]float64{{0, 0}, {9, 0}} }, true},
		{"2 m of wire", "Points", func(k *Keeper) { k.Points = []geom.Vec{{}, {X: 500}, {}, {X: 500}, {}} }, false},
		{"more than 2 m", "Points", func(k *Keeper) { k.Points = []geom.Vec{{}, {X: 500}, {}, {X: 500}, {}, {X: 1}} }, true},
	} {
		spec := ballSpec(1)
		k := keeperAt(2)
		c.edit(&k)
		spec.Cavities[0].Keepers = []Keeper{k}
		if rules := rulesBroken(spec.Validate(), "Cavities[0].Keepers[0]."+c.field); (rules != nil) != c.refused {
			t.Errorf("%s: %v", c.what, rules)
		}
	}
}

// The angles that are set when a job gives none, in degrees, and the bed of
// common printers, mm.
func TestDefaultFigures(t *testing.T) {
	d := Default()
	const degree = math.Pi / 180
	near(t, "draft", d.Frame.Draft/degree, 1, 1e-9)
	near(t, "the runner's rise", d.Runner.Rise/degree, 3, 1e-9)
	near(t, "overhang", d.Checks.Overhang/degree, 55, 1e-9)
	if got := fmt.Sprint(d.Print.BedX, d.Print.BedY, d.Print.BedHigh); got != "220 220 250" {
		t.Errorf("bed %s", got)
	}
	if d.Vents.Count != 1 || d.Keys.Count != 4 {
		t.Errorf("%d vents, %d keys", d.Vents.Count, d.Keys.Count)
	}
	d.Cavities = ballSpec(1).Cavities
	if err := d.Validate(); err != nil {
		t.Error(err)
	}
}

// A head without anything in it is refused by its box.
func TestEmptyHead(t *testing.T) {
	spec := ballSpec(1)
	spec.Cavities[0].MetalVolume = 0
	spec.Cavities[0].Head = geom.Intersect(geom.Ball(geom.Vec{}, 1), geom.Ball(geom.Vec{X: 9}, 1))
	if rules := rulesBroken(spec.CheckHeads(), "Cavities[0].Head"); len(rules) != 1 {
		t.Errorf("got %v", spec.CheckHeads())
	}
}
