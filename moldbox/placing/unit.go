package placing

import (
	"fmt"
	"math"
)

// Units by their names in a job, mm: in the order in which they are likely.
var units = []struct {
	name string
	mm   float64
}{{"mm", 1}, {"in", 25.4}, {"m", 1000}, {"cm", 10}, {"ft", 304.8}}

// UnitMM is a unit of a head's file in mm; 0 for one that there is not.
func UnitMM(name string) float64 {
	for _, u := range units {
		if u.name == name {
			return u.mm
		}
	}
	return 0
}

// Usual lengths of heads, mm, and how far a head is usually scaled to its weight
// (common practice, no source).
const (
	shortest, longest = 8.0, 100.0
	mostScaled        = 1.6
)

// guessUnit goes by the weight that is wanted or, without one, by the length.
// volume is of the head, metal what the finished head is to hold, mm³, 0 when not
// known.
func guessUnit(length, volume, metal float64) (string, Reason) {
	fits := func(mm float64) bool {
		if metal > 0 {
			k := math.Cbrt(metal/volume) / mm
			return k < mostScaled && k > 1/mostScaled
		}
		return length*mm >= shortest && length*mm <= longest
	}
	var likely []string
	for _, u := range units {
		if fits(u.mm) {
			likely = append(likely, u.name)
		}
	}
	if len(likely) == 0 {
		return "mm", Reason{Unsure, fmt.Sprintf("the head is %.3g long in the file: no unit makes that a usual head", length)}
	}
	unit := likely[0]
	why := Reason{Likely, fmt.Sprintf("the head is %.3g long in the file, so %.3g mm", length, length*UnitMM(unit))}
	switch {
	case metal > 0:
		why.Trust, why.Why = Sure, why.Why+", near the size that the weight asks for"
	case len(likely) > 1:
		why.Trust, why.Why = Unsure, why.Why+fmt.Sprintf("; in %s it would be %.3g mm", likely[1], length*UnitMM(likely[1]))
		if unit == "mm" {
			why.Trust = Likely
		}
	default:
		why.Trust = Sure
	}
	return unit, why
}
