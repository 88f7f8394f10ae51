package pourplan

import "math"

// MetalHeat is what the estimates of heat and flow need of a metal.
type MetalHeat struct {
	Melts            float64 // °C; for an alloy its liquidus
	Density          float64 // solid and cold, g/cm³
	HotDensity       float64 // solid at its solidus, g/cm³
	LiquidDensity    float64 // at the liquidus, g/cm³
	Latent           Span    // heat of fusion, J/g
	HeatSolid        float64 // specific heat, J/(g·K)
	HeatLiquid       float64
	Conductivity     float64 // solid, W/(m·K)
	MeltConductivity float64
	Tension          float64 // surface tension, N/m
}

// heat mixes the figures of the pure metals: specific heats and tension by mass,
// the melt's density in volume. What is measured takes precedence.
func (t MetalTable) heat(m Metal) *MetalHeat {
	c := m.Parts
	h := &MetalHeat{
		Melts:            m.Liquidus,
		Density:          c.Density(),
		HotDensity:       m.Density.Best * cube(1-fraction(m.Shrink.Best)),
		LiquidDensity:    c.meltDensity(m.Liquidus),
		HeatSolid:        c.byMass(func(e element) float64 { return e.heatSolid }),
		HeatLiquid:       c.byMass(func(e element) float64 { return e.heatLiquid }),
		Conductivity:     c.conductivity(),
		MeltConductivity: c.byVolume(func(e element) float64 { return e.conductsMelt }),
		Tension:          c.byMass(func(e element) float64 { return e.tension }),
	}
	if t.Latent != nil {
		h.Latent = exactly(*t.Latent)
	} else {
		const unsure = 0.15
		latent := c.latent(m.Freezes.between(m.Liquidus, m.lowest()).mean())
		h.Latent = Span{(1 - unsure) * latent, latent, (1 + unsure) * latent}
	}
	return h
}

// lowest is the lowest temperature at which the metal is known to freeze, °C.
func (m Metal) lowest() float64 {
	if m.Solidus > 0 {
		return m.Solidus
	}
	return m.Liquidus
}

// latent is the heat of fusion at a temperature in °C, J/g: the entropies of
// fusion of the pure metals, mixed by atoms, times that temperature. The mean of
// their heats by mass counts a metal that melts high with heat that it gives off
// only up there. Measured heats of alloys are within 15 % of it.
func (c Composition) latent(at float64) float64 {
	entropy := c.byMole(func(e element) float64 { return e.latent * e.molar / kelvin(e.melts) })
	return entropy * kelvin(at) / c.byMole(func(e element) float64 { return e.molar })
}

func kelvin(c float64) float64 { return c + 273.15 }

// meltDensity is of the melt at a temperature in °C, g/cm³: that of the pure
// metals, carried on below their melting points, mixed in volume.
func (c Composition) meltDensity(at float64) float64 {
	return c.mixture(func(e element) float64 { return e.liquidDensity - e.thinsOut*(at-e.melts) })
}

// conductivity of the solid is a preset's as measured, or the geometric mean by
// volume, good to about 20 %: it lies between layers along the heat and across
// it.
func (c Composition) conductivity() float64 {
	for _, p := range metalPresets() {
		if p.conducts > 0 && c.same(p.parts) {
			return p.conducts
		}
	}
	return math.Exp(c.byVolume(func(e element) float64 { return math.Log(e.conductivity) }))
}

// RubberHeat is what the estimates need of a cured rubber.
type RubberHeat struct {
	Density      float64 // g/cm³
	SpecificHeat float64 // J/(g·K)
	Conductivity float64 // W/(m·K)
}

// Effusivity returns √(kρc) in W·√s/(m²·K) from k in W/(m·K), ρ in g/cm³ and c
// in J/(g·K).
func Effusivity(k, rho, c float64) float64 { return math.Sqrt(k * rho * c * 1e6) }

// Effusivity returns the rubber's √(kρc).
func (r RubberHeat) Effusivity() float64 {
	return Effusivity(r.Conductivity, r.Density, r.SpecificHeat)
}

