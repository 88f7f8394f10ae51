package pourplan

// lastLiquid is where the last liquid of alloys of just these metals freezes,
// °C. Castings freeze too fast for an alloy's solids to even out, so that liquid
// stays down to the eutectic, however little of it (Flemings, Solidification
// Processing, 1974, chapter 2: Scheil's rule). Where published figures differ
// the lowest stands here: waiting too long hurts nobody.
type lastLiquid struct {
	metals []string // in the order of elements
	at     float64
}

// lastLiquids have their sources beside them. An alloy of other metals has none:
// its last liquid is not known.
func lastLiquids() []lastLiquid {
	return []lastLiquid{
		{[]string{"lead", "antimony"}, 251.7},        // Ashtakala, Pelton & Bale, Bull. Alloy Phase Diagrams 2 (1981)
		{[]string{"lead", "tin"}, 182.2},             // calculated eutectic: NIST, lead-tin, after Fecht et al. 1989; 183 measured
		{[]string{"lead", "tin", "antimony"}, 182.2}, // rich in tin, down to that of lead-tin; 240 in type metal
		{[]string{"lead", "bismuth"}, 124},           // OECD/NEA 7268, 2015: 398.0 K
		{[]string{"lead", "tin", "bismuth"}, 95},     // NIST, bismuth-lead-tin: 98.0; 95 from memory
		{[]string{"tin", "bismuth"}, 138},            // NIST: 139; 138 to 140 in assessments
		{[]string{"tin", "zinc"}, 198.5},             // Moser et al., Bull. Alloy Phase Diagrams 6 (1985)
		{[]string{"tin", "antimony"}, 231},           // no eutectic: tin's own melting point, 231.93
		{[]string{"tin", "copper"}, 227},             // from memory
		{[]string{"tin", "antimony", "copper"}, 227}, // of tin and copper
	}
}

// solidus returns where an alloy is solid to the last drop, °C; false when that
// is not known.
func (c Composition) solidus() (float64, bool) {
	if len(c) == 1 {
		e, ok := elementNamed(c[0].Metal)
		return e.melts, ok
	}
	for _, p := range metalPresets() {
		if n := len(p.freezes); n > 0 && c.same(p.parts) {
			return p.freezes[n-1].C, true
		}
	}
	for _, l := range lastLiquids() {
		if c.madeOf(l.metals) {
			return l.at, true
		}
	}
	return 0, false
}

// madeOf reports whether an alloy is of just these metals.
func (c Composition) madeOf(metals []string) bool {
	if len(c) != len(metals) {
		return false
	}
	for _, name := range metals {
		if c.Of(name) == 0 {
			return false
		}
	}
	return true
}
