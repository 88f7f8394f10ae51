package pourplan

import (
	"fmt"
	"math"

	"halfpour/moldbox"
)

// Slow figures of a rubber that the job does not give: the low ends of 0.2 to
// 0.4 W/(m·K) for filled silicones and of 1.2 to 1.5 J/(g·K) (from memory).
const slowConductivity, slowSpecificHeat = 0.2, 1.2

// openingMargin is what is waited on top of the slowest freezing: half as much
// again.
const openingMargin = 1.5

// slowHeat is Heat at the slow end of what the job does not say: the less heat
// the rubber takes up, the later metal is solid.
func (r Rubber) slowHeat() RubberHeat {
	h := r.Heat()
	if r.Conductivity == 0 {
		h.Conductivity = slowConductivity
	}
	if r.SpecificHeat == 0 {
		h.SpecificHeat = slowSpecificHeat
	}
	return h
}

// lastFreezing is a lump of metal that freezes in endless rubber. The metal is
// at one temperature throughout, which in a mold that insulates is nearly so.
type lastFreezing struct {
	metal    MetalHeat // Melts is the liquidus, °C
	solidus  float64   // where the last liquid freezes, °C
	latent   float64   // J/g
	rubber   RubberHeat
	contact  float64 // between them, W/(m²·K); 0: perfect
	pour     float64 // °C
	mold     float64 // °C
	lump     moldbox.Lump
	patience float64 // s after which it is given up
}

// curve is how the rubber's cross-section grows outwards, by the radius to this
// power: 0 for a plate, 1 for a bar, 2 for a ball, between them by the lump's
// depth over its modulus. More than a bar is not counted on: a lump that looks
// like a ball may be the end of a bar.
func (f lastFreezing) curve() float64 {
	return math.Max(0, math.Min(1, f.lump.Depth/f.lump.Modulus-1))
}

// solid returns after how many s the lump's last liquid is solid, +Inf when that
// takes longer than patience. Latent heat comes free evenly between liquidus
// and solidus. The rubber is cut into shells, each a cell of an explicit scheme.
func (f lastFreezing) solid() float64 {
	if f.mold >= f.solidus {
		return math.Inf(1)
	}
	const cells, wider = 90, 1.03 // shells get wider outwards, 66 mm in all
	n := f.curve()
	radius := (n + 1) * f.lump.Modulus * 1e-3 // m, of a body with that modulus
	rho, k, c := f.rubber.Density*1e3, f.rubber.Conductivity, f.rubber.SpecificHeat*1e3
	dx := math.Min(0.15e-3, radius/15)
	dt := 0.2 * dx * dx * rho * c / k
	area := func(at float64) float64 { return math.Pow(at/radius, n) } // for each m² of the lump's surface
	// Of each shell: temperature, W/K to the next, J/K.
	var temperature, outwards, capacity [cells]float64
	at, wide := radius, dx
	for i := range temperature {
		temperature[i] = f.mold
		capacity[i] = rho * c * area(at+wide/2) * wide
		at += wide
		outwards[i] = k * area(at) / (wide * (1 + wider) / 2)
		wide *= wider
	}
	outwards[cells-1] = 0
	resists := 0.0 // m²·K/W
	if f.contact > 0 {
		resists = 1 / f.contact
	}
	m := f.metal
	span := math.Max(m.Melts-f.solidus, 0.01)
	full := f.latent + m.HeatLiquid*span // J/g, from solid at the solidus to liquid at the liquidus
	heat := full + m.HeatLiquid*math.Max(0, f.pour-m.Melts)
	mass := m.Density * 1e6 * f.lump.Modulus * 1e-3 // g for each m² of surface
	for t := 0.0; t < f.patience; t += dt {
		if heat <= 0 {
			return t
		}
		metal := f.solidus + span*heat/full
		if heat > full {
			metal = m.Melts + (heat-full)/m.HeatLiquid
		}
		flow := (metal - temperature[0]) / (dx/(2*k) + resists) // W for each m² of surface
		heat -= flow * dt / mass
		for i := range cells {
			next := outwards[i] * (temperature[i] - temperature[min(i+1, cells-1)])
			temperature[i] += (flow - next) * dt / capacity[i]
			flow = next
		}
	}
	return math.Inf(1)
}

// longestWait is beyond what anyone waits for a casting, s.
const longestWait = 7200

// planOpening sets when the mold may be opened: after the last metal of all, in
// heads, funnels and runner, is solid, at the slow end of what is not known,
// and half as long again. It stays 0 where that is not known.
func planOpening(c *CastingPlan, in moldbox.Measured, m Metal, r Rubber) {
	c.OpenAfterS = 0
	if m.Heat == nil || m.Solidus == 0 {
		return
	}
	slowest := 0.0
	for _, lump := range in.Lumps {
		// A shot warms the mold, and the next may come before it has cooled.
		f := lastFreezing{metal: *m.Heat, solidus: math.Min(m.Solidus, m.Liquidus), latent: m.Heat.Latent.Hi, rubber: r.slowHeat(),
			pour: c.PourC, mold: c.MoldC + c.MoldWarmsK, lump: lump, patience: longestWait}
		slowest = math.Max(slowest, f.solid())
	}
	if !math.IsInf(slowest, 0) {
		c.OpenAfterS = openingMargin * slowest
	}
}

// FormatAtLeast writes a time in s that must not be written shorter than it is.
func FormatAtLeast(s float64) string {
	step := 1.0
	if s > 119 {
		step = 6 // a tenth of a minute, the finest that FormatDuration writes
	}
	return FormatDuration(math.Ceil(s/step) * step)
}

// Opening says when to open the mold, for the bench.
func (c CastingPlan) Opening() string {
	if c.OpenAfterS > 0 {
		return fmt.Sprintf("Wait at least %s (%s), and open only when every funnel is dull and hard.", FormatAtLeast(c.OpenAfterS), c.how())
	}
	return "Wait until every funnel is dull and hard, then twice as long again."
}

// how says how well the figures of freezing are known.
func (c CastingPlan) how() string {
	if c.Shot != nil {
		return "computed"
	}
	return "rough"
}
