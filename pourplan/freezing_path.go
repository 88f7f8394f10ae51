package pourplan

import "math"

// FreezingPath is how an alloy freezes as it cools: from its liquidus, where
// nothing is solid, down to its solidus, where all is. Between its points the
// solid share is linear; two at one temperature are a eutectic.
type FreezingPath []FreezingPoint

// FreezingPoint is a point of a path.
type FreezingPoint struct {
	C     float64 // temperature, °C
	Solid float64 // share of the mass that is solid
}

// evenly freezes in proportion to the temperature: what is taken where no
// diagram is known. At one temperature it is a pure metal or a eutectic.
func evenly(liquidus, solidus float64) FreezingPath {
	return FreezingPath{{liquidus, 0}, {solidus, 1}}
}

// nearEutectic is how far above the eutectic an alloy may begin to freeze and
// count as it, K: trade alloys round it so far.
const nearEutectic = 3.0

// scheil is the path of an alloy with that percent of solute: its solids do not
// even out, its melt does, (w_l - w_s) df_s = f_l dw_l (Scheil's rule; Flemings,
// Solidification Processing, 1974, chapter 2). What is liquid at the eutectic
// freezes there.
func (l limb) scheil(solute float64) FreezingPath {
	end := l.eutectic()
	if temperatureOf(l.liquid, solute) < end.at+nearEutectic {
		return evenly(end.at, end.at)
	}
	const points, steps = 12, 20
	path := FreezingPath{{temperatureOf(l.liquid, solute), 0}}
	melt, logLeft := solute, 0.0
	step := (end.solute - solute) / (points * steps)
	for range points {
		for range steps {
			middle := melt + step/2
			logLeft -= step / (middle - soluteAt(l.solid, temperatureOf(l.liquid, middle)))
			melt += step
		}
		path = append(path, FreezingPoint{temperatureOf(l.liquid, melt), 1 - math.Exp(logLeft)})
	}
	path[points].C = end.at
	return append(path, FreezingPoint{end.at, 1})
}

// freezes is the path of an alloy by its diagram; nil where none is at hand.
func (c Composition) freezes() FreezingPath {
	if len(c) == 1 {
		e, _ := elementNamed(c[0].Metal)
		return evenly(e.melts, e.melts)
	}
	for _, p := range metalPresets() {
		if p.freezes != nil && c.same(p.parts) {
			return p.freezes
		}
	}
	if l, solute, ok := limbOf(c); ok {
		return l.scheil(solute)
	}
	return nil
}

// between stretches the path to other ends, °C. A path without a length, or
// none at all, is taken as even between them.
func (p FreezingPath) between(liquidus, solidus float64) FreezingPath {
	if len(p) == 0 || p[0].C <= p[len(p)-1].C {
		return evenly(liquidus, solidus)
	}
	from, to := p[0].C, p[len(p)-1].C
	out := make(FreezingPath, len(p))
	for i, at := range p {
		out[i] = FreezingPoint{solidus + (at.C-to)/(from-to)*(liquidus-solidus), at.Solid}
	}
	return out
}

// mean is the temperature at which the metal freezes on the average, °C.
func (p FreezingPath) mean() float64 {
	sum := 0.0
	for i := 1; i < len(p); i++ {
		sum += (p[i].Solid - p[i-1].Solid) * (p[i].C + p[i-1].C) / 2
	}
	return sum
}
