package pourplan

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// FormatMass shows a mass in both systems: "10.63 g (3/8 oz)". Ounces are
// avoirdupois: a plain fraction where the mass is one to nine digits, else
// three decimals.
func FormatMass(g float64) string { return FormatWeighed(g, 10) }

// FormatWeighed is FormatMass with all the decimals of a scale that shows
// steps of so many g: "148.60 g (5.242 oz)" at 0.01.
func FormatWeighed(g, step float64) string {
	shown := strconv.FormatFloat(g, 'f', max(decimals(g), stepDecimals(step)), 64)
	return fmt.Sprintf("%s g (%s oz)", shown, ounces(g/GramPerOz))
}

// OnScale shows a mass in g with the decimals of a scale, without its unit.
func OnScale(g, step float64) string {
	return strconv.FormatFloat(g, 'f', stepDecimals(step), 64)
}

// stepDecimals is how many decimals a scale of that step shows, at most three.
func stepDecimals(step float64) int {
	n := 0
	for s := step; n < 3 && s > 0 && math.Abs(s-math.Round(s)) > 1e-9; s *= 10 {
		n++
	}
	return n
}

// FormatVolume shows a volume in both systems: "103 ml (3.48 US fl oz)".
func FormatVolume(ml float64) string {
	return fmt.Sprintf("%s ml (%s US fl oz)", fixed(ml), fixed(ml/MLPerUSFlOz))
}

// FormatLength shows a length in both systems: "12.7 mm (0.500 in)".
func FormatLength(mm float64) string {
	return fmt.Sprintf("%.1f mm (%.3f in)", mm, mm/MMPerInch)
}

// FormatKilograms shows a mass of metal: "850 g", "1.12 kg".
func FormatKilograms(g float64) string {
	if g < 1000 {
		return FormatNumber(g, 0) + " g"
	}
	return strconv.FormatFloat(g/1000, 'f', 2, 64) + " kg"
}

// FormatTemperature shows a temperature in both systems: "230 °C (446 °F)".
func FormatTemperature(c float64) string {
	return fmt.Sprintf("%.0f °C (%.0f °F)", c, c*1.8+32)
}

// FormatDuration shows a time in its largest sensible unit: "90 s", "20 min",
// "24 h", "3 d". Up to two days it stays in hours, as data sheets do.
func FormatDuration(s float64) string {
	switch {
	case s < 120:
		return FormatNumber(s, 1) + " s"
	case s < 2*3600:
		return FormatNumber(s/60, 1) + " min"
	case s <= 48*3600:
		return FormatNumber(s/3600, 1) + " h"
	}
	return FormatNumber(s/86400, 1) + " d"
}

// Capitalise puts the first letter in upper case.
func Capitalise(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// ounces writes oz as a fraction in 32nds when it is one.
func ounces(oz float64) string {
	n := math.Round(oz * 32)
	if n < 1 || n > 32*16 || math.Abs(oz*32-n) > 1e-9*n {
		return strconv.FormatFloat(oz, 'f', 3, 64)
	}
	whole, num, den := int(n)/32, int(n)%32, 32
	for num > 0 && num%2 == 0 {
		num, den = num/2, den/2
	}
	switch {
	case num == 0:
		return strconv.Itoa(whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d", num, den)
	}
	return fmt.Sprintf("%d %d/%d", whole, num, den)
}

// fixed keeps the digits that a bench scale or a cup can show.
func fixed(x float64) string { return strconv.FormatFloat(x, 'f', decimals(x), 64) }

func decimals(x float64) int {
	switch a := math.Abs(x); {
	case a < 20:
		return 2
	case a < 100:
		return 1
	}
	return 0
}

// FormatNumber rounds to n decimals and drops zeros behind the point.
func FormatNumber(x float64, n int) string {
	p := math.Pow(10, float64(n))
	return strconv.FormatFloat(math.Round(x*p)/p+0, 'f', -1, 64) // which is never -0
}

// FormatLimit shows a value against its limit, "0.6 mm, limit 3 mm"; "" when
// both are 0.
func FormatLimit(value, limit float64, unit string) string {
	if value == 0 && limit == 0 {
		return ""
	}
	return FormatQuantity(value, unit) + ", limit " + FormatQuantity(limit, unit)
}

// FormatQuantity shows a number to two decimals with its unit, if it has one.
func FormatQuantity(v float64, unit string) string {
	return strings.TrimSpace(FormatNumber(v, 2) + " " + unit)
}
