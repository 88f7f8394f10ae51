package pourplan

// limb is one side of a published phase diagram: what freezes first of alloys
// of a metal with up to so much of another, down to the eutectic.
type limb struct {
	solvent, solute string
	liquid, solid   []boundary // from the pure solvent to the eutectic
}

// boundary is a point of a liquidus or solidus: that temperature, °C, and how
// much of the solute the phase holds, in percent by mass.
type boundary struct{ at, solute float64 }

// limbs are the diagrams, their points read off the sources beside them.
func limbs() []limb {
	return []limb{
		// Ashtakala, Pelton & Bale, Bull. Alloy Phase Diagrams 2 (1981) 1: eutectic
		// at 251.7 °C; lead holds 0.6 at.% antimony at 322 °C and 5.8 at.% there. The
		// liquidus between, from memory, is within 1.5 K of the straight line.
		{"lead", "antimony",
			[]boundary{{327.46, 0}, {313, 2}, {299, 4}, {285, 6}, {251.7, 11.1}},
			[]boundary{{327.46, 0}, {322, 0.354}, {251.7, 3.49}}},
		// NIST's lead-tin page, after Fecht, Zhang, Chang & Perepezko, Metall. Trans.
		// A 20 (1989) 795: 182.2 °C, liquid 62.13, lead 18.91, tin 96.59 % tin. The
		// liquidus and the solidus of 10 % between: trade tables of solders.
		{"lead", "tin",
			[]boundary{{327.46, 0}, {312, 5}, {302, 10}, {257, 30}, {238, 40}, {227, 45}, {212, 50}, {200, 55}, {190, 60}, {182.2, 62.13}},
			[]boundary{{327.46, 0}, {305, 5}, {275, 10}, {182.2, 18.91}}},
		{"tin", "lead",
			[]boundary{{231.93, 0}, {213, 10}, {182.2, 37.87}},
			[]boundary{{231.93, 0}, {182.2, 3.41}}},
		// Gladkikh et al. 1987, in the assessment of bismuth-tin: 43 at.% bismuth,
		// tin holds 12.4 at.% there; 139 °C in NIST's. 170 °C at 40 %: trade tables;
		// 155 °C at 50 %, from memory.
		{"tin", "bismuth",
			[]boundary{{231.93, 0}, {170, 40}, {155, 50}, {139, 57}},
			[]boundary{{231.93, 0}, {139, 19.95}}},
		// The other side of it: bismuth holds 0.1 % tin. The liquidus between is that
		// of a regular melt through the eutectic with bismuth's heat of fusion (CRC).
		{"bismuth", "tin",
			[]boundary{{271.41, 0}, {249, 6}, {228.5, 12}, {207.9, 18.5}, {182.8, 27}, {160.5, 35}, {139, 43}},
			[]boundary{{271.41, 0}, {139, 0.1}}},
		// Moser, Dutkiewicz, Gasior & Salawa, Bull. Alloy Phase Diagrams 6 (1985):
		// 198.5 °C, tin holds 0.6 at.% zinc; 9 % zinc at the eutectic, as sold.
		{"tin", "zinc",
			[]boundary{{231.93, 0}, {198.5, 9}},
			[]boundary{{231.93, 0}, {198.5, 0.33}}},
	}
}

// limbOf finds the limb that an alloy lies on, and how much of the solute it
// holds, in percent; false when no diagram is at hand. Up to 0.3 % of other
// metals are passed over.
func limbOf(c Composition) (limb, float64, bool) {
	for _, l := range limbs() {
		a, b := c.Of(l.solvent), c.Of(l.solute)
		if a == 0 || b == 0 || c.rest(l.solvent, l.solute) >= 0.3 {
			continue
		}
		if solute := 100 * b / (a + b); solute <= l.eutectic().solute+1e-9 {
			return l, solute, true
		}
	}
	return limb{}, 0, false
}

// rest is the percent of all metals but two.
func (c Composition) rest(one, other string) float64 {
	sum := 0.0
	for _, p := range c {
		if p.Metal != one && p.Metal != other {
			sum += p.Percent
		}
	}
	return sum
}

func (l limb) eutectic() boundary { return l.liquid[len(l.liquid)-1] }

// soluteAt is the percent of solute that a phase holds at a temperature.
func soluteAt(line []boundary, at float64) float64 {
	for i := 1; i < len(line); i++ {
		if a, b := line[i-1], line[i]; at >= b.at {
			return a.solute + (at-a.at)/(b.at-a.at)*(b.solute-a.solute)
		}
	}
	return line[len(line)-1].solute
}

// temperatureOf is where a phase with that percent of solute is on its line, °C.
func temperatureOf(line []boundary, solute float64) float64 {
	for i := 1; i < len(line); i++ {
		if a, b := line[i-1], line[i]; solute <= b.solute {
			return a.at + (solute-a.solute)/(b.solute-a.solute)*(b.at-a.at)
		}
	}
	return line[len(line)-1].at
}
