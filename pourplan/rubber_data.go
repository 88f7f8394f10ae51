package pourplan

import "fmt"

// rubberPresets are typical two-part silicones, no product's: middles of the
// ranges that trade notes give (linear shrinkage 0.2-1.0 % tin-cure, to 0.1 %
// platinum-cure; pot life 5-90 min; demolding 2-24 h; service 180-200 °C, heat
// stabilised grades 250 °C and 290-320 °C for a short time; three to seven days
// before hot metal for tin-cure). "tin-cure 100:3" stands for the grades made
// for hot metal. A data sheet's figure always stands above them.
func rubberPresets() []Rubber {
	const minute, hour, day = 60.0, 3600.0, 86400.0
	tin := func(name string, b, density, continuous, short float64) Rubber {
		return Rubber{Name: name, Cure: "tin", Ratio: Ratio{100, b}, Density: density, Shrink: Span{0.2, 0.5, 1.0},
			PotLife: 30 * minute, Demold: 24 * hour, Rest: 5 * day, Continuous: continuous, Short: short}
	}
	platinum := func(name string, a, b float64) Rubber {
		return Rubber{Name: name, Cure: "platinum", Ratio: Ratio{a, b}, Density: 1.12, Shrink: Span{0, 0.05, 0.1},
			PotLife: 40 * minute, Demold: 16 * hour, Rest: 1 * day, Continuous: 200, Short: 250}
	}
	return []Rubber{
		tin("tin-cure 100:3", 3, 1.35, 250, 315),
		tin("tin-cure 100:5", 5, 1.25, 200, 250),
		tin("tin-cure 100:10", 10, 1.20, 200, 250),
		platinum("platinum 100:10", 100, 10),
		platinum("platinum 1:1", 1, 1),
	}
}

func rubberPresetNames() []string {
	var names []string
	for _, r := range rubberPresets() {
		names = append(names, r.Name)
	}
	return names
}

func rubberPresetNamed(name string) (Rubber, error) {
	for _, r := range rubberPresets() {
		if r.Name == name {
			return r, nil
		}
	}
	return Rubber{}, &keyError{"rubber.preset", RuleValue, suggest(name, rubberPresetNames()), fmt.Errorf("knows no rubber %q", name)}
}
