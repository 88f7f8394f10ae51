package moldbox

import (
	"errors"
	"fmt"
	"math"

	"halfpour/geom"
)

// SpecError is a rule that a Spec breaks. Several come joined: errors.As
// finds the first.
type SpecError struct {
	Field        string // in Spec: "Frame.Wall", "Cavities[2].Hook.Wire"
	Rule         string // "must be at least"
	Value, Limit float64
	Unit         string // of both; "" for a bare number
	Bound        string // the field that sets Limit, for a Rule that ends before it; "" for none
	Remedy       string // what to do; "" where Cause says it
	Cause        Cause
	Figures      []any // that Cause takes
}

func (e *SpecError) because(c Cause, figures ...any) *SpecError {
	e.Cause, e.Figures = c, figures
	return e
}

// Error reads: place, rule, value seen, remedy.
func (e *SpecError) Error() string {
	unit := e.Unit
	if unit != "" {
		unit = " " + unit
	}
	s := fmt.Sprintf("%s %s", e.Field, e.Rule)
	if e.Bound != "" {
		s += " " + e.Bound + " of"
	}
	if !math.IsNaN(e.Limit) {
		s += fmt.Sprintf(" %.6g%s", e.Limit, unit)
	}
	if !math.IsNaN(e.Value) {
		s += fmt.Sprintf(", got %.6g%s", e.Value, unit)
	}
	if e.Remedy != "" {
		s += ": " + e.Remedy
	}
	return s
}

func refused(field, rule string, value, limit float64, unit, remedy string) *SpecError {
	return &SpecError{Field: field, Rule: rule, Value: value, Limit: limit, Unit: unit, Remedy: remedy}
}

// broken is a SpecError for a rule without numbers.
func broken(field, rule, remedy string) *SpecError {
	return refused(field, rule, math.NaN(), math.NaN(), "", remedy)
}

// leastRim is the thinnest wall that may stand above the fill line: two lines
// of a 0.4 mm nozzle (common practice, no source).
const leastRim = 0.8

// checker collects what is wrong.
type checker struct{ errs []error }

func (c *checker) add(e *SpecError) { c.errs = append(c.errs, e) }

// within asks for lo <= v <= hi; NaN fails.
func (c *checker) within(field string, v, lo, hi float64, unit, remedy string) {
	switch {
	case !(v >= lo): // catches NaN
		c.add(refused(field, "must be at least", v, lo, unit, remedy))
	case !(v <= hi):
		c.add(refused(field, "must be at most", v, hi, unit, remedy))
	}
}

func (c *checker) mm(field string, v, lo, hi float64) { c.within(field, v, lo, hi, "mm", "") }

func (c *checker) finite(field string, v geom.Vec) {
	if !v.IsFinite() {
		c.add(broken(field, "must be finite", "give three plain numbers in mm"))
	}
}

// Validate checks every field's range and the rules between fields. It does
// not look at heads: what depends on them, Build finds. The error joins one
// SpecError per broken rule.
func (s Spec) Validate() error {
	c := new(checker)
	if n := float64(len(s.Cavities)); n < 1 || n > 64 {
		c.within("Cavities", n, 1, 64, "", "a mold has at least one head")
	}
	for i, v := range s.Cavities {
		v.check(c, fmt.Sprintf("Cavities[%d]", i))
	}
	s.Layout.check(c, s)
	s.Frame.check(c)
	s.Keys.check(c)
	s.Sprue.check(c)
	s.Runner.check(c)
	c.mm("Vents.Width", s.Vents.Width, 0.2, 10)
	c.mm("Vents.Depth", s.Vents.Depth, 0.05, 10)
	c.within("Vents.Count", float64(s.Vents.Count), 1, 8, "", "air must leave every cavity")
	s.Marking.check(c)
	s.Finish.check(c)
	if least := leastRim + leastStep + s.Finish.SealCoat; s.Finish.SealCoat > 0 && s.Frame.Wall < least {
		c.add(refused("Frame.Wall", "must be at least", s.Frame.Wall, least, "mm", "").because(ThinnerByCoat))
	}
	c.mm("Print.Nozzle", s.Print.Nozzle, 0.05, 3)
	c.mm("Print.BedX", s.Print.BedX, 20, 5000)
	c.mm("Print.BedY", s.Print.BedY, 20, 5000)
	c.mm("Print.BedHigh", s.Print.BedHigh, 10, 5000)
	s.Checks.check(c)
	return errors.Join(c.errs...)
}

