package pourplan

import (
	"errors"
	"fmt"
	"strings"
)

// maxWeights is more heads than anyone weighs at a time.
const maxWeights = 1000

// ReadWeights reads the weights of several heads, in g: numbers separated by
// spaces, such as "10.61 10.58 10.7". Each may carry its unit ("0.374oz"), or
// the last one's unit is that of all ("0.374 0.371 oz"); none means g.
func ReadWeights(text string) ([]float64, error) {
	var weights []weighedNumber
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\t' || r == ';' }) {
		word = strings.TrimSuffix(word, ",")
		x, unit, isNumber := cutNumber(word)
		switch n := len(weights); {
		case word == "":
			continue
		case strings.Contains(word, ","):
			return nil, fmt.Errorf("want weights separated by spaces, got %q: the decimal sign is a point", word)
		case isNumber:
			weights = append(weights, weighedNumber{word, x, strings.ToLower(unit)})
		case n > 0 && weights[n-1].unit == "":
			weights[n-1].unit = strings.ToLower(word)
		default:
			return nil, fmt.Errorf(`want weights such as "10.61 10.58" or "0.374oz 0.371oz", got %q`, word)
		}
	}
	if len(weights) == 0 {
		return nil, errors.New(`want weights such as "10.61 10.58" or "0.374oz 0.371oz", got none`)
	}
	if len(weights) > maxWeights {
		return nil, fmt.Errorf("want at most %d weights at a time, got %d", maxWeights, len(weights))
	}
	return inGrams(weights)
}

// weighedNumber is a number with what stands behind it.
type weighedNumber struct {
	word string
	x    float64
	unit string // lower case, "" for none
}

// inGrams settles the units.
func inGrams(weights []weighedNumber) ([]float64, error) {
	common, bare := "g", 0
	for _, w := range weights {
		if w.unit == "" {
			bare++
		}
	}
	if last := weights[len(weights)-1]; bare == len(weights)-1 && last.unit != "" {
		common = last.unit
	} else if bare > 0 && bare < len(weights) {
		return nil, errors.New("want each weight with its unit, or one unit after the last, got a mix")
	}
	var out []float64
	for _, w := range weights {
		if w.unit == "" {
			w.unit = common
		}
		factor, known := massDim.units[w.unit]
		g := w.x * factor
		switch {
		case !known:
			return nil, fmt.Errorf("want %s, got %q", massDim.want, w.word)
		case !(g > 0 && g <= maxWeight):
			return nil, fmt.Errorf("want weights above 0 and at most %g g, got %q", maxWeight, w.word)
		}
		out = append(out, g)
	}
	return out, nil
}
