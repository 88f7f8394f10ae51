package pourplan

import (
	"errors"
	"fmt"
	"math"
	"strings"
)

// Rubber is a two-part mold rubber as the plan counts with it.
type Rubber struct {
	Name       string
	Cure       string // "tin" or "platinum"
	Ratio      Ratio
	Density    float64 // mixed, g/cm³
	DensityA   float64 // of part A, g/cm³; 0 when not known
	Shrink     Span    // linear, in percent
	Expansion  Span    // linear, 1e-6/K
	PotLife    float64 // s
	Demold     float64 // s
	Rest       float64 // s, from demolding to hot metal
	Continuous float64 // °C
	Short      float64 // °C

	// Of the cured rubber; 0: usual, see Heat.
	SpecificHeat float64 // J/(g·K)
	Conductivity float64 // W/(m·K)

	Waste      float64 // fraction of what the frame takes
	Residue    float64 // g for each mix
	Brush      float64 // thickness of the coat brushed on first, mm
	Vacuum     bool
	Resolution float64  // of the scale, g
	Typical    []string // keys whose figures the job did not state
}

// Heat returns what the heat estimates need. Where the job does not say,
// specific heat 1.3 J/(g·K) is from memory (1.2 to 1.5), and conductivity 0.27
// W/(m·K) that of a room-cured silicone at 240-300 K (Baudot, Mazuer & Odin,
// Cryogenics 38, 1998, 227).
func (r Rubber) Heat() RubberHeat {
	h := RubberHeat{Density: r.Density, SpecificHeat: 1.3, Conductivity: 0.27}
	if r.SpecificHeat > 0 {
		h.SpecificHeat = r.SpecificHeat
	}
	if r.Conductivity > 0 {
		h.Conductivity = r.Conductivity
	}
	return h
}

// MixedDensity returns the density of a mix in g/cm³ by the rule of mixtures
// in volume, 1/ρ = w_A/ρ_A + w_B/ρ_B.
func MixedDensity(r Ratio, a, b float64) float64 {
	return (r.A + r.B) / (r.A/a + r.B/b)
}

// RubberMass returns the mass in g to mix for v ml of frame: ρ·v·(1+waste) +
// residue. waste is a fraction, residue g.
func RubberMass(v, density, waste, residue float64) float64 {
	return density*v*(1+waste) + residue
}

// Split divides a mixed mass into its parts: at 100:r by mass, A = m·100/(100+r)
// and B = m·r/(100+r).
func (r Ratio) Split(mass float64) (a, b float64) {
	return mass * r.A / (r.A + r.B), mass * r.B / (r.A + r.B)
}

// BFor returns the mass of part B that belongs to a g of part A.
func BFor(a float64, r Ratio) float64 { return a * r.B / r.A }

// AFor returns the mass of part A that belongs to b g of part B.
func AFor(b float64, r Ratio) float64 { return b * r.A / r.B }

// Weigh divides a mixed mass into readings of a scale, for the least error of
// the ratio: A goes up to the first step whose B is right to half a percent, by
// up to two percent; failing that, to the step up to there with the least
// error. B is the nearest step to what belongs to that A, but not none.
func (r Ratio) Weigh(mass, resolution float64) (a, b float64) {
	const goodEnough, spare = 0.005, 0.02
	exactA, _ := r.Split(mass)
	least := math.Inf(1)
	// A hair less, so that 145.6 g is not pushed to 145.7 by its last bit.
	for n := math.Ceil(exactA/resolution - 1e-9); ; n++ {
		tryA := onStep(n, resolution)
		if tryA > exactA*(1+spare) && !math.IsInf(least, 1) {
			return a, b
		}
		tryB := onStep(math.Max(1, math.Round(BFor(tryA, r)/resolution)), resolution)
		if off := math.Abs(tryB/BFor(tryA, r) - 1); off < least-1e-9 {
			a, b, least = tryA, tryB, off
		}
		if least <= goodEnough {
			return a, b
		}
	}
}

// onStep is n steps, without the last bit's dirt for decimal steps.
func onStep(n, step float64) float64 {
	if inverse := math.Round(1 / step); math.Abs(inverse*step-1) < 1e-12 {
		return n / inverse
	}
	return n * step
}

// Headroom is how many times its volume a mix needs in its cup: rubber rises
// three to five times under vacuum before it falls (trade notes); without,
// room to stir is enough (common practice, no source).
func (r Rubber) Headroom() float64 {
	if r.Vacuum {
		return 4
	}
	return 1.3
}

// fraction returns p as a part of one.
func fraction(p float64) float64 { return p / 100 }

// MixRatio returns the ratio of the job's rubber: its own, or its preset's.
func (j *Job) MixRatio() (Ratio, error) {
	r, err := j.Rubber.resolve()
	return r.Ratio, err
}

