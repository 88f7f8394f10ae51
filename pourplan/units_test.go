package pourplan

import (
	"math"
	"reflect"
	"strings"
	"testing"
)

func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relative*math.Abs(want)) {
		t.Errorf("%s: got %.12g, want %.12g to %g", what, got, want, relative)
	}
}

// NIST SP 811 (2008) appendix B.8 and NIST Handbook 44 appendix C.
func TestExactFactors(t *testing.T) {
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"oz, lb/16", GramPerOz, 28.349523125},
		{"oz is 437.5 grains", 437.5 * GramPerGr, GramPerOz},
		{"cubic inch", MLPerInch3, 2.54 * 2.54 * 2.54},
		{"US gallon", MLPerUSGal, 3785.411784},
		{"US fluid ounce", MLPerUSFlOz, 29.5735295625},
	} {
		near(t, c.what, c.got, c.want, 1e-15)
	}
	if r := 31.1034768 / GramPerOz; r < 1.09 {
		t.Error("the ounce is the troy one")
	}
}

func TestQuantities(t *testing.T) {
	length := func(v any) (float64, error) {
		var q MM
		err := readInto(reflect.ValueOf(&q), v)
		return float64(q), err
	}
	mass := func(v any) (float64, error) {
		var q Gram
		err := readInto(reflect.ValueOf(&q), v)
		return float64(q), err
	}
	volume := func(v any) (float64, error) {
		var q Millilitre
		err := readInto(reflect.ValueOf(&q), v)
		return float64(q), err
	}
	warm := func(v any) (float64, error) {
		var q Celsius
		err := readInto(reflect.ValueOf(&q), v)
		return float64(q), err
	}
	rise := func(v any) (float64, error) {
		var q Rise
		err := readInto(reflect.ValueOf(&q), v)
		return float64(q), err
	}
	time := func(v any) (float64, error) {
		var q Seconds
		err := readInto(reflect.ValueOf(&q), v)
		return float64(q), err
	}
	share := func(v any) (float64, error) {
		var q Percent
		err := readInto(reflect.ValueOf(&q), v)
		return float64(q), err
	}
	angle := func(v any) (float64, error) {
		var q Angle
		err := readInto(reflect.ValueOf(&q), v)
		return float64(q), err
	}
	dense := func(v any) (float64, error) {
		var q Density
		err := readInto(reflect.ValueOf(&q), v)
		return float64(q), err
	}
	part := func(v any) (float64, error) { var q Ratio; err := q.UnmarshalTOML(v); return q.PerHundred(), err }
	for _, c := range []struct {
		read func(any) (float64, error)
		v    any
		want float64
		err  string // part of it
	}{
		{length, int64(12), 12, ""},
		{length, 0.5, 0.5, ""},
		{length, "1 1/2 in", 38.1, ""},
		{length, `0.5"`, 12.7, ""},
		{length, "  2cm ", 20, ""},
		{length, "-0.5e1 mm", 0, "negative"},
		{length, "+.5 mm", 0.5, ""},
		{length, "5e+1 mm", 50, ""},
		{length, "5E-1 mm", 0.5, ""},
		{length, "5e mm", 0, `got "5e mm"`},
		{length, "2.5/2 mm", 1.25, ""},
		{length, "2 3/4in", 50.8 + 19.05, ""},
		{length, "2.5 3/4 in", 0, `got "2.5 3/4 in"`}, // no whole number before the fraction
		{length, "3/ mm", 0, `got "3/ mm"`},
		{length, "0 mm", 0, ""},
		{length, "0 x", 0, `got "0 x"`},
		{length, "1e1 mm", 10, ""},
		{length, "12", 0, "without a unit"},
		{length, "12 g", 0, `got "12 g"`},
		{length, "1,5 mm", 0, `got "1,5 mm"`},
		{length, "1/0 in", 0, `got "1/0 in"`},
		{length, "", 0, `got ""`},
		{length, "mm", 0, `got "mm"`},
		{length, "1e999 mm", 0, `got "1e999 mm"`},
		{length, math.Inf(1), 0, "no finite number"},
		{length, math.NaN(), 0, "no finite number"},
		{length, "-3 mm", 0, "negative"},
		{length, int64(-3), 0, "negative"},
		{length, true, 0, "got true"},
		{length, []any{int64(1)}, 0, "got a list"},
		{length, "3 mm 4 mm", 0, `got "3 mm 4 mm"`},
		// Fraction weights: lb/16 times the fraction.
		{mass, "1/32 oz", 0.885922597656, ""},
		{mass, "3/16 oz", 5.315535585938, ""},
		{mass, "3/8 oz", 10.631071171875, ""},
		{mass, "3/5 oz", 17.009713875, ""},
		{mass, "1 lb 2 oz", 510.29141625, ""},
		{mass, "10 mm", 0, `want a mass such as "3/8 oz" or "14 g", got "10 mm"`},
		{mass, "3 fl oz", 0, "fluid ounces are a volume"},
		{volume, "3.5 fl oz", 103.50735346875, ""},
		{volume, "3.5 US fl oz", 103.50735346875, ""},
		{volume, "8 oz", 0, "ounces are a mass"},
		{warm, "-40 F", -40, ""},
		{warm, "621.43 F", 327.461111111, ""}, // lead melts
		{warm, "273.15 K", 0, ""},
		{warm, "230 °C", 230, ""},
		{warm, int64(230), 230, ""},
		{warm, "-300 C", 0, "absolute zero"},
		{warm, "212 F", 100, ""}, // water boils, 32 freezes: the Fahrenheit scale
		{warm, "32 f", 0, ""},
		{warm, "373.15 k", 100, ""},
		{warm, "-273.15 C", -273.15, ""},
		{warm, "0 K", -273.15, ""},
		{warm, "-273.16 C", 0, "absolute zero"},
		{rise, "54 F", 30, ""}, // a difference takes no 32
		{rise, "1.8 °F", 1, ""},
		{rise, "1 K", 1, ""},
		{rise, "-1 K", 0, "negative"},
		{rise, "30 C", 30, ""},
		{time, "24 h", 86400, ""},
		{time, "1 h 30 min", 5400, ""},
		{time, "1 d 1 h 1 min 1 s", 86400 + 3600 + 60 + 1, ""},
		{time, "1 h -30 min", 0, `got "1 h -30 min"`},
		{time, int64(20), 0, "bare number 20"},
		{share, "10 %", 10, ""},
		{share, "10%", 10, ""},
		{angle, int64(180), math.Pi, ""},
		{angle, "-90 deg", -math.Pi / 2, ""},
		{dense, "0.41 lb/in3", 11.3487609, ""}, // 0.41·453.59237/16.387064 (NIST SP 811)
		{dense, "1250 kg/m3", 1.25, ""},
		{part, "100:3", 3, ""},
		{part, "10 : 1", 10, ""},
		{part, "100:0", 0, "got"},
		{part, "3", 0, "got"},
		{part, "1:2:3", 0, "got"},
		{part, int64(10), 0, "got 10"},
	} {
		got, err := c.read(c.v)
		switch {
		case c.err == "" && err != nil, c.err != "" && (err == nil || !strings.Contains(err.Error(), c.err)):
			t.Errorf("%v: error %v, want %q", c.v, err, c.err)
		case err == nil && !(math.Abs(got-c.want) <= 1e-6*math.Abs(c.want)):
			t.Errorf("%v: got %.12g, want %.12g", c.v, got, c.want)
		}
	}
}

