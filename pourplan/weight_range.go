package pourplan

import (
	"fmt"
	"math"
	"strings"
)

// headVolumes are the volumes of a finished cold head in mm³.
type headVolumes struct{ head, inHead float64 }

// unsure are the figures that a head's mass rests on and that are not known
// better than to a range.
type unsure struct {
	density, fill, fed        float64
	rubberShrink, metalShrink float64
	grown                     float64
}

// predict returns the mass of the metal in a head with its range, from a mold
// that is kept at mold °C. The mold is built for the best figures; when they come
// out otherwise the head grows or shrinks by the cube while the wire in it stays,
// and the metal's density, how well it fills and how much is fed move with their
// ranges.
func predict(v headVolumes, m Metal, r Rubber, mold float64) Span {
	fill, fed, grown := m.fill(), m.fed(), r.grown(mold)
	return Span{
		Lo:   v.mass(m, r, mold, unsure{m.Density.Lo, fill.Lo, fed.Lo, r.Shrink.Hi, m.Shrink.Hi, grown.Lo}),
		Best: v.mass(m, r, mold, best(m, r, mold)),
		Hi:   v.mass(m, r, mold, unsure{m.Density.Hi, fill.Hi, fed.Hi, r.Shrink.Lo, m.Shrink.Lo, grown.Hi}),
	}
}

func best(m Metal, r Rubber, mold float64) unsure {
	return unsure{m.Density.Best, m.FillFactor, m.fed().Best, r.Shrink.Best, m.Shrink.Best, r.grown(mold).Best}
}

// mass is of the metal in g when the figures come out as u.
func (v headVolumes) mass(m Metal, r Rubber, mold float64, u unsure) float64 {
	f := shrinkFactor(m, r, mold) / ShrinkFactor(u.rubberShrink, u.metalShrink, u.grown)
	return FinishedMass(u.density, u.fill*u.fed, math.Max(0, v.head*f*f*f-v.inHead), 0)
}

// RangePart is what one figure that is not known exactly adds to the range of a
// head's mass, the others being as expected.
type RangePart struct {
	From  string  `json:"from"`   // key of the job that narrows it
	What  string  `json:"what"`   // in words
	LowG  float64 `json:"low_g"`  // below the best figure, 0 or negative
	HighG float64 `json:"high_g"` // above it, 0 or positive
}

// rangeParts takes the range apart; figures that are known exactly are left
// out. The parts do not quite add up, since the figures multiply.
func rangeParts(v headVolumes, m Metal, r Rubber, mold float64) []RangePart {
	b, fill, fed, grown := best(m, r, mold), m.fill(), m.fed(), r.grown(mold)
	middle := v.mass(m, r, mold, b)
	parts := []RangePart{}
	add := func(from, what string, lo, hi unsure) {
		p := RangePart{From: from, What: what, LowG: v.mass(m, r, mold, lo) - middle, HighG: v.mass(m, r, mold, hi) - middle}
		if p.LowG != 0 || p.HighG != 0 {
			parts = append(parts, p)
		}
	}
	lo, hi := b, b
	lo.fill, hi.fill = fill.Lo, fill.Hi
	add("metal.fill_range", "how well it fills", lo, hi)
	lo, hi = b, b
	lo.fed, hi.fed = fed.Lo, fed.Hi
	add("metal.fill_factor", "how much is fed while it freezes", lo, hi)
	lo, hi = b, b
	lo.density, hi.density = m.Density.Lo, m.Density.Hi
	add("metal.density_range", "density of the metal", lo, hi)
	lo, hi = b, b
	lo.rubberShrink, hi.rubberShrink = r.Shrink.Hi, r.Shrink.Lo
	add("rubber.shrink_range", "shrinkage of the rubber", lo, hi)
	lo, hi = b, b
	lo.metalShrink, hi.metalShrink = m.Shrink.Hi, m.Shrink.Lo
	add("metal.shrink_range", "shrinkage of the metal", lo, hi)
	lo, hi = b, b
	lo.grown, hi.grown = grown.Lo, grown.Hi
	add("rubber.expansion_range", "expansion of the rubber", lo, hi)
	return parts
}

// FormatRange says where a head's range comes from in one line, such as
// "density of the metal -0.07 +0.07 g, shrinkage of the rubber -0.12 +0.05 g";
// "" when every figure is exact.
func FormatRange(parts []RangePart) string {
	var words []string
	for _, p := range parts {
		word := p.What
		for _, g := range []float64{p.LowG, p.HighG} {
			if math.Abs(g) >= 0.005 {
				word += fmt.Sprintf(" %+.2f", g)
			}
		}
		if word != p.What {
			words = append(words, word+" g")
		}
	}
	return strings.Join(words, ", ")
}
