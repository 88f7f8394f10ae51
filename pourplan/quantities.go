package pourplan

import (
	"fmt"
	"math"
	"strings"
)

// The quantities of a job file. Each reads a bare number in the unit its
// comment names, or text with a unit, and refuses units of another kind,
// values that are not finite, and negative ones unless its comment says
// otherwise.
type (
	// MM is a length in mm.
	MM float64
	// Gram is a mass in g.
	Gram float64
	// Millilitre is a volume in ml.
	Millilitre float64
	// Celsius is a temperature in °C, not below absolute zero.
	Celsius float64
	// Rise is a difference of temperatures in K.
	Rise float64
	// Seconds is a time. A bare number is refused: jobs mix minutes, hours
	// and days.
	Seconds float64
	// Percent is parts of a hundred: 5 for "5 %".
	Percent float64
	// Angle is in radians, either sign; a bare number is in degrees.
	Angle float64
	// Density is in g/cm³.
	Density float64
	// Expansion is a linear expansion by heat, in 1e-6/K.
	Expansion float64
)

// Fraction returns p as a part of one.
func (p Percent) Fraction() float64 { return float64(p) / 100 }

// UnmarshalTOML reads a temperature: a bare number or C is °C, F and K are
// converted.
func (q *Celsius) UnmarshalTOML(v any) error {
	const absoluteZero = -273.15
	x, err := temperatureDim.read(v)
	if err != nil {
		return err
	}
	if s, ok := v.(string); ok {
		switch s = strings.ToLower(s); {
		case strings.HasSuffix(s, "f"):
			x -= 32 / 1.8
		case strings.HasSuffix(s, "k"):
			x += absoluteZero
		}
	}
	if x < absoluteZero {
		return fmt.Errorf("want %s, got %s, which is below absolute zero", temperatureDim.want, quoted(v))
	}
	*q = Celsius(x)
	return nil
}

// Ratio is parts of A to parts of B by mass: "100:3", "10:1".
type Ratio struct{ A, B float64 }

// PerHundred returns the parts of B to 100 parts of A.
func (r Ratio) PerHundred() float64 { return 100 * r.B / r.A }

// String returns the ratio as it is written in a job.
func (r Ratio) String() string { return fmt.Sprintf("%g:%g", r.A, r.B) }

// UnmarshalTOML reads "A:B", both above 0.
func (r *Ratio) UnmarshalTOML(v any) error {
	const want = `want parts of A to parts of B by mass such as "100:3"`
	s, ok := v.(string)
	if !ok {
		return fmt.Errorf("%s, got %s", want, quoted(v))
	}
	left, right, ok := strings.Cut(s, ":")
	a, tailA, okA := cutDecimal(strings.TrimSpace(left))
	b, tailB, okB := cutDecimal(strings.TrimSpace(right))
	whole := strings.TrimSpace(tailA+tailB) == ""
	if !ok || !okA || !okB || !whole || !(a > 0) || !(b > 0) || math.IsInf(a/b, 0) || a/b == 0 {
		return fmt.Errorf("%s, got %q", want, s)
	}
	*r = Ratio{a, b}
	return nil
}