func TestFormat(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{FormatMass(10.631071171875), "10.63 g (3/8 oz)"},
		{FormatMass(1.5 * GramPerOz), "42.5 g (1 1/2 oz)"},
		{FormatMass(GramPerOz), "28.3 g (1 oz)"},
		{FormatMass(10.6), "10.60 g (0.374 oz)"},
		{FormatMass(0), "0.00 g (0.000 oz)"},
		{FormatMass(1234.4), "1234 g (43.542 oz)"},
		{FormatWeighed(162.22, 0.01), "162.22 g (5.722 oz)"},
		{FormatWeighed(162, 0.1), "162.0 g (5.714 oz)"},
		{FormatWeighed(4.8666, 0.1), "4.87 g (0.172 oz)"}, // as FormatMass has it
		{OnScale(58.13, 0.05) + ", " + OnScale(58.1, 0.5) + ", " + OnScale(58, 5), "58.13, 58.1, 58"},
		{FormatVolume(103.50735346875), "104 ml (3.50 US fl oz)"},
		{FormatLength(12.7), "12.7 mm (0.500 in)"},
		{FormatTemperature(-40), "-40 °C (-40 °F)"},
		{FormatDuration(90), "90 s"},
		{FormatDuration(20 * 60), "20 min"},
		{FormatDuration(86400), "24 h"},
		{FormatDuration(5 * 86400), "5 d"},
		{FormatLimit(0.6, 3, "mm"), "0.6 mm, limit 3 mm"},
		{FormatLimit(3, 4, ""), "3, limit 4"},
		{FormatLimit(0, 0, "mm³"), ""},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// Every unit of every kind by its definition: SI prefixes, and NIST SP 811
// (2008) appendix B.8 for inch, pound and gallon. A month is 30 days, as shelf
// lives are counted (common practice, no source).
func TestEveryUnit(t *testing.T) {
	const pound, gallon = 453.59237, 3785.411784 // g, ml
	for _, c := range []struct {
		name  string
		d     dimension
		units map[string]float64
	}{
		{"length in mm", lengthDim, map[string]float64{"mm": 1, "cm": 10, "m": 1000, "um": 0.001, "µm": 0.001, "in": 25.4, "inch": 25.4,
			"inches": 25.4, `"`: 25.4, "ft": 304.8, "mil": 0.0254, "thou": 0.0254}},
		{"mass in g", massDim, map[string]float64{"g": 1, "gram": 1, "grams": 1, "kg": 1000, "mg": 0.001, "oz": pound / 16, "lb": pound, "lbs": pound,
			"gr": 0.06479891, "grain": 0.06479891, "grains": 0.06479891}},
		{"volume in ml", volumeDim, map[string]float64{"ml": 1, "cl": 10, "dl": 100, "l": 1000, "mm3": 0.001, "mm³": 0.001, "cm3": 1, "cm³": 1, "cc": 1,
			"in3": 16.387064, "in³": 16.387064, "fl oz": 29.5735295625, "us fl oz": 29.5735295625, "cup": gallon / 16, "pt": gallon / 8,
			"qt": gallon / 4, "gal": gallon}},
		{"time in s", durationDim, map[string]float64{"s": 1, "sec": 1, "second": 1, "seconds": 1, "min": 60, "minute": 60, "minutes": 60,
			"h": 3600, "hr": 3600, "hour": 3600, "hours": 3600, "d": 86400, "day": 86400, "days": 86400, "week": 604800, "weeks": 604800,
			"month": 2592000, "months": 2592000}},
		{"angle in radians", angleDim, map[string]float64{"deg": math.Pi / 180, "°": math.Pi / 180, "degree": math.Pi / 180,
			"degrees": math.Pi / 180, "rad": 1}},
		{"percent", percentDim, map[string]float64{"%": 1, "percent": 1}},
		{"factor", factorDim, map[string]float64{"x": 1, "%": 0.01}},
		{"expansion in 1e-6/K", expansionDim, map[string]float64{"ppm/k": 1, "ppm/c": 1, "µm/m/k": 1, "um/m/k": 1, "/k": 1e6}},
		{"density in g/cm³", densityDim, map[string]float64{"g/cm3": 1, "g/cm³": 1, "g/cc": 1, "g/ml": 1, "kg/l": 1, "kg/m3": 0.001, "kg/m³": 0.001,
			"lb/in3": pound / 16.387064, "lb/ft3": pound / 28316.846592, "lb/gal": pound / gallon}},
		{"temperature difference in K", riseDim, map[string]float64{"c": 1, "°c": 1, "k": 1, "f": 5.0 / 9, "°f": 5.0 / 9}},
	} {
		if len(c.units) != len(c.d.units) {
			t.Errorf("%s: has %d units, the table here %d", c.name, len(c.d.units), len(c.units))
		}
		for unit, want := range c.units {
			got, err := c.d.read("3 " + unit)
			if err != nil {
				t.Errorf("%s: %v", c.name, err)
			}
			near(t, c.name+", "+unit, got, 3*want, 1e-14)
		}
		if got, err := c.d.read(3.0); c.d.bare != "" && (err != nil || got != 3*c.units[c.d.bare]) {
			t.Errorf("%s: a bare 3 reads as %g, %v", c.name, got, err)
		}
	}
	for name, want := range map[string]string{"length": "mm", "angle": "deg", "time": ""} {
		if got := map[string]dimension{"length": lengthDim, "angle": angleDim, "time": durationDim}[name].bare; got != want {
			t.Errorf("a bare number of a %s is in %q, want %q", name, got, want)
		}
	}
}

// Two figures from low to high; shots are whole and at most 100000.
func TestRanges(t *testing.T) {
	list := func(xs ...any) []any { return xs }
	for _, c := range []struct {
		v    any
		want ShotRange // zero: refused
	}{
		{list(int64(20), int64(25)), ShotRange{20, 25}}, {list(int64(20), int64(20)), ShotRange{20, 20}}, {list(int64(1), int64(100000)), ShotRange{1, 100000}},
		{list(int64(25), int64(20)), ShotRange{}}, {list(int64(0), int64(20)), ShotRange{}}, {list(int64(1), int64(100001)), ShotRange{}},
		{list(20.5, int64(25)), ShotRange{}}, {list(int64(20)), ShotRange{}}, {list(int64(20), int64(25), int64(30)), ShotRange{}}, {int64(20), ShotRange{}},
	} {
		var got ShotRange
		if err := got.UnmarshalTOML(c.v); (err == nil) != (c.want != ShotRange{}) || err == nil && got != c.want {
			t.Errorf("%v: got %v, %v, want %v", c.v, got, err, c.want)
		}
	}
	for _, c := range []struct {
		v    any
		want FactorRange
	}{
		{list(0.96, int64(1)), FactorRange{0.96, 1}}, {list("96 %", 1.0), FactorRange{0.96, 1}}, {list(1.0, 1.0), FactorRange{1, 1}},
		{list(1.0, 0.96), FactorRange{}}, {list(1.0), FactorRange{}}, {list(0.9, 1.0, 1.1), FactorRange{}}, {list(0.9, "x"), FactorRange{}}, {0.9, FactorRange{}},
	} {
		var got FactorRange
		if err := got.UnmarshalTOML(c.v); (err == nil) != (c.want != FactorRange{}) || err == nil && got != c.want {
			t.Errorf("%v: got %v, %v, want %v", c.v, got, err, c.want)
		}
	}
	var percent PercentRange
	var density DensityRange
	if err := percent.UnmarshalTOML(list("0.2 %", int64(1))); err != nil || percent != (PercentRange{0.2, 1}) {
		t.Errorf("%v, %v", percent, err)
	}
	if err := density.UnmarshalTOML(list("10.9 kg/l", "11100 kg/m3")); err != nil || density != (DensityRange{10.9, 11.1}) {
		t.Errorf("%v, %v", density, err)
	}
	if usualLife() != (ShotRange{20, 25}) { // common practice, no source
		t.Errorf("usual life %v", usualLife())
	}
}

// Places have three coordinates, points of a plane two, and each its unit.
func TestPlacesRead(t *testing.T) {
	list := func(xs ...any) []any { return xs }
	var p Point
	if err := p.UnmarshalTOML(list(int64(-2), "1 in", 0.5)); err != nil || p != (Point{{-2, true}, {25.4, false}, {0.5, true}}) {
		t.Errorf("%v, %v", p, err)
	}
	if got := p.vec(10); got.X != -20 || got.Y != 25.4 || got.Z != 5 {
		t.Errorf("in a file of cm: %v", got)
	}
	for _, v := range []any{list(1.0, 2.0), list(1.0, 2.0, 3.0, 4.0), list(1.0, 2.0, "x"), 1.0} {
		if err := new(Point).UnmarshalTOML(v); err == nil {
			t.Errorf("%v is a point", v)
		}
	}
	var path Path
	if err := path.UnmarshalTOML(list(list(int64(0), "-1 cm"), list(14.0, -2.0))); err != nil || len(path) != 2 || path[0] != [2]float64{0, -10} || path[1] != [2]float64{14, -2} {
		t.Errorf("%v, %v", path, err)
	}
	for _, v := range []any{list(list(1.0)), list(list(1.0, 2.0, 3.0)), list(1.0), list(list(1.0, "x")), 1.0} {
		if err := new(Path).UnmarshalTOML(v); err == nil {
			t.Errorf("%v is a path", v)
		}
	}
	var places Places
	if err := places.UnmarshalTOML(list(list(1.0, 2.0, 3.0), list(4.0, 5.0, 6.0))); err != nil || len(places) != 2 || places[1][2] != (Coord{6, true}) {
		t.Errorf("%v, %v", places, err)
	}
	if err := new(Places).UnmarshalTOML(list(list(1.0, 2.0, 3.0), list(4.0))); err == nil || !strings.HasPrefix(err.Error(), "place 2: ") {
		t.Errorf("%v", err)
	}
}

// Figures at the edges of what a format shows.
func TestFormatEdges(t *testing.T) {
	const oz = 28.349523125
	for _, c := range []struct{ got, want string }{
		{FormatMass(19.99), "19.99 g (0.705 oz)"}, {FormatMass(20), "20.0 g (0.705 oz)"}, {FormatMass(99.94), "99.9 g (3.525 oz)"}, {FormatMass(100), "100 g (3.527 oz)"},
		{FormatMass(oz / 32), "0.89 g (1/32 oz)"}, {FormatMass(oz / 64), "0.44 g (0.016 oz)"}, {FormatMass(16 * oz), "454 g (16 oz)"},
		{FormatMass(16.5 * oz), "468 g (16.500 oz)"}, {FormatMass(31 * oz / 32), "27.5 g (31/32 oz)"}, {FormatMass(2.25 * oz), "63.8 g (2 1/4 oz)"},
		{FormatKilograms(999), "999 g"}, {FormatKilograms(1000), "1.00 kg"}, {FormatKilograms(1120), "1.12 kg"},
		{FormatDuration(119.9), "119.9 s"}, {FormatDuration(120), "2 min"}, {FormatDuration(7199), "120 min"}, {FormatDuration(7200), "2 h"},
		{FormatDuration(48 * 3600), "48 h"}, {FormatDuration(49 * 3600), "2 d"}, {FormatDuration(60 * 3600), "2.5 d"},
		{FormatTemperature(100), "100 °C (212 °F)"}, {FormatTemperature(0), "0 °C (32 °F)"},
		{FormatPotLife(300), "5 min"}, {FormatPotLife(330), "5 min"}, {FormatPotLife(299), "5 min"}, {FormatPotLife(90), "90 s"}, {FormatPotLife(1799), "29 min"},
		{OnScale(1.23456, 0.001), "1.235"}, {OnScale(1.23456, 0.0001), "1.235"}, {OnScale(5, 2), "5"}, {OnScale(1.25, 0.25), "1.25"},
		{FormatNumber(-0.04, 1), "0"}, {FormatNumber(1.25, 1), "1.3"}, {FormatNumber(120, 2), "120"},
		{FormatQuantity(1.005, "mm"), "1 mm"}, {FormatQuantity(2.5, ""), "2.5"}, {FormatLimit(1, 0, "mm"), "1 mm, limit 0 mm"}, {FormatLimit(0, 1, "mm"), "0 mm, limit 1 mm"},
		{Capitalise(""), ""}, {Capitalise("a"), "A"}, {Capitalise("the mix"), "The mix"},
		{HexColour(RubberColours[0]) + HexColour(RubberColours[1]) + HexColour(MetalColour), "#9cc4b8#bccca4#c6cad0"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}
