package pourplan

import "math"

// MetalHeat is what the estimates of heat and flow need of a metal.
type MetalHeat struct {
	Melts         float64 // °C; for an alloy its liquidus
	Density       float64 // solid, g/cm³
	LiquidDensity float64 // g/cm³
	Latent        float64 // heat of fusion, J/g
	HeatSolid     float64 // specific heat, J/(g·K)
	HeatLiquid    float64
	Conductivity  float64 // W/(m·K)
	Tension       float64 // surface tension, N/m
}

// heat mixes the figures of the pure metals: heats by mass, conductivity by
// volume, tension by mass. Good to about 20 %: measured heats of fusion of
// alloys run that much lower.
func (c Composition) heat(liquidus float64) *MetalHeat {
	return &MetalHeat{
		Melts:         liquidus,
		Density:       c.Density(),
		LiquidDensity: c.mixture(func(e element) float64 { return e.liquidDensity }),
		Latent:        c.byMass(func(e element) float64 { return e.latent }),
		HeatSolid:     c.byMass(func(e element) float64 { return e.heatSolid }),
		HeatLiquid:    c.byMass(func(e element) float64 { return e.heatLiquid }),
		Conductivity:  c.byVolume(func(e element) float64 { return e.conductivity }),
		Tension:       c.byMass(func(e element) float64 { return e.tension }),
	}
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

// Effusivity returns the solid metal's √(kρc); the melt's is lower.
func (m MetalHeat) Effusivity() float64 {
	return Effusivity(m.Conductivity, m.Density, m.HeatSolid)
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
	heat := f.Metal.Latent + f.Metal.HeatLiquid*math.Max(0, f.Pour-f.Metal.Melts)
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