// resolve turns [rubber] into figures.
func (t RubberTable) resolve() (Rubber, error) {
	own := Rubber{Waste: t.Waste.Fraction(), Residue: float64(t.Residue), Brush: float64(t.Brush), Vacuum: t.Vacuum, Resolution: float64(t.Scale)}
	r := own
	if t.Preset != "" {
		p, err := rubberPresetNamed(t.Preset)
		if err != nil {
			return r, err
		}
		r = p
		r.Waste, r.Residue, r.Brush, r.Vacuum, r.Resolution = own.Waste, own.Residue, own.Brush, own.Vacuum, own.Resolution
	}
	if t.Name != "" {
		r.Name = t.Name
	}
	if t.Ratio != nil {
		r.Ratio = *t.Ratio
	}
	g := &gaps{table: "rubber", preset: t.Preset != ""}
	if t.Cure != "" {
		r.Cure = t.Cure
	} else {
		g.open("cure")
	}
	if t.Ratio == nil {
		g.open("ratio")
	}
	if r.Name == "" {
		r.Name = fmt.Sprintf("%s-cure %v", r.Cure, r.Ratio)
	}
	if err := t.density(&r, g); err != nil {
		return r, err
	}
	t.shrink(&r, g)
	t.expansion(&r, g)
	t.rest(&r, g)
	if t.Conductivity != nil {
		r.Conductivity = *t.Conductivity
	}
	if t.SpecificHeat != nil {
		r.SpecificHeat = *t.SpecificHeat
	}
	r.Typical = g.typical
	return r, errors.Join(g.error(), r.Shrink.check("rubber.shrink_range"), r.Expansion.check("rubber.expansion_range"))
}

// density takes the mixed density, or that of the parts, or the preset's.
func (t RubberTable) density(r *Rubber, g *gaps) error {
	if t.DensityA != nil {
		r.DensityA = float64(*t.DensityA)
	}
	parts := t.DensityA != nil && t.DensityB != nil
	switch {
	case t.Density != nil && t.DensityB != nil:
		return &keyError{"rubber.density_b", RuleConflict, "remove one of them", errors.New("cannot be used with rubber.density, the density of the mix")}
	case t.Density != nil:
		r.Density = float64(*t.Density)
	case parts && r.Ratio.A > 0 && *t.DensityA > 0 && *t.DensityB > 0:
		r.Density = MixedDensity(r.Ratio, r.DensityA, float64(*t.DensityB))
	case t.DensityB != nil && t.DensityA == nil:
		return &keyError{"rubber.density_a", RuleMissing, "take both from the data sheet", errors.New("is required with rubber.density_b")}
	default:
		g.open("density")
	}
	return nil
}

func (t RubberTable) shrink(r *Rubber, g *gaps) {
	if t.Shrink != nil {
		r.Shrink = exactly(float64(*t.Shrink))
	} else {
		g.open("shrink")
	}
	if s := t.ShrinkRange; s != nil {
		r.Shrink.Lo, r.Shrink.Hi = float64(s[0]), float64(s[1])
	}
}

// usualExpansion is of poly(dimethylsiloxane), linear, 1e-6/K: 200 to 340 (Kuo,
// in the Polymer Data Handbook, Oxford 1999); fillers lower it.
func usualExpansion() Span { return Span{200, 270, 340} }

func (t RubberTable) expansion(r *Rubber, g *gaps) {
	r.Expansion = usualExpansion()
	if t.Expansion != nil {
		r.Expansion = exactly(float64(*t.Expansion))
	} else {
		g.typical = append(g.typical, "rubber.expansion")
	}
	if x := t.ExpansionRange; x != nil {
		r.Expansion.Lo, r.Expansion.Hi = float64(x[0]), float64(x[1])
	}
}

// grown is by what part a cavity is longer in a mold at mold °C than in the room
// where it was cured. The skin that metal heats does not count: a thin hot shell
// round a cavity in a large body moves outwards, and the cavity keeps its size
// (Timoshenko & Goodier, Theory of Elasticity, the sphere).
func (r Rubber) grown(mold float64) Span {
	rise := (mold - sheetRoom) * 1e-6
	a, b := r.Expansion.Lo*rise, r.Expansion.Hi*rise
	return Span{math.Min(a, b), r.Expansion.Best * rise, math.Max(a, b)}
}

// rest takes the times and temperatures.
func (t RubberTable) rest(r *Rubber, g *gaps) {
	take(g, "pot_life", t.PotLife, &r.PotLife)
	take(g, "demold", t.Demold, &r.Demold)
	take(g, "rest", t.Rest, &r.Rest)
	take(g, "heat_continuous", t.Continuous, &r.Continuous)
	take(g, "heat_short", t.Short, &r.Short)
}

func take[Q ~float64](g *gaps, key string, given *Q, dst *float64) {
	if given == nil {
		g.open(key)
		return
	}
	*dst = float64(*given)
}

// gaps are the keys of a table that a job leaves open: typical figures with a
// preset, missing ones without.
type gaps struct {
	table            string
	preset           bool
	typical, missing []string
}

func (g *gaps) open(key string) {
	if g.preset {
		g.typical = append(g.typical, g.table+"."+key)
	} else {
		g.missing = append(g.missing, key)
	}
}

func (g *gaps) error() error {
	if len(g.missing) == 0 {
		return nil
	}
	return &keyError{"rubber", RuleMissing,
		"take them from the data sheet, or start from a preset: " + strings.Join(rubberPresetNames(), ", "),
		fmt.Errorf("without a preset it must also state %s", strings.Join(g.missing, ", "))}
}
