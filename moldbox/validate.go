package moldbox

import (
	"errors"
	"fmt"
	"math"
	"reflect"
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

// Limit is what a figure of a Spec may be.
type Limit struct {
	Least, Most float64
	Unit        string // of both: "mm", "mm³", "rad"; "" for a bare number
	Remedy      string // for a figure beyond them
	Or0         bool   // 0 leaves the figure to Build
}

// LimitOf returns the limit of a field that holds whatever the others are:
// "Frame.Wall". It is the zero Limit for a field without one.
func LimitOf(field string) Limit { return limits[field] }

// The limits are common practice, no source.
var limits = map[string]Limit{
	"Layout.Rows": {0, maxRows, "", "with more rows the sprues get too long: metal freezes in them", false},

	"Frame.Floor":     {0.8, 50, "mm", "", false},
	"Frame.Wall":      {leastRim + leastStep, 30, "mm", "the wall loses a step at the fill line and must stay thick enough to print", false},
	"Frame.Draft":     {0, 15 * math.Pi / 180, "rad", "1° to 3° is usual", false},
	"Frame.Corner":    {0, 50, "mm", "", false},
	"Frame.Over":      {1, 200, "mm", "", false},
	"Frame.ToWall":    {1, 200, "mm", "", false},
	"Frame.Between":   {1, 200, "mm", "", false},
	"Frame.Pitch":     {1, 500, "mm", "leave it out and halfpour finds it from the heads", true},
	"Frame.Freeboard": {1, 100, "mm", "", false},
	"Frame.PryTab":    {0, 50, "mm", "", false},

	"Keys.Count":     {leastKeys, maxKeys, "", "two halves need at least three keys", false},
	"Keys.Diameter":  {1, 40, "mm", "", false},
	"Keys.Depth":     {0.4, 20, "mm", "", false},
	"Keys.Clearance": {0.01, 2, "mm", "", false},
	"Keys.Clear":     {0.5, 50, "mm", "", false},

	"Sprue.Throat":        {0.5, 60, "mm", "", false},
	"Sprue.Mouth":         {0.5, 80, "mm", "", false},
	"Sprue.Length":        {1, 200, "mm", "", false},
	"Sprue.GateWidth":     {0.4, 60, "mm", "", false},
	"Sprue.GateThickness": {0.4, 60, "mm", "", false},
	"Sprue.GateLength":    {0.5, 50, "mm", "", false},

	"Runner.Diameter": {1, 40, "mm", "leave it out and halfpour finds it from the gates", true},
	"Runner.Rise":     {0, 30 * math.Pi / 180, "rad", "a few degrees let the air out", false},

	"Vents.Width": {0.2, 10, "mm", "", false},
	"Vents.Depth": {0.05, 10, "mm", "", false},
	"Vents.Count": {1, 8, "", "air must leave every cavity", false},

	"Marking.Height": {1, 100, "mm", "", false},
	"Marking.Relief": {0.1, 5, "mm", "", false},

	// A thicker coat runs off the letters, and the bodies' feet no longer reach into
	// the floor.
	"Finish.SealCoat": {0, 0.25, "mm", "one or two coats of filler primer make 0.05 to 0.15 mm", false},

	"Print.Nozzle":  {0.05, 3, "mm", "", false},
	"Print.BedX":    {20, 5000, "mm", "", false},
	"Print.BedY":    {20, 5000, "mm", "", false},
	"Print.BedHigh": {10, 5000, "mm", "", false},

	"Checks.Air":      {0.05, 1e4, "mm³", "anything smaller is just the roughness of the mesh", false},
	"Checks.Undercut": {0, 50, "mm", "", false},
	"Checks.Rubber":   {0.1, 50, "mm", "", false},
	"Checks.Overhang": {0, 90 * math.Pi / 180, "rad", "printers manage 45° to 60°", false},
	"Checks.Gap":      {0.01, 5, "mm", "", false},
	"Checks.Flash":    {0.1, 100, "mm", "", false},
}

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

// Validate checks every field's range and the rules between fields. It does
// not look at heads: what depends on them, Build finds. The error joins one
// SpecError per broken rule.
func (s Spec) Validate() error {
	c := new(checker)
	c.checkLimits(s)
	if n := len(s.Cavities); s.Layout.Rows > n && n > 0 {
		c.add(refused("Layout.Rows", "must be at most the number of cavities,", float64(s.Layout.Rows), float64(n), "", "use fewer rows"))
	}
	if s.Layout.Rows > 1 && s.Frame.Pitch > 0 {
		c.add(broken("Frame.Pitch", "works with one row only", "").because(PitchOfRows))
	}
	if least := leastRim + leastStep + s.Finish.SealCoat; s.Finish.SealCoat > 0 && s.Frame.Wall < least {
		c.add(refused("Frame.Wall", "must be at least", s.Frame.Wall, least, "mm", "").because(ThinnerByCoat))
	}
	if k := s.Keys; k.Depth > k.Diameter/2 {
		c.add(refused("Keys.Depth", "must be at most", k.Depth, k.Diameter/2, "mm",
			"a dome deeper than half its diameter locks in the frame"))
	}
	if s.Sprue.Mouth < s.Sprue.Throat {
		c.add(refused("Sprue.Mouth", "must be at least", s.Sprue.Mouth, s.Sprue.Throat, "mm", "the funnel narrows towards the head"))
	}
	c.within("Cavities", float64(len(s.Cavities)), 1, 64, "", "a mold has at least one head")
	for i, v := range s.Cavities {
		v.check(c, fmt.Sprintf("Cavities[%d]", i))
	}
	return errors.Join(c.errs...)
}

// checkLimits holds every figure of the Spec's tables against its limit.
func (c *checker) checkLimits(s Spec) {
	spec := reflect.ValueOf(s)
	for _, table := range reflect.VisibleFields(spec.Type()) {
		if table.Type.Kind() != reflect.Struct {
			continue
		}
		for _, f := range reflect.VisibleFields(table.Type) {
			field := table.Name + "." + f.Name
			l, ok := limits[field]
			if !ok {
				continue
			}
			v := spec.FieldByIndex(table.Index).FieldByIndex(f.Index)
			x := v.Convert(reflect.TypeFor[float64]()).Float()
			if x != 0 || !l.Or0 {
				c.within(field, x, l.Least, l.Most, l.Unit, l.Remedy)
			}
		}
	}
}
