package pourplan

import (
	"fmt"
	"strings"
)

// This file has the cautions on rubber: mixing, pouring in time, curing.

// CatalystCaution goes with every mix of rubber.
var CatalystCaution = Caution{StepMix, "catalyst", "Keep the catalyst off your skin and out of your eyes: wear gloves and goggles, work in fresh air."}

func cautionsMix(p *Plan, r Rubber, plastic Plastic, add func(Step, string, string)) {
	add(StepMix, "sheets-stand-above", "The data sheets of rubber and metal, and the rules where you live, take precedence over this plan.")
	add(CatalystCaution.Step, CatalystCaution.Code, CatalystCaution.Text)
	for _, key := range r.Typical {
		if key == "rubber.density" {
			add(StepMix, "typical-density", fmt.Sprintf("The rubber's density is a typical one (%.2f g/cm3). Put your data sheet's density into the job: the masses to weigh depend on it.", r.Density))
		}
	}
	for _, h := range p.Rubber.Halves {
		if off := h.BErrorPercent; off > 3 || off < -3 {
			add(StepMix, "coarse-scale", fmt.Sprintf("Part B of the %s half is off by %.0f %% on a scale with %g g steps: weigh B on a finer one.", h.Half, off, r.Resolution))
		}
	}
	cautionsTime(p, add)
	if r.Cure == "platinum" {
		add(StepMix, "inhibition", "Platinum-cure rubber stays sticky on sulphur, amines, tin compounds and uncured resin: try a drop on a print first.")
		if strings.EqualFold(plastic.Name, "resin") {
			add(StepMix, "resin-stops-cure", "Light-cured resin stops platinum-cure rubber from setting: wash and fully cure the frame, seal it, and try a drop first.")
		}
	}
}

// cautionsTime warns of a half that cannot be poured in one go.
func cautionsTime(p *Plan, add func(Step, string, string)) {
	one := p.Rubber.OneMix
	if one.HalfTakesS > p.Times.PotLifeRoomS {
		add(StepMix, "too-slow", fmt.Sprintf("Mixing and pouring a half takes %s, and the pot life is %s: get help, work in a cooler room, or use a slower rubber.",
			FormatDuration(one.HalfTakesS), FormatPotLife(p.Times.PotLifeRoomS)))
	}
	for _, h := range p.Rubber.Halves {
		if one.LargestCupML > 0 && h.CupML > one.LargestCupML {
			add(StepMix, "cup-too-small", fmt.Sprintf("The rubber of the %s half needs a cup of %.0f ml, and your largest holds %.0f ml: mix it in portions, each with its own A and B, and pour them one straight after the other.",
				h.Half, h.CupML, one.LargestCupML))
		}
	}
}

func cautionsCure(p *Plan, r Rubber, plastic Plastic, add func(Step, string, string)) {
	if r.Cure == "tin" {
		add(StepCure, "tin-rest", "Let the demolded halves rest for "+FormatDuration(r.Rest)+" at room temperature: alcohol from the cure must leave before hot metal, and heat before that softens the rubber.")
	}
	if p.Times.RoomC < 15 {
		add(StepCure, "cold-room", fmt.Sprintf("At %s rubber cures slowly, and some never cures fully: warm the room, or wait until a spare drop is firm.", FormatTemperature(p.Times.RoomC)))
	}
	limit := plastic.Softens - softMargin
	switch {
	case plastic.Softens > 0 && p.Times.PostCureC > limit:
		add(StepCure, "plastic-softens", fmt.Sprintf("%s softens near %s, and the post-cure is at %s: never post-cure in the frame. Take the rubber out first and lay it flat.",
			plastic.Name, FormatTemperature(plastic.Softens), FormatTemperature(p.Times.PostCureC)))
	case plastic.Softens > 0:
		add(StepCure, "warm-cure", fmt.Sprintf("A frame of %s softens near %s: keep it below %s.", plastic.Name, FormatTemperature(plastic.Softens), FormatTemperature(limit)))
	default:
		add(StepCure, "warm-cure", "A printed frame softens when warm: PLA near 60 °C, PETG near 75 °C. Cure well below that.")
	}
}
