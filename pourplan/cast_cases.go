package pourplan

import (
	"halfpour/moldbox"
	"halfpour/moldbox/heat"
)

// CastCases are what a job's mold is cast with: as expected, and with all that is
// not known at the end that keeps metal liquid longer.
type CastCases struct {
	Best, Slow moldbox.Hot
	Limits     [2]float64 // of the rubber, continuous and for a short time, °C
}

// Between metal and rubber 2000 W/(m²·K) up to perfect contact (from memory). A
// mold that is worked briskly is still warmer from the shot before, where it was
// to rest (common practice, no source).
const (
	usualContact, poorContact = 5000, 2000 // W/(m²·K)
	warmerByShots             = 20         // K
	boardThickness            = 12         // mm, of stiff ones (common practice, no source)
)

// CastCases returns what the job's mold is cast with; false when heats or solidus
// of its metal are not known, or the mold is too warm for it ever to be solid.
func (j *Job) CastCases() (CastCases, bool) {
	m, err := j.Metal.resolve()
	if err != nil || m.Heat == nil || m.Freezes == nil {
		return CastCases{}, false
	}
	r, err := j.Rubber.resolve()
	p := planCasting(j.Casting, m, r)
	if err != nil || p.MoldC+warmerByShots >= m.Solidus {
		return CastCases{}, false
	}
	one := func(latent, contact, mold float64, h RubberHeat) moldbox.Hot {
		metal, _ := m.Substance(latent)
		return moldbox.Hot{Metal: metal, Rubber: heat.Plain("rubber", h.Conductivity, r.Density, h.SpecificHeat),
			Wire: heat.Plain("steel", 50, 7.85, 0.49), Board: heat.Plain("board", 0.13, 0.6, 1.6), // from memory
			PourC: p.PourC, MoldC: mold, WireC: mold, AirC: float64(j.Evening.Room),
			Contact: contact, WireContact: contact, Air: airTransfer, Boards: boardThickness}
	}
	return CastCases{
		Best:   one(m.Heat.Latent.Best, usualContact, p.MoldC, r.Heat()),
		Slow:   one(m.Heat.Latent.Hi, poorContact, p.MoldC+warmerByShots, r.slowHeat()),
		Limits: [2]float64{r.Continuous, r.Short},
	}, true
}
