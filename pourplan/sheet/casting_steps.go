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
		melt = append(melt, workStep{"Cut and bend", "Make the wires of a shot; check them on the patterns. Wear goggles: ends fly."})
	}
	melt = append(melt,
		workStep{"Warm the mold", fmt.Sprintf("Dry and warm it to %s.", pourplan.FormatTemperature(c.MoldC))},
		workStep{"Melt", "Skim the melt; keep the ladle in it until it is as hot."})
	var cast []workStep
	if hooks(plan) {
		cast = append(cast, workStep{"Lay the hooks in", "They must be dry, with rubber closing round each eye and no wire standing proud."})
	}
	cast = append(cast,
		workStep{"Dust and back it", "Put talc or graphite on the faces. " + backers(plan)},
		workStep{"Pour", "Do it in one go, to the top of every funnel."},
		workStep{"Wait, open, lay aside", c.Opening()},
		workStep{"Rest, go on", fmt.Sprintf("Let the open mold cool to %s%s. If the first shots have pinholes or cold laps, the mold was cold: melt them again.",
			pourplan.FormatTemperature(c.MoldC), restText(c))})
	return []stage{
		{steps: melt, cautions: cautionTexts(plan, pourplan.StepMelt)},
		{steps: cast, cautions: cautionTexts(plan, pourplan.StepCast)},
		{steps: append(finishSteps(plan), workStep{"Clean up", "Bench, tools, hands."}), cautions: cautionTexts(plan, pourplan.StepClean)},
	}
}

// finishSteps weigh the heads before they are coated: the plan's weights are of
// bare ones.
func finishSteps(plan *pourplan.Plan) []workStep {
	steps := []workStep{{"Finish and weigh", "Snip the gate, smooth it, weigh each head and write it down below."}}
	if len(plan.Heads) > 0 && plan.Heads[0].Coat != nil {
		c := plan.Heads[0].Coat
		steps = append(steps, workStep{"Coat", fmt.Sprintf("%s mm of powder adds %.2f g to the first head (estimate). Keep powder out of the hook's eye.", pourplan.FormatNumber(c.ThicknessMM, 3), c.AddsG)})
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
		return "Clamp it between two stiff boards, just tight."
	}
	return fmt.Sprintf("Clamp it between two stiff boards of at least %.0f × %.0f mm (%.1f × %.1f in), just tight.", math.Ceil(x), math.Ceil(y), x/pourplan.MMPerInch, y/pourplan.MMPerInch)
}

// restText says how long a rest is, if that is known.
func restText(c pourplan.CastingPlan) string {
	step := 10.0
	if c.RestS >= 120 {
		step = 60
	}
	if c.RestS > 0 {
		return ", about " + pourplan.FormatDuration(math.Ceil(c.RestS/step)*step) + " (estimate)"
	}
	return ""
}
