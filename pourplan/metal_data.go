package pourplan

import "fmt"

// element is a pure metal. Unless marked, figures are from the CRC Handbook of
// Chemistry and Physics (Physical Constants of Inorganic Compounds; Density of
// Molten Elements; Enthalpy of Fusion). Liquid tin and copper: Assael et al.,
// J. Phys. Chem. Ref. Data 39 (2010) 033105, from memory. Liquid lead is the
// handbook's 10.660; the correlation in OECD/NEA 7268 has 10.673.
type element struct {
	name          string
	density       float64 // solid at 20-25 °C, g/cm³
	low, high     float64 // what tables give for it
	melts         float64 // °C
	liquidDensity float64 // at the melting point, g/cm³
	latent        float64 // J/g
	heatSolid     float64 // J/(g·K); near the melting point where known
	heatLiquid    float64
	conductivity  float64 // solid, W/(m·K)
	conductsMelt  float64 // melt, W/(m·K)
	shrink        float64 // free linear contraction from freezing to 25 °C, %, from the expansion at 25 °C
	tension       float64 // surface tension of the melt, N/m
	molar         float64 // g/mol
	thinsOut      float64 // by how much the melt's density falls, g/cm³ for each K
}

// elements are the metals that heads are cast of. From memory: specific heats
// other than lead's and bismuth's, conductivities other than of the melts of
// those two (OECD/NEA 7268, 2015), tensions other than lead's (there, 0.45803 N/m
// at 600.6 K), copper's heats.
func elements() []element {
	return []element{
		{"lead", 11.35, 11.30, 11.35, 327.46, 10.660, 23.04, 0.129, 0.148, 35.3, 15.8, 0.87, 0.458, 207.2, 1.22e-3},
		{"tin", 7.287, 7.26, 7.31, 231.93, 6.979, 60.2, 0.227, 0.245, 66.6, 30, 0.46, 0.55, 118.71, 0.652e-3},
		{"bismuth", 9.79, 9.75, 9.80, 271.41, 10.05, 53.1, 0.122, 0.146, 7.9, 12.5, 0.33, 0.38, 208.98, 1.35e-3},
		{"antimony", 6.68, 6.62, 6.70, 630.63, 6.53, 162.5, 0.207, 0.258, 24.3, 22, 0.67, 0.37, 121.76, 0.67e-3},
		{"zinc", 7.134, 7.13, 7.14, 419.53, 6.57, 108.1, 0.3885, 0.48, 116, 50, 1.19, 0.78, 65.38, 1.1e-3},
		{"copper", 8.96, 8.93, 8.96, 1084.62, 7.997, 208.7, 0.385, 0.49, 401, 165, 1.75, 1.3, 63.546, 0.819e-3},
	}
}

func elementNamed(name string) (element, bool) {
	for _, e := range elements() {
		if e.name == name {
			return e, true
		}
	}
	return element{}, false
}

func elementNames() []string {
	var names []string
	for _, e := range elements() {
		names = append(names, e.name)
	}
	return names
}

// metalPreset is a casting metal by name.
type metalPreset struct {
	name     string
	parts    Composition
	liquidus float64      // °C
	conducts float64      // solid, W/(m·K), as measured; 0: by the rule for mixtures
	freezes  FreezingPath // where no diagram of two metals says it; nil: by its diagram
}

