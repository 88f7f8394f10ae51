package pourplan

import (
	"math"

	"halfpour/moldbox"
)

// gateDischarge is the part of Torricelli's flow that a small gate passes, 0.6
// to 0.8 (from memory).
const gateDischarge = 0.7

// planCasting sets temperatures and judges them.
func planCasting(t CastingTable, m Metal, r Rubber) CastingPlan {
	p := CastingPlan{LiquidusC: m.Liquidus, SolidusC: m.Solidus, PourC: m.Liquidus + float64(t.Superheat), MoldC: float64(t.Mold),
		RubberContinuousC: r.Continuous, RubberShortC: r.Short}
	if t.Pour != nil {
		p.PourC = float64(*t.Pour)
	}
	if m.Heat != nil {
		p.ContactC = ContactTemperature(m.Heat.Effusivity(), p.PourC, r.Heat().Effusivity(), p.MoldC)
	} else {
		p.ContactC, p.ContactFromPour = p.PourC, true
	}
	p.Verdict, p.PourVerdict = judge(p.ContactC, r), judge(p.PourC, r)
	p.LifeLow, p.LifeHigh, p.LifeUsual = t.life()
	return p
}

// life is the shots that the mold lasts, and whether that is common practice.
func (t CastingTable) life() (low, high int, usual bool) {
	life := usualLife()
	if t.Life != nil {
		life = *t.Life
	}
	return life[0], life[1], t.Life == nil
}

// judge holds a temperature against a rubber's limits; a limit itself is still
// allowed.
func judge(contact float64, r Rubber) Verdict {
	switch {
	case contact <= r.Continuous:
		return Fine
	case contact <= r.Short:
		return ShortensLife
	}
	return DoNot
}

// planFilling estimates how one cavity fills and freezes; nil when the metal's
// heats are not known or nothing stands over the gate.
func planFilling(job *Job, c moldbox.MeasuredCavity, m Metal, r Rubber, t CastingPlan) *Filling {
	if m.Heat == nil || !(c.Funnel > 0) || t.MoldC >= m.Heat.Melts {
		return nil
	}
	w, d := float64(job.Sprue.GateWidth), float64(job.Sprue.GateThickness)
	cavity := (c.Head - c.WireInHead) * cube(math.Max(c.Shrink, 1))
	freezing := Freezing{Metal: *m.Heat, Rubber: r.Heat(), Pour: t.PourC, Mold: t.MoldC}
	f := &Filling{
		Estimate: true,
		// An ellipse of the gate's two widths, and its V/A as a long bar's.
		FillS:          FillTime(cavity, math.Pi/4*w*d, c.Funnel, gateDischarge),
		GateFreezesS:   freezing.Plane(barModulus(w, d)),
		FinestRadiusMM: FinestRadius(m.Heat.Tension, m.Heat.LiquidDensity, c.Funnel),
	}
	if t := c.Thin; t != nil {
		at, head := xyz(t.At), xyz(t.HeadAt)
		f.ThinMM, f.ThinAtMM, f.ThinHeadAtMM = t.Thickness, &at, &head
		f.ThinFreezesS = freezing.Plane(t.Thickness / 2)
	}
	if c.Area > 0 && m.Solidus > 0 {
		f.ModulusMM = cavity / c.Area
		// As if all of it froze at the liquidus, or where its last liquid does.
		f.FreezesLowS = freezing.Sphere(f.ModulusMM)
		freezing.Metal.Melts = m.Solidus
		f.FreezesHighS = freezing.Plane(f.ModulusMM)
		f.HeatReachesMM = r.Heat().ThermalDepth(f.FreezesHighS)
	}
	return f
}

func cube(x float64) float64 { return x * x * x }

// barModulus is V/A of a long bar with an elliptic section of widths w and d:
// π/4·w·d over the perimeter by Ramanujan's first formula.
func barModulus(w, d float64) float64 {
	a, b := w/2, d/2
	around := math.Pi * (3*(a+b) - math.Sqrt((3*a+b)*(a+3*b)))
	return math.Pi * a * b / around
}
