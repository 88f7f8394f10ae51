package pourplan

import (
	"fmt"

	"halfpour/moldbox"
)

// ShrinkFactor returns the linear factor from the cold casting to the print,
// 1/((1-s_rubber)(1-s_metal)(1+grown)): the shrinkages in percent, and by what
// part the cavity has grown when the metal in it freezes.
func ShrinkFactor(rubber, metal, grown float64) float64 {
	return 1 / ((1 - fraction(rubber)) * (1 - fraction(metal)) * (1 + grown))
}

// shrinkFactor is what a mold that is kept at mold °C is made larger by.
func shrinkFactor(m Metal, r Rubber, mold float64) float64 {
	return ShrinkFactor(r.Shrink.Best, m.Shrink.Best, r.grown(mold).Best)
}

// FinishedMass returns the mass in g of a head: ρ·κ·V_metal + steel, with ρ in
// g/cm³ and V in mm³. κ is all that keeps the cavity from holding as much as
// solid metal would: how it fills, and how much of it is fed.
func FinishedMass(density, fill, metal, steel float64) float64 {
	return density*fill*metal*1e-3 + steel
}

// MetalFor returns the metal volume in mm³ with which a head of that density
// and fill factor reaches a target mass in g, steel included. It is not above
// 0 when the steel alone weighs as much.
func MetalFor(target, density, fill, steel float64) float64 {
	return (target - steel) / (density * fill) * 1e3
}

// steelMass is the hook's weighed mass, or its density times its wire's volume
// in mm³.
func (h *HookTable) steelMass(wire float64) float64 {
	switch {
	case h == nil:
		return 0
	case h.Mass > 0:
		return float64(h.Mass)
	}
	return float64(h.Density) * wire * 1e-3
}

// steelOf is the mass of all wires of a cavity in g, of which v has the shapes.
func (c CavityTable) steelOf(v moldbox.Cavity) float64 {
	sum := 0.0
	if v.Hook != nil {
		sum = c.Hook.steelMass(v.Hook.Volume())
	}
	for i, k := range v.Keepers {
		sum += float64(k.Wires()) * c.Keeper[i].steelMass(k.Volume(v.Pose))
	}
	return sum
}

// metalVolume is the metal in mm³ that a cavity is asked for; 0 when it goes by
// scale.
func (c CavityTable) metalVolume(m Metal, v moldbox.Cavity) (float64, error) {
	w := c.Weight
	if w.Target == 0 {
		return 0, nil
	}
	steel := 0.0
	if w.Of == "finished" {
		steel = c.steelOf(v)
	}
	metal := MetalFor(float64(w.Target), m.Density.Best, m.filled(), steel)
	if !(metal > 0) {
		return 0, &keyError{"weight.target", RuleRange, "ask for more weight, use a lighter hook, or set of = \"metal\"",
			fmt.Errorf("must be above the hook's own %.3g g, got %.3g g", steel, float64(w.Target))}
	}
	return metal, nil
}
