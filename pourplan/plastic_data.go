package pourplan

import (
	"errors"
	"fmt"
	"strings"
)

// Plastic is what the frames are printed of.
type Plastic struct {
	Name    string   // "" when the job does not say
	Softens float64  // °C: above it the frame bends
	Density float64  // g/cm³
	Solid   float64  // fraction of a frame's volume that is plastic
	Typical []string // keys whose figures the job did not state
}

// plastics are generic printing plastics. Softening: glass transition of PLA
// 59.1 °C and PETG 77.4 °C, of ABS 100 to 105 °C (data sheets and
// trade tables, from memory);
// ASA like ABS and light-cured resin from memory. Densities from memory.
func plastics() []Plastic {
	return []Plastic{
		{Name: "PLA", Softens: 59, Density: 1.24},
		{Name: "PETG", Softens: 77, Density: 1.27},
		{Name: "ABS", Softens: 100, Density: 1.04},
		{Name: "ASA", Softens: 100, Density: 1.07},
		{Name: "resin", Softens: 60, Density: 1.18},
	}
}

func plasticNames() (names []string) {
	for _, p := range plastics() {
		names = append(names, p.Name)
	}
	return names
}

// softMargin is how far below softening a plastic already creeps under load, K
// (common practice, no source).
const softMargin = 10

// resolve turns [plastic] into figures. Without a name nothing is known but
// what the job states.
func (t PlasticTable) resolve() (Plastic, error) {
	p, names := Plastic{Name: t.Name}, plasticNames()
	known := false
	for _, q := range plastics() {
		if strings.EqualFold(q.Name, t.Name) {
			p, known = q, true
		}
	}
	p.Solid = t.Solid.Fraction()
	if t.Name != "" && !known && (t.Softens == nil || t.Density == nil) {
		return p, &keyError{"plastic.name", RuleValue, suggest(t.Name, names) + "; or state softens and density beside it",
			fmt.Errorf("knows no plastic %q", t.Name)}
	}
	if t.Name == "" && (t.Softens != nil || t.Density != nil) {
		return p, &keyError{"plastic.name", RuleMissing, "one of " + strings.Join(names, ", ") + ", or a name of your own",
			errors.New("must say which plastic, with its figures")}
	}
	g := &gaps{table: "plastic", preset: known}
	take(g, "softens", t.Softens, &p.Softens)
	take(g, "density", t.Density, &p.Density)
	p.Typical = g.typical
	return p, nil
}
