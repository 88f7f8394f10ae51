package pourplan

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Factors between units. All are exact by definition: NIST SP 811 (2008)
// appendix B.8 and NIST Handbook 44 appendix C.
const (
	MMPerInch   = 25.4
	GramPerLb   = 453.59237
	GramPerOz   = GramPerLb / 16 // avoirdupois, 28.349523125 g
	GramPerGr   = GramPerLb / 7000
	MLPerInch3  = 16.387064
	MLPerUSGal  = 231 * MLPerInch3
	MLPerUSFlOz = MLPerUSGal / 128 // 29.5735295625 ml

	// StandardGravity is in m/s² (ISO 80000-3).
	StandardGravity = 9.80665
)

// dimension is one kind of quantity: how its units are written and what one
// of each is in the unit that the program counts in.
type dimension struct {
	want  string             // "a mass such as \"3/8 oz\" or \"14 g\""
	bare  string             // unit of a bare number; "" when a unit must be written
	units map[string]float64 // lower case
	hints map[string]string  // what to say about a unit of another kind
	sums  bool               // "1 lb 2 oz" is one quantity
	sign  bool               // negative values make sense
}

var (
	lengthDim = dimension{
		want: `a length such as "12 mm" or "1/2 in"`, bare: "mm", sign: true,
		units: map[string]float64{"mm": 1, "cm": 10, "m": 1000, "um": 1e-3, "µm": 1e-3,
			"in": MMPerInch, "inch": MMPerInch, "inches": MMPerInch, `"`: MMPerInch,
			"ft": 12 * MMPerInch, "mil": MMPerInch / 1000, "thou": MMPerInch / 1000},
	}
	massDim = dimension{
		want: `a mass such as "3/8 oz" or "14 g"`, bare: "g", sums: true,
		units: map[string]float64{"g": 1, "gram": 1, "grams": 1, "kg": 1000, "mg": 1e-3,
			"oz": GramPerOz, "lb": GramPerLb, "lbs": GramPerLb,
			"gr": GramPerGr, "grain": GramPerGr, "grains": GramPerGr},
		hints: map[string]string{"fl oz": "fluid ounces are a volume; for a mass write oz"},
	}
	volumeDim = dimension{
		want: `a volume such as "250 ml" or "3.5 fl oz"`, bare: "ml",
		units: map[string]float64{"ml": 1, "cl": 10, "dl": 100, "l": 1000, "mm3": 1e-3, "mm³": 1e-3,
			"cm3": 1, "cm³": 1, "cc": 1, "in3": MLPerInch3, "in³": MLPerInch3,
			"fl oz": MLPerUSFlOz, "us fl oz": MLPerUSFlOz, "cup": MLPerUSGal / 16,
			"pt": MLPerUSGal / 8, "qt": MLPerUSGal / 4, "gal": MLPerUSGal},
		hints: map[string]string{"oz": "ounces are a mass; for a volume write fl oz"},
	}
	durationDim = dimension{
		want: `a time with its unit such as "20 min" or "24 h"`, sums: true,
		units: map[string]float64{"s": 1, "sec": 1, "second": 1, "seconds": 1,
			"min": 60, "minute": 60, "minutes": 60, "h": 3600, "hr": 3600, "hour": 3600, "hours": 3600,
			"d": 86400, "day": 86400, "days": 86400, "week": 7 * 86400, "weeks": 7 * 86400,
			"month": 30 * 86400, "months": 30 * 86400}, // as shelf lives are told
	}
	angleDim = dimension{
		want: `an angle such as "90 deg"`, bare: "deg", sign: true,
		units: map[string]float64{"deg": math.Pi / 180, "°": math.Pi / 180, "degree": math.Pi / 180,
			"degrees": math.Pi / 180, "rad": 1},
	}
	percentDim = dimension{
		want: `a percentage such as "5 %"`, bare: "%",
		units: map[string]float64{"%": 1, "percent": 1},
	}
	factorDim = dimension{
		want: `a factor such as 0.97, or "97 %"`, bare: "x",
		units: map[string]float64{"x": 1, "%": 0.01},
	}
	densityDim = dimension{
		want: `a density such as "1.25 g/cm3"`, bare: "g/cm3",
		units: map[string]float64{"g/cm3": 1, "g/cm³": 1, "g/cc": 1, "g/ml": 1, "kg/l": 1, "kg/m3": 1e-3,
			"kg/m³": 1e-3, "lb/in3": GramPerLb / MLPerInch3, "lb/ft3": GramPerLb / (1728 * MLPerInch3),
			"lb/gal": GramPerLb / MLPerUSGal},
	}
	expansionDim = dimension{
		want: `an expansion such as 270, "270 ppm/K" or "2.7e-4 /K"`, bare: "ppm/k",
		units: map[string]float64{"ppm/k": 1, "ppm/c": 1, "µm/m/k": 1, "um/m/k": 1, "/k": 1e6},
	}
	temperatureDim = dimension{
		want: `a temperature such as "230 C" or "450 F"`, bare: "c", sign: true,
		units: map[string]float64{"c": 1, "°c": 1, "f": 1 / 1.8, "°f": 1 / 1.8, "k": 1},
	}
	riseDim = dimension{
		want: `a temperature difference such as "40 C" or "70 F"`, bare: "c",
		units: map[string]float64{"c": 1, "°c": 1, "k": 1, "f": 1 / 1.8, "°f": 1 / 1.8},
	}
)

