package pourplan

import (
	"halfpour/geom"
	"halfpour/moldbox"
)

// shape is the keeper's wire; unit is one of the head's file in mm.
func (k KeeperTable) shape(unit float64) moldbox.Keeper {
	s := k.Keeper
	for _, p := range k.Points {
		s.Points = append(s.Points, p.vec(unit))
	}
	if k.Step != nil {
		s.Step = k.step(unit)
	}
	return s
}

// step is from one wire to the next in mm.
func (k KeeperTable) step(unit float64) geom.Vec {
	if len(k.InHook) > 0 {
		unit = 1
	}
	return k.Step.vec(unit)
}

// steelMass is the weighed mass of one wire, or its density times its volume in
// mm³.
func (k KeeperTable) steelMass(wire float64) float64 {
	if k.Mass > 0 {
		return float64(k.Mass)
	}
	return float64(k.Density) * wire * 1e-3
}