// Effusivity returns the melt's √(kρc): melt is what meets the rubber.
func (m MetalHeat) Effusivity() float64 {
	return Effusivity(m.MeltConductivity, m.LiquidDensity, m.HeatLiquid)
}

// ContactTemperature returns the temperature at which two half-spaces meet,
// (e₁T₁ + e₂T₂)/(e₁ + e₂), from their effusivities (Carslaw & Jaeger, section
// 2.15). Latent heat is left out, so a freezing metal stays a little hotter.
func ContactTemperature(e1, t1, e2, t2 float64) float64 {
	return (e1*t1 + e2*t2) / (e1 + e2)
}

// Freezing is a casting that freezes in a mold which insulates: the metal is
// at one temperature throughout, the rubber has no end (Flemings,
// Solidification Processing, 1974, chapter 1; Poirier & Geiger, chapter 10).
type Freezing struct {
	Metal  MetalHeat
	Rubber RubberHeat
	Pour   float64 // °C
	Mold   float64 // °C, below the melting point
}

// heatPerVolume is what a volume of metal gives off until it is solid, over
// the mold's rise in temperature: ρ(L + c·superheat)/(T_melt - T_mold), J/(m³·K).
func (f Freezing) heatPerVolume() float64 {
	heat := f.Metal.Latent.Best + f.Metal.HeatLiquid*math.Max(0, f.Pour-f.Metal.Melts)
	return f.Metal.Density * 1e6 * heat / (f.Metal.Melts - f.Mold)
}

// Chvorinov returns C of t = C·(V/A)² in s/mm² for a flat casting. It is +Inf
// when the mold is as hot as the melting point.
func (f Freezing) Chvorinov() float64 {
	if f.Mold >= f.Metal.Melts {
		return math.Inf(1)
	}
	e := f.Rubber.Effusivity()
	h := f.heatPerVolume()
	return math.Pi / 4 * h * h / (e * e) * 1e-6
}

// Plane returns the freezing time in s of a casting with the modulus V/A in mm
// by Chvorinov's rule: the longest for that modulus, since a curved surface sheds
// heat faster.
func (f Freezing) Plane(modulus float64) float64 { return f.Chvorinov() * modulus * modulus }

// Sphere returns the freezing time in s of a sphere with the modulus V/A in
// mm, from V/A = [2√(kρc·t/π) + k·t/r]/heatPerVolume with r = 3·V/A.
func (f Freezing) Sphere(modulus float64) float64 {
	if f.Mold >= f.Metal.Melts {
		return math.Inf(1)
	}
	if modulus <= 0 {
		return 0
	}
	m := modulus * 1e-3
	a := 2 / math.Sqrt(math.Pi) * f.Rubber.Effusivity()
	b := f.Rubber.Conductivity / (3 * m)
	q := m * f.heatPerVolume()
	root := 2 * q / (a + math.Sqrt(a*a+4*b*q))
	return root * root
}

// ThermalDepth returns how far heat reaches into the rubber in t s, √(παt) in
// mm; rubber thicker than that counts as endless.
func (r RubberHeat) ThermalDepth(t float64) float64 {
	alpha := r.Conductivity / (r.Density * r.SpecificHeat) // mm²/s
	return math.Sqrt(math.Pi * alpha * t)
}

// FillSpeed returns the speed in mm/s of metal falling through h mm, √(2gh)
// (Torricelli).
func FillSpeed(h float64) float64 { return math.Sqrt(2 * StandardGravity * 1000 * h) }

// FillTime returns the time in s to fill v mm³ through a gate of a mm² under h
// mm of metal. discharge is what part of Torricelli's flow gets through: 1
// without loss, 0.6 to 0.8 for small gates (from memory).
func FillTime(v, a, h, discharge float64) float64 {
	return v / (discharge * a * FillSpeed(h))
}

// FinestRadius returns the radius in mm of the finest detail that metal enters
// under h mm of itself, 2γ/(ρgh) (Young-Laplace, no wetting): γ in N/m, liquid
// density in g/cm³. A vent narrower than twice that passes air and stops metal.
func FinestRadius(tension, density, h float64) float64 {
	return 2 * tension / (density * StandardGravity * h) * 1e3
}
