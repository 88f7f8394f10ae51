package sheet

import (
	"fmt"
	"math"

	"halfpour/pourplan"
)

// castStages are the steps of casting, in the order of work.
func castStages(plan *pourplan.Plan) []stage {
	c := plan.Casting
	var melt []workStep
	if len(wiresToCut(plan)) > 0 {
		melt = append(melt, workStep{"Cut and bend", "The wires of a shot, laid on their patterns on the page before. Goggles: ends fly."})
	}
	melt = append(melt,
		workStep{"Warm the mold", fmt.Sprintf("Dry and warm it to %s.", pourplan.FormatTemperature(c.MoldC))},
		workStep{"Melt", "Skim; keep the ladle in the melt until it is as hot."})
	var cast []workStep
	if hooks(plan) {
		cast = append(cast, workStep{"Lay the hooks in", "Dry, each eye closed off by rubber all round, no wire standing proud."})
	}
	cast = append(cast,
		workStep{"Dust and back it", "Talc or graphite on the faces. " + backers(plan)},
		workStep{"Pour", "In one go, to the top of every funnel."},
		workStep{"Wait, open, lay aside", c.Opening()},
		workStep{"Rest, go on", "Let the mold cool back to its warmth" + restText(c) + ". Pinholes and cold laps in the first shots of a cold mold: melt those heads again."})
	return []stage{
		{steps: melt, cautions: cautionTexts(plan, pourplan.StepMelt)},
		{steps: cast, cautions: cautionTexts(plan, pourplan.StepCast)},
		{steps: append(finishSteps(plan), workStep{"Clean up", "Bench, tools, hands."}), cautions: cautionTexts(plan, pourplan.StepClean)},
	}
}

// finishSteps weigh the heads before they are coated: the plan's weights are of
// bare ones.
func finishSteps(plan *pourplan.Plan) []workStep {
	steps := []workStep{{"Finish and weigh", "Snip the gate, smooth it, weigh each head, write it below."}}
	if len(plan.Heads) > 0 && plan.Heads[0].Coat != nil {
		c := plan.Heads[0].Coat
		steps = append(steps, workStep{"Coat", fmt.Sprintf("%s mm of powder on the first head add %.2f g (estimate); keep the hook's eye clear of it.", pourplan.FormatNumber(c.ThicknessMM, 3), c.AddsG)})
	}
	return steps
}

func hooks(plan *pourplan.Plan) bool {
	for _, h := range plan.Heads {
		if h.WireLengthMM > 0 {
			return true
		}
	}
	return false
}

// backers says how large the boards are: no smaller than the rubber.
func backers(plan *pourplan.Plan) string {
	x, y := 0.0, 0.0
	for _, f := range plan.Frames {
		x, y = math.Max(x, f.InsideMM[0]), math.Max(y, f.InsideMM[1])
	}
	if x == 0 {
		return "Two stiff boards, just tight."
	}
	return fmt.Sprintf("Two stiff boards of at least %.0f × %.0f mm (%.1f × %.1f in), just tight.", math.Ceil(x), math.Ceil(y), x/pourplan.MMPerInch, y/pourplan.MMPerInch)
}

// restText says how long a rest is, if that is known.
func restText(c pourplan.CastingPlan) string {
	step := 10.0
	if c.RestS >= 120 {
		step = 60
	}
	if c.RestS > 0 {
		return ", lying open about " + pourplan.FormatDuration(math.Ceil(c.RestS/step)*step) + " (estimate)"
	}
	return ""
}