func (k CheckSpec) check(c *checker) {
	c.within("Checks.Air", k.Air, 0.05, 1e4, "mm³", "anything smaller is just the roughness of the mesh")
	c.mm("Checks.Undercut", k.Undercut, 0, 50)
	c.mm("Checks.Rubber", k.Rubber, 0.1, 50)
	c.within("Checks.Overhang", k.Overhang, 0, math.Pi/2, "rad", "printers manage 45° to 60°")
	c.mm("Checks.Gap", k.Gap, 0.01, 5)
	c.mm("Checks.Flash", k.Flash, 0.1, 100)
}

func (l LayoutSpec) check(c *checker, s Spec) {
	c.within("Layout.Rows", float64(l.Rows), 0, maxRows, "", "with more rows the sprues get too long: metal freezes in them")
	if n := len(s.Cavities); l.Rows > n && n > 0 {
		c.add(refused("Layout.Rows", "must be at most the number of cavities,", float64(l.Rows), float64(n), "", "use fewer rows"))
	}
	if l.Rows > 1 && s.Frame.Pitch > 0 {
		c.add(broken("Frame.Pitch", "works with one row only", "").because(PitchOfRows))
	}
}

func (f FrameSpec) check(c *checker) {
	c.mm("Frame.Floor", f.Floor, 0.8, 50)
	c.within("Frame.Wall", f.Wall, leastRim+leastStep, 30, "mm",
		"the wall loses a step at the fill line and must stay thick enough to print")
	c.within("Frame.Draft", f.Draft, 0, 15*math.Pi/180, "rad", "1° to 3° is usual")
	c.mm("Frame.Corner", f.Corner, 0, 50)
	c.mm("Frame.Over", f.Over, 1, 200)
	c.mm("Frame.ToWall", f.ToWall, 1, 200)
	c.mm("Frame.Between", f.Between, 1, 200)
	if f.Pitch != 0 {
		c.within("Frame.Pitch", f.Pitch, 1, 500, "mm", "leave it out and halfpour finds it from the heads")
	}
	c.mm("Frame.Freeboard", f.Freeboard, 1, 100)
	c.mm("Frame.PryTab", f.PryTab, 0, 50)
}

func (k KeySpec) check(c *checker) {
	c.within("Keys.Count", float64(k.Count), leastKeys, maxKeys, "", "two halves need at least three keys")
	c.mm("Keys.Diameter", k.Diameter, 1, 40)
	c.mm("Keys.Depth", k.Depth, 0.4, 20)
	if k.Depth > k.Diameter/2 {
		c.add(refused("Keys.Depth", "must be at most", k.Depth, k.Diameter/2, "mm",
			"a dome deeper than half its diameter locks in the frame"))
	}
	c.mm("Keys.Clearance", k.Clearance, 0.01, 2)
	c.mm("Keys.Clear", k.Clear, 0.5, 50)
}

func (s SprueSpec) check(c *checker) {
	c.mm("Sprue.Throat", s.Throat, 0.5, 60)
	c.mm("Sprue.Mouth", s.Mouth, 0.5, 80)
	if s.Mouth < s.Throat {
		c.add(refused("Sprue.Mouth", "must be at least", s.Mouth, s.Throat, "mm", "the funnel narrows towards the head"))
	}
	c.mm("Sprue.Length", s.Length, 1, 200)
	c.mm("Sprue.GateWidth", s.GateWidth, 0.4, 60)
	c.mm("Sprue.GateThickness", s.GateThickness, 0.4, 60)
	c.mm("Sprue.GateLength", s.GateLength, 0.5, 50)
}

func (r RunnerSpec) check(c *checker) {
	if r.Diameter != 0 {
		c.within("Runner.Diameter", r.Diameter, 1, 40, "mm", "leave it out and halfpour finds it from the gates")
	}
	c.within("Runner.Rise", r.Rise, 0, 30*math.Pi/180, "rad", "a few degrees let the air out")
}

func (m MarkingSpec) check(c *checker) {
	c.mm("Marking.Height", m.Height, 1, 100)
	c.mm("Marking.Relief", m.Relief, 0.1, 5)
}

// mostCoat is the thickest seal coat, mm: a thicker one runs off the letters
// and the bodies' feet no longer reach into the floor.
const mostCoat = 0.25

func (f FinishSpec) check(c *checker) {
	c.within("Finish.SealCoat", f.SealCoat, 0, mostCoat, "mm", "one or two coats of filler primer make 0.05 to 0.15 mm")
}