// metalPresets lists the casting metals. Liquidus: CRC for pure metals; NIST's
// lead-tin page for 63-37; Moser et al. 1985 for tin-zinc; ASTM B560 and trade
// tables for pewter and the other lead-tin alloys; by its limb for bismuth-tin
// 88-12; the rest from memory, ±5 K. Conductivities: trade tables of solders.
// Lead-tin-antimony 84-4-12 is the type metal of old composing machines.
func metalPresets() []metalPreset {
	lead := func(pb, sn, sb float64) Composition {
		return Composition{{"lead", pb}, {"tin", sn}, {"antimony", sb}}.clean()
	}
	bismuth := func(bi, sn float64) Composition { return Composition{{"tin", sn}, {"bismuth", bi}} }
	return []metalPreset{
		{"lead", lead(100, 0, 0), 327.46, 0, nil},
		{"lead-antimony 2", lead(98, 0, 2), 313, 0, nil},
		{"lead-antimony 4", lead(96, 0, 4), 299, 0, nil},
		{"lead-antimony 6", lead(94, 0, 6), 285, 0, nil},
		{"lead-tin-antimony 92-4-4", lead(92, 4, 4), 290, 0, leadTinAntimony44()},
		{"lead-tin-antimony 92-2-6", lead(92, 2, 6), 285, 0, leadTinAntimony26()},
		{"lead-tin-antimony 84-4-12", lead(84, 4, 12), 242, 0, evenly(242, 240)}, // trade tables: 467 and 464 °F
		{"lead-tin 95-5", lead(95, 5, 0), 312, 0, nil},
		{"lead-tin 90-10", lead(90, 10, 0), 302, 36, nil},
		{"lead-tin 70-30", lead(70, 30, 0), 257, 41, nil},
		{"tin-lead 50-50", lead(50, 50, 0), 212, 48, nil},
		{"tin-lead 60-40", lead(40, 60, 0), 190, 49, nil},
		{"tin-lead 63-37", lead(37, 63, 0), 183, 50, nil},
		{"tin", lead(0, 100, 0), 231.93, 0, nil},
		{"bismuth-tin 58-42", bismuth(58, 42), 139, 19, nil},
		{"bismuth-tin 50-50", bismuth(50, 50), 155, 0, nil},
		{"bismuth-tin 88-12", bismuth(88, 12), 229, 0, nil},
		{"tin-bismuth 60-40", bismuth(40, 60), 170, 0, nil},
		{"tin-zinc 91-9", Composition{{"tin", 91}, {"zinc", 9}}, 198.5, 0, nil},
		{"pewter 92", Composition{{"tin", 92}, {"antimony", 7.5}, {"copper", 0.5}}, 295, 0, pewter(295, 0.01)},
		{"pewter 91", Composition{{"tin", 91}, {"antimony", 7}, {"copper", 2}}, 300, 0, pewter(300, 0.03)},
	}
}

// Alloys of three metals by Scheil's rule along the edges of their diagram
// (Osamura, Bull. Alloy Phase Diagrams 6, 1985: ternary eutectic at 239 °C with
// about 4 % tin and 12 % antimony). The lead that freezes first holds 0.33 of
// the melt's share of antimony and 0.55 of that of tin, as on the limbs; each
// percent lowers its liquidus by 6.8 and 2.5 K. Computed by hand, good to 5 K.
// With as many atoms of tin as of antimony some melt may reach the eutectic of
// lead-tin.
func leadTinAntimony44() FreezingPath {
	return FreezingPath{{290, 0}, {284.8, 0.2}, {276.6, 0.4}, {262, 0.6}, {244, 0.73}, {239, 0.97}, {182.2, 1}}
}

func leadTinAntimony26() FreezingPath {
	return FreezingPath{{285, 0}, {276, 0.2}, {265, 0.4}, {251, 0.55}, {247, 0.58}, {239, 0.79}, {239, 1}}
}

// pewter freezes a little as a compound of copper and tin, then as tin with
// antimony: 240 °C at 5 % (trade tables), and solids that hold 1.4 times the
// melt's share (from memory); the rest by 227 °C, where tin and copper end.
func pewter(liquidus, compound float64) FreezingPath {
	return FreezingPath{{liquidus, 0}, {243.5, compound}, {240, 0.5}, {236, 0.9}, {232, 0.97}, {227, 1}}
}

// clean leaves out metals that have no share.
func (c Composition) clean() Composition {
	var parts Composition
	for _, p := range c {
		if p.Percent > 0 {
			parts = append(parts, p)
		}
	}
	return parts
}

func metalPresetNames() []string {
	var names []string
	for _, p := range metalPresets() {
		names = append(names, p.name)
	}
	return names
}

func metalPresetNamed(name string) (metalPreset, error) {
	for _, p := range metalPresets() {
		if p.name == name {
			return p, nil
		}
	}
	return metalPreset{}, &keyError{"metal.preset", RuleValue, suggest(name, metalPresetNames()), fmt.Errorf("knows no metal %q", name)}
}
