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
	shrink        float64 // free linear contraction from freezing to 25 °C, %, from the expansion at 25 °C
	tension       float64 // surface tension of the melt, N/m
}

// elements are the metals that heads are cast of. From memory: specific heats
// other than lead's and bismuth's, conductivities, tensions other than lead's
// (lead: OECD/NEA 7268, 2015, 0.45803 N/m at 600.6 K), copper's heats.
func elements() []element {
	return []element{
		{"lead", 11.35, 11.30, 11.35, 327.46, 10.660, 23.04, 0.129, 0.148, 35.3, 0.87, 0.458},
		{"tin", 7.287, 7.26, 7.31, 231.93, 6.979, 60.2, 0.227, 0.245, 66.6, 0.46, 0.55},
		{"bismuth", 9.79, 9.75, 9.80, 271.41, 10.05, 53.1, 0.122, 0.146, 7.9, 0.33, 0.38},
		{"antimony", 6.68, 6.62, 6.70, 630.63, 6.53, 162.5, 0.207, 0.258, 24.3, 0.67, 0.37},
		{"zinc", 7.134, 7.13, 7.14, 419.53, 6.57, 108.1, 0.3885, 0.48, 116, 1.19, 0.78},
		{"copper", 8.96, 8.93, 8.96, 1084.62, 7.997, 208.7, 0.385, 0.49, 401, 1.75, 1.3},
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
	liquidus float64 // °C
}

// metalPresets lists the casting metals. Liquidus: CRC for pure metals; NIST's
// lead-tin page for 63-37; Moser et al. 1985 for tin-zinc; ASTM B560 and trade
// tables for pewter and the other lead-tin alloys; the rest from memory, ±5 K.
// Lead-tin-antimony 84-4-12 is the type metal of old composing machines.
func metalPresets() []metalPreset {
	lead := func(pb, sn, sb float64) Composition {
		return Composition{{"lead", pb}, {"tin", sn}, {"antimony", sb}}.clean()
	}
	return []metalPreset{
		{"lead", lead(100, 0, 0), 327.46},
		{"lead-antimony 2", lead(98, 0, 2), 313},
		{"lead-antimony 4", lead(96, 0, 4), 299},
		{"lead-antimony 6", lead(94, 0, 6), 285},
		{"lead-tin-antimony 92-4-4", lead(92, 4, 4), 290},
		{"lead-tin-antimony 92-2-6", lead(92, 2, 6), 285},
		{"lead-tin-antimony 84-4-12", lead(84, 4, 12), 242},
		{"lead-tin 95-5", lead(95, 5, 0), 312},
		{"lead-tin 90-10", lead(90, 10, 0), 302},
		{"lead-tin 70-30", lead(70, 30, 0), 257},
		{"tin-lead 50-50", lead(50, 50, 0), 212},
		{"tin-lead 60-40", lead(40, 60, 0), 190},
		{"tin-lead 63-37", lead(37, 63, 0), 183},
		{"tin", lead(0, 100, 0), 231.93},
		{"bismuth-tin 58-42", Composition{{"tin", 42}, {"bismuth", 58}}, 139},
		{"bismuth-tin 50-50", Composition{{"tin", 50}, {"bismuth", 50}}, 155},
		{"bismuth-tin 88-12", Composition{{"tin", 12}, {"bismuth", 88}}, 245},
		{"tin-bismuth 60-40", Composition{{"tin", 60}, {"bismuth", 40}}, 170},
		{"tin-zinc 91-9", Composition{{"tin", 91}, {"zinc", 9}}, 198.5},
		{"pewter 92", Composition{{"tin", 92}, {"antimony", 7.5}, {"copper", 0.5}}, 295},
		{"pewter 91", Composition{{"tin", 91}, {"antimony", 7}, {"copper", 2}}, 300},
	}
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
