package pourplan

import (
	"math"

	"halfpour/moldbox"
)

// airTransfer is how much heat a mold sheds to still air by convection and
// radiation, W/(m²·K): 5 to 25 in textbooks' tables for free convection (from
// memory).
const airTransfer = 10.0

// coolingMold is a mold between two shots, taken as one lump at one
// temperature.
type coolingMold struct {
	mass    float64 // of the rubber, g
	heat    float64 // its specific heat, J/(g·K)
	surface float64 // that air reaches, mm²
	warm    float64 // temperature that it is kept at, °C
	room    float64 // of the air, °C
}

// rise is by how much q J warm the mold, K.
func (m coolingMold) rise(q float64) float64 { return q / (m.mass * m.heat) }

// rest is how long the mold takes to shed q J, from warm and a shot more back
// to warm: τ·ln((warm + rise - room)/(warm - room)) with τ = mc/(hA), s. It is
// +Inf for a mold kept no warmer than the room.
func (m coolingMold) rest(q float64) float64 {
	over := m.warm - m.room
	if over <= 0 {
		return math.Inf(1)
	}
	tau := m.mass * m.heat / (airTransfer * m.surface * 1e-6)
	return tau * math.Log((over+m.rise(q))/over)
}

// heatOfShot is what mass g of metal give off from pouring down to the mold's
// temperature, J: more than it gives until the mold is opened, so that the rest
// is rather too long.
func (f Freezing) heatOfShot(mass float64) float64 {
	m := f.Metal
	return mass * (m.HeatLiquid*math.Max(0, f.Pour-m.Melts) + m.Latent.Best + m.HeatSolid*(math.Min(f.Pour, m.Melts)-f.Mold))
}

// planRest adds the rest between shots, for halves that lie open with their
// backs on the boards.
func planRest(p *Plan, in moldbox.Measured, t EveningTable, m Metal, r Rubber) {
	c := &p.Casting
	if m.Heat == nil || c.MoldC >= m.Heat.Melts {
		return
	}
	mold := coolingMold{heat: r.Heat().SpecificHeat, warm: c.MoldC, room: float64(t.Room)}
	for i, h := range []moldbox.MeasuredHalf{in.Left, in.Right} {
		mold.mass += p.Rubber.Halves[i].FrameMassG
		mold.surface += h.Inside.X*h.Inside.Y + 2*(h.Inside.X+h.Inside.Y)*h.FillHeight
	}
	q := Freezing{Metal: *m.Heat, Rubber: r.Heat(), Pour: c.PourC, Mold: c.MoldC}.heatOfShot(p.Metal.ShotG)
	c.HeatOfShotJ, c.MoldWarmsK = q, mold.rise(q)
	if s := mold.rest(q); !math.IsInf(s, 0) {
		c.RestS = s
	}
}
