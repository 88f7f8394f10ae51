package pourplan

import (
	"errors"
	"fmt"
	"math"
	"strings"
)

// Metal is what a head is cast of, as the plan counts with it.
type Metal struct {
	Name       string
	Parts      Composition  // nil when only its density is known
	Density    Span         // cold, g/cm³
	Shrink     Span         // linear, of the solid from freezing to cold, in percent
	FillFactor float64      // weighed over computed metal mass
	Weighed    bool         // somebody has weighed heads for the fill factor: it has in it what is not known of feeding
	FillRange  Span         // of it; zero: known exactly
	Fed        Span         // share of a head that is solid when no more melt can flow on into it; zero: not computed
	Liquidus   float64      // °C
	Solidus    float64      // where its last liquid freezes, °C; 0 when that is not known
	Freezes    FreezingPath // between them; nil when the solidus is not known
	Heat       *MetalHeat   // nil when the composition is not known
	Typical    []string     // keys whose figures the job did not state
}

// Part is one metal of an alloy.
type Part struct {
	Metal   string
	Percent float64 // by mass
}

// Composition is an alloy, in the order of elements.
type Composition []Part

// UnmarshalTOML reads a table such as {lead = 96, antimony = 4}: percent by
// mass, 100 together to within 0.5.
func (c *Composition) UnmarshalTOML(v any) error {
	table, ok := v.(map[string]any)
	if !ok {
		return fmt.Errorf("want percent by mass such as {lead = 96, antimony = 4}, got %s", quoted(v))
	}
	for _, key := range sortedKeys(table) {
		if _, ok := elementNamed(key); !ok {
			return fmt.Errorf("knows no metal %q, only %s", key, strings.Join(elementNames(), ", "))
		}
	}
	var parts Composition
	sum := 0.0
	for _, name := range elementNames() {
		share, given := table[name]
		if !given {
			continue
		}
		x, err := percentDim.read(share)
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		if x > 0 {
			parts, sum = append(parts, Part{name, x}), sum+x
		}
	}
	if math.Abs(sum-100) > 0.5 {
		return fmt.Errorf("must come to 100 %%, got %.6g %%", sum)
	}
	*c = parts
	return nil
}

// Of returns the percent of a metal.
func (c Composition) Of(metal string) float64 {
	for _, p := range c {
		if p.Metal == metal {
			return p.Percent
		}
	}
	return 0
}

// Density returns the cold density in g/cm³ by the rule of mixtures in volume,
// 1/ρ = Σ wᵢ/ρᵢ. (The mean weighted by mass is always too high.) It meets the
// published densities of lead-tin alloys to within 0.5 %.
func (c Composition) Density() float64 {
	return c.mixture(func(e element) float64 { return e.density })
}

// mixture is the rule of mixtures in volume for densities.
func (c Composition) mixture(density func(element) float64) float64 {
	mass, volume := 0.0, 0.0
	for _, p := range c {
		e, _ := elementNamed(p.Metal)
		mass += p.Percent
		volume += p.Percent / density(e)
	}
	return mass / volume
}

// byMass is the mean weighted by mass: right for heats, an estimate elsewhere.
func (c Composition) byMass(f func(element) float64) float64 {
	return c.mean(func(e element) float64 { return 1 }, f)
}

// byMole is the mean weighted by the number of atoms.
func (c Composition) byMole(f func(element) float64) float64 {
	return c.mean(func(e element) float64 { return 1 / e.molar }, f)
}

// byVolume is the mean weighted by volume: an estimate for lengths.
func (c Composition) byVolume(f func(element) float64) float64 {
	return c.mean(func(e element) float64 { return 1 / e.density }, f)
}

func (c Composition) mean(perMass, f func(element) float64) float64 {
	sum, weight := 0.0, 0.0
	for _, p := range c {
		e, _ := elementNamed(p.Metal)
		w := p.Percent * perMass(e)
		sum, weight = sum+w*f(e), weight+w
	}
	return sum / weight
}

// densitySpan is ±1 % round the rule of mixtures for an alloy, the published
// spread for a pure metal.
func (c Composition) densitySpan() Span {
	if len(c) == 1 {
		e, _ := elementNamed(c[0].Metal)
		return Span{e.low, e.density, e.high}
	}
	best := c.Density()
	return Span{0.99 * best, best, 1.01 * best}
}

// shrinkSpan is the free contraction from the solidus, °C, to 25 °C in percent:
// that of the pure metals over that range, mixed by volume. Practice scatters
// round it by -20 % and +30 % (common practice, no source).
func (c Composition) shrinkSpan(solidus float64) Span {
	const cold = 25
	best := c.byVolume(func(e element) float64 { return e.shrink * (solidus - cold) / (e.melts - cold) })
	return Span{0.8 * best, best, 1.3 * best}
}

// same reports whether two alloys agree to 0.3 % of every metal.
func (c Composition) same(d Composition) bool {
	for _, name := range elementNames() {
		if math.Abs(c.Of(name)-d.Of(name)) > 0.3 {
			return false
		}
	}
	return true
}

// liquidus returns where the alloy is fully molten, °C, when that is known: for
// presets, pure metals, and alloys that lie on a limb of a diagram.
func (c Composition) liquidus() (float64, bool) {
	for _, p := range metalPresets() {
		if c.same(p.parts) {
			return p.liquidus, true
		}
	}
	if path := c.freezes(); path != nil {
		return path[0].C, true
	}
	return 0, false
}

