package pourplan

import (
	"fmt"
	"math"
)

// Step is a step of the work that a caution belongs to.
type Step string

// The steps, in the order in which they are done.
const (
	StepPrint Step = "print"
	StepMix   Step = "mix"
	StepCure  Step = "cure"
	StepMelt  Step = "melt"
	StepCast  Step = "cast"
	StepClean Step = "clean"
)

// Caution is a warning next to its step.
type Caution struct {
	Step Step   `json:"step"` // where in the work it belongs
	Code string `json:"code"` // short and stable
	Text string `json:"text"` // whole sentences, for people
}

// cautions lists what applies to this plan, in the order of the steps.
func cautions(p *Plan, m Metal, r Rubber, plastic Plastic) []Caution {
	list := cautionsOfRubber(p, r, plastic)
	add := func(step Step, code, text string) { list = append(list, Caution{step, code, text}) }
	cautionsMelt(p, m, add)
	cautionsCast(p, add)
	cautionsCoat(p, m, add)
	if contains(m, "lead") {
		add(StepClean, "lead-dust", "Wipe lead dust up wet; never sweep it dry and never take a household vacuum cleaner to it. Wash hands and change clothes before you eat or meet children.")
		add(StepClean, "lead-rules", "Lead tackle is restricted in some places, often by the weight of the head: check your local rules.")
	}
	return list
}

// cautionsCoat are about powder, paint and the oven.
func cautionsCoat(p *Plan, m Metal, add func(Step, string, string)) {
	if len(p.Heads) == 0 || p.Heads[0].Coat == nil {
		return
	}
	c := p.Heads[0].Coat
	if c.BakeC > 0 {
		add(StepClean, "coat-oven", fmt.Sprintf("Bake the coat at %s by its data sheet, in an oven never used for food, with fresh air. Do not breathe powder, keep it off flames and hot wires: its dust can flash. A head that gets too hot sags or drips molten metal: put a tray under them.", FormatTemperature(c.BakeC)))
	}
	for _, s := range c.Coats {
		if s.Kind != "powder" {
			add(StepClean, "coat-fumes", "Paint and clear coats give off fumes that burn: work in fresh air, away from flames and the melt, with gloves. The product's data sheet says what else.")
			break
		}
	}
	if contains(m, "lead") {
		add(StepClean, "lead-sanding", "Never sand or file lead dry before you coat it: smooth it wet, and catch what comes off.")
	}
}

// cautionsOfRubber are those up to the cured halves.
func cautionsOfRubber(p *Plan, r Rubber, plastic Plastic) []Caution {
	var list []Caution
	add := func(step Step, code, text string) { list = append(list, Caution{step, code, text}) }
	add(StepPrint, "no-metal-in-frame", "The printed frames are for rubber only: never pour metal into them. It melts the plastic and runs out.")
	cautionsMix(p, r, plastic, add)
	cautionsCure(p, r, plastic, add)
	return list
}

func cautionsMelt(p *Plan, m Metal, add func(Step, string, string)) {
	add(StepMelt, "fumes", "Melt outdoors or under an extractor, and wear breathing protection for fume and dust.")
	add(StepMelt, "protection", "Wear a face shield, heat-proof gloves, long cotton or leather clothes and closed shoes.")
	add(StepMelt, "damp", "Keep everything damp away from the melt and the mold: water under metal turns to steam and throws it. Dry and warm ingots, ladle, hooks and mold.")
	if contains(m, "lead") {
		add(StepMelt, "lead", "Lead is poisonous and stays in the body. No food, drink or smoking here; wear separate clothes; keep children away from metal, dust and tools.")
	}
	if contains(m, "lead") || contains(m, "bismuth") {
		add(StepMelt, "no-mixing", "Keep lead and bismuth-tin apart, scrap too: a mix of them starts to melt below 100 °C.")
	}
	if contains(m, "antimony") {
		add(StepMelt, "antimony", "Antimony and its fume are poisonous: do not heat the melt more than you need.")
	}
	if contains(m, "zinc") {
		add(StepMelt, "zinc", "Zinc that is overheated gives off fume that makes you ill: keep to the pouring temperature.")
	}
}

func cautionsCast(p *Plan, add func(Step, string, string)) {
	c := p.Casting
	switch c.Verdict {
	case DoNot:
		add(StepCast, "too-hot", fmt.Sprintf("Do not cast this metal in this rubber: they meet at about %s, and the rubber's short-term limit is %s. Use a metal that melts lower, or a rubber that takes more heat.",
			FormatTemperature(c.meetsAt()), FormatTemperature(c.RubberShortC)))
	case ShortensLife:
		add(StepCast, "hot", fmt.Sprintf("Metal and rubber meet at about %s, above the rubber's continuous limit of %s: each shot shortens the mold's life.",
			FormatTemperature(c.meetsAt()), FormatTemperature(c.RubberContinuousC)))
	}
	if c.Verdict != DoNot && c.PourVerdict == DoNot {
		add(StepCast, "pour-hot", fmt.Sprintf("At the gate, where metal keeps running past, the rubber gets nearly as hot as the pour, above its limit of %s: pour briskly, and check the gates after each shot.",
			FormatTemperature(c.RubberShortC)))
	}
	if p.Metal.PotG > 0 && p.Metal.ShotsPerMelt == 0 {
		add(StepMelt, "pot-too-small", fmt.Sprintf("A shot takes %.0f g, more than a pot of %s gives above its heel: use a larger pot.", p.Metal.ShotG, FormatKilograms(p.Metal.PotG)))
	}
	for _, h := range p.Heads {
		switch f := h.Fill; {
		case f == nil:
		case f.GateFreezesS < f.FillS:
			add(StepCast, "gate-freezes", fmt.Sprintf("The gate of %s may freeze before the head is full (%s: %.2f s against %.2f s): use a thicker gate or a warmer mold.",
				h.Name, c.how(), f.GateFreezesS, f.FillS))
		case f.FreezesLowS > 0 && f.FreezesLowS < f.FillS:
			add(StepCast, "head-freezes", fmt.Sprintf("%s may freeze before it is full (%s: %.2f s against %.2f s): warm the mold, pour hotter, or use a larger gate.",
				h.Name, c.how(), f.FreezesLowS, f.FillS))
		}
	}
	deep := 0.0
	for _, h := range p.Heads {
		if h.Fill != nil {
			deep = math.Max(deep, h.Fill.HeatReachesMM)
		}
	}
	if deep > c.RubberOverMM {
		add(StepCast, "heat-through", fmt.Sprintf("While a head freezes, heat reaches about %.0f mm into the rubber, which is only %s mm thick there (%s): the boards get warm.",
			deep, FormatNumber(c.RubberOverMM, 1), c.how()))
	}
	add(StepCast, "hot-rubber", "Hot silicone gives off traces of formaldehyde: keep the air moving over a working mold.")
	add(StepCast, "clamp", "Clamp the halves lightly between stiff boards: a squeezed mold casts thin heads and leaks. Stand clear of the parting line.")
}

// meetsAt is how hot the rubber gets where it meets the metal, °C.
func (c CastingPlan) meetsAt() float64 {
	if c.Shot != nil {
		return c.SkinC
	}
	return c.ContactC
}

func contains(m Metal, name string) bool { return m.Parts.Of(name) > 0 }
