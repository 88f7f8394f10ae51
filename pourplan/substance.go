package pourplan

import (
	"slices"

	"halfpour/moldbox/heat"
)

// Substance returns the metal as the computation of heat takes it: the latent
// heat, J/g, comes free as the solid share grows along its freezing path. false
// when its heats or its solidus are not known.
func (m Metal) Substance(latent float64) (heat.Substance, bool) {
	if m.Heat == nil || m.Freezes == nil {
		return heat.Substance{}, false
	}
	h := *m.Heat
	rho := h.HotDensity * 1e-3 // g/mm³; the metal that is fed brings its heat along
	s := heat.Substance{Name: m.Name}
	const on = 100.0 // K beyond which the curve goes on as there
	at, sum := FreezingPoint{m.Solidus - on, 1}, 0.0
	add := func(p FreezingPoint) {
		solid := (at.Solid + p.Solid) / 2
		sum += rho * (latent*(at.Solid-p.Solid) + (solid*h.HeatSolid+(1-solid)*h.HeatLiquid)*(p.C-at.C))
		at = p
		s.States = append(s.States, heat.State{C: p.C, H: sum, Solid: p.Solid,
			K: p.Solid*h.Conductivity + (1-p.Solid)*h.MeltConductivity})
	}
	add(at)
	for _, p := range slices.Backward(m.Freezes) {
		add(p)
	}
	add(FreezingPoint{m.Liquidus + on, 0})
	return s, true
}