// resolve turns [metal] into figures.
func (t MetalTable) resolve() (Metal, error) {
	m := Metal{Name: t.Preset, FillFactor: t.FillFactor, Weighed: t.FillFactor != 1}
	liquidus, known := 0.0, false
	switch {
	case t.Preset != "" && t.Composition != nil:
		return m, &keyError{"metal.composition", RuleConflict, "remove one of them", errors.New("cannot be used with metal.preset")}
	case t.Preset != "":
		p, err := metalPresetNamed(t.Preset)
		if err != nil {
			return m, err
		}
		m.Parts, liquidus, known = p.parts, p.liquidus, true
	case t.Composition != nil:
		m.Parts, m.Name = t.Composition, t.Composition.String()
		liquidus, known = m.Parts.liquidus()
	case t.Density > 0:
		m.Name = "metal of the job"
	default:
		return m, &keyError{"metal", RuleMissing, "write preset = \"lead-antimony 4\" under [metal]; presets: " +
			strings.Join(metalPresetNames(), ", "), errors.New("give one of them: preset, composition or density")}
	}
	if t.Use != "" {
		m.Name = t.Use
	}
	if t.Liquidus != nil {
		liquidus, known = float64(*t.Liquidus), true
	}
	if !known {
		return m, &keyError{"metal.liquidus", RuleMissing, "take it from a phase diagram or the supplier's sheet",
			fmt.Errorf("not known for %s: give the temperature at which it is fully molten", m.Name)}
	}
	m.Liquidus = liquidus
	if m.Solidus, _ = m.Parts.solidus(); t.Solidus != nil {
		m.Solidus = float64(*t.Solidus)
	}
	if m.Solidus > m.Liquidus {
		return m, &keyError{"metal.solidus", RuleConflict, "the last liquid freezes at the solidus, the first at the liquidus",
			fmt.Errorf("must not be above the liquidus of %.6g °C, got %.6g °C", m.Liquidus, m.Solidus)}
	}
	if m.Solidus > 0 {
		m.Freezes = m.Parts.freezes().between(m.Liquidus, m.Solidus)
	}
	if err := t.spans(&m); err != nil {
		return m, err
	}
	if m.Parts != nil {
		m.Heat = t.heat(m)
	}
	return m, nil
}

// notWeighed is what castings weigh over what their volume makes them, as long
// as nobody has weighed some: pinholes, cold laps and rounded corners take up
// to some hundredths (common practice, no source; see TestWorkedCastings).
func notWeighed() Span { return Span{0.96, 1, 1} }

// filled is a head's mass over that of solid metal in its volume.
func (m Metal) filled() float64 { return m.FillFactor * m.fed().Best }

// fill is the fill factor with its range.
func (m Metal) fill() Span {
	if m.FillRange == (Span{}) {
		return exactly(m.FillFactor)
	}
	return m.FillRange
}

// fills fills in the fill factor's range: a factor other than 1 has been
// weighed.
func (t MetalTable) fills(m *Metal) error {
	switch {
	case t.FillRange != nil:
		m.FillRange = Span{t.FillRange[0], t.FillFactor, t.FillRange[1]}
	case t.FillFactor == 1:
		m.FillRange = notWeighed()
		m.Typical = append(m.Typical, "metal.fill_range")
	}
	return m.fill().check("metal.fill_range")
}

// spans fills in density and shrinkage with their ranges.
func (t MetalTable) spans(m *Metal) error {
	switch {
	case t.Density > 0:
		m.Density = exactly(float64(t.Density))
	default:
		m.Density = m.Parts.densitySpan()
		m.Typical = append(m.Typical, "metal.density")
	}
	if r := t.DensityRange; r != nil {
		m.Density.Lo, m.Density.Hi = float64(r[0]), float64(r[1])
	}
	switch {
	case t.Shrink != nil:
		m.Shrink = exactly(float64(*t.Shrink))
	case m.Parts != nil:
		m.Shrink = m.Parts.shrinkSpan(m.lowest())
		m.Typical = append(m.Typical, "metal.shrink")
	default:
		return &keyError{"metal.shrink", RuleMissing, "about 0.9 % for lead, 0.5 % for tin", errors.New("is required with a bare density")}
	}
	if r := t.ShrinkRange; r != nil {
		m.Shrink.Lo, m.Shrink.Hi = float64(r[0]), float64(r[1])
	}
	return errors.Join(m.Density.check("metal.density_range"), m.Shrink.check("metal.shrink_range"), t.fills(m))
}

// check asks for the best value to lie in its range.
func (s Span) check(key string) error {
	if s.Lo <= s.Best && s.Best <= s.Hi {
		return nil
	}
	return &keyError{key, RuleConflict, "widen the range", fmt.Errorf("must hold %.6g, got %.6g to %.6g", s.Best, s.Lo, s.Hi)}
}

// String reads "lead 96 %, antimony 4 %".
func (c Composition) String() string {
	var parts []string
	for _, p := range c {
		parts = append(parts, fmt.Sprintf("%s %.4g %%", p.Metal, p.Percent))
	}
	return strings.Join(parts, ", ")
}