// positive is d without negative values.
func (d dimension) positive() dimension {
	d.sign = false
	return d
}

// read turns a TOML value into the program's unit of d.
func (d dimension) read(v any) (float64, error) {
	x, err := d.value(v)
	switch {
	case err != nil:
		return 0, err
	case math.IsNaN(x) || math.IsInf(x, 0):
		return 0, fmt.Errorf("want %s, got %v, which is no finite number", d.want, v)
	case x < 0 && !d.sign:
		return 0, fmt.Errorf("want %s, got %s, which is negative", d.want, quoted(v))
	}
	return x, nil
}

func (d dimension) value(v any) (float64, error) {
	switch v := v.(type) {
	case int64:
		return d.bareNumber(float64(v), v)
	case float64:
		return d.bareNumber(v, v)
	case string:
		return d.parse(v)
	}
	return 0, fmt.Errorf("want %s, got %s", d.want, quoted(v))
}

func (d dimension) bareNumber(x float64, v any) (float64, error) {
	if d.bare == "" {
		return 0, fmt.Errorf("want %s, got the bare number %v", d.want, v)
	}
	return x * d.units[d.bare], nil
}

func (d dimension) parse(s string) (float64, error) {
	sum, rest := 0.0, strings.TrimSpace(s)
	for n := 0; rest != ""; n++ {
		x, tail, ok := cutNumber(rest)
		if !ok || n > 0 && (!d.sums || x < 0 || sum < 0) {
			return 0, d.wrong(s)
		}
		unit, next := cutUnit(tail)
		if unit == "" {
			return 0, fmt.Errorf("want %s, got %q without a unit", d.want, s)
		}
		factor, known := d.units[unit]
		if !known {
			if hint := d.hints[unit]; hint != "" {
				return 0, fmt.Errorf("want %s, got %q: %s", d.want, s, hint)
			}
			return 0, d.wrong(s)
		}
		sum, rest = sum+x*factor, next
	}
	if strings.TrimSpace(s) == "" {
		return 0, d.wrong(s)
	}
	return sum, nil
}

// wrong says what text should have been.
func (d dimension) wrong(s string) error {
	if strings.Contains(s, ",") {
		return fmt.Errorf("want %s, got %q: the decimal sign is a point", d.want, s)
	}
	return fmt.Errorf("want %s, got %q", d.want, s)
}

// cutUnit takes the text up to the next digit after a space as a unit, in
// lower case with single spaces.
func cutUnit(s string) (unit, rest string) {
	words := strings.Fields(s)
	n := 0
	for n < len(words) && !startsNumber(words[n]) {
		n++
	}
	return strings.ToLower(strings.Join(words[:n], " ")), strings.Join(words[n:], " ")
}

func startsNumber(s string) bool {
	return s[0] >= '0' && s[0] <= '9' || s[0] == '.' || s[0] == '-' || s[0] == '+'
}

// cutNumber takes a number off the front of s: "12", "-0.5", "1e-3", "3/8",
// "1 1/2". A comma is no decimal sign here: "1,500" means two things.
func cutNumber(s string) (x float64, rest string, ok bool) {
	sign := 1.0
	if strings.HasPrefix(s, "-") {
		sign, s = -1, s[1:]
	} else {
		s = strings.TrimPrefix(s, "+")
	}
	x, rest, ok = cutDecimal(s)
	if !ok {
		return 0, s, false
	}
	if q, tail, isFraction := cutFraction(x, rest); isFraction {
		return sign * q, tail, true
	}
	whole := strings.TrimLeft(rest, " ")
	if len(whole) < len(rest) && x == math.Trunc(x) {
		if num, tail, found := cutDecimal(whole); found {
			if q, end, isFraction := cutFraction(num, tail); isFraction {
				return sign * (x + q), end, true
			}
		}
	}
	return sign * x, rest, true
}

// cutFraction divides num by the number behind a slash, when one stands there.
func cutFraction(num float64, s string) (q float64, rest string, ok bool) {
	tail, found := strings.CutPrefix(s, "/")
	if !found {
		return 0, s, false
	}
	den, rest, ok := cutDecimal(tail)
	if !ok || den == 0 {
		return 0, s, false
	}
	return num / den, rest, true
}

func cutDecimal(s string) (x float64, rest string, ok bool) {
	i := digits(s, 0)
	if i < len(s) && s[i] == '.' {
		i = digits(s, i+1)
	}
	if e := i; e > 0 && e < len(s) && (s[e] == 'e' || s[e] == 'E') {
		e++
		if e < len(s) && (s[e] == '+' || s[e] == '-') {
			e++
		}
		if f := digits(s, e); f > e {
			i = f
		}
	}
	x, err := strconv.ParseFloat(s[:i], 64)
	return x, s[i:], err == nil
}

func digits(s string, i int) int {
	for i < len(s) && s[i] >= '0' && s[i] <= '9' {
		i++
	}
	return i
}

// quoted shows a TOML value as a person would have written it.
func quoted(v any) string {
	switch v := v.(type) {
	case string:
		return strconv.Quote(v)
	case map[string]any:
		return "a table"
	case []map[string]any:
		return "a list of tables"
	case []any:
		return "a list"
	case bool, int64, float64:
		return fmt.Sprint(v)
	}
	return "a date or time"
}
