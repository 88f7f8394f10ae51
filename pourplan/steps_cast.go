package pourplan

import (
	"fmt"
	"math"
	"slices"
)

// CastStages are the steps of casting, in the order of work.
func CastStages(plan *Plan) []Stage {
	c := plan.Casting
	var melt []WorkStep
	if len(plan.WiresToCut()) > 0 {
		melt = append(melt, WorkStep{Do: "Cut and bend", How: "Make the wires of a shot; check them on the patterns. Wear goggles: ends fly."})
	}
	melt = append(melt,
		WorkStep{Do: "Warm the mold", How: fmt.Sprintf("Dry and warm it to %s.", FormatTemperature(c.MoldC))},
		WorkStep{Do: "Melt", How: "Skim the melt; keep the ladle in it until it is as hot."})
	var cast []WorkStep
	if hooks(plan) {
		cast = append(cast, WorkStep{Do: "Lay the hooks in", How: "They must be dry, with rubber closing round each eye and no wire standing proud."})
	}
	cast = append(cast,
		WorkStep{Do: "Dust and back it", How: "Put talc or graphite on the faces. " + backers(plan)},
		WorkStep{Do: "Pour", How: "Do it in one go, to the top of every funnel."},
		WorkStep{Do: "Wait, open, lay aside", How: c.Opening(), Seconds: c.OpenAfterS},
		WorkStep{Do: "Rest, go on", How: fmt.Sprintf("Let the open mold cool to %s%s. If the first shots have pinholes or cold laps, the mold was cold: melt them again.",
			FormatTemperature(c.MoldC), restText(c)), Seconds: c.RestS})
	return []Stage{
		{Steps: melt, Cautions: cautionTexts(plan, StepMelt)},
		{Steps: cast, Cautions: cautionTexts(plan, StepCast)},
		{Steps: append(finishSteps(plan), WorkStep{Do: "Clean up", How: "Bench, tools, hands."}), Cautions: cautionTexts(plan, StepClean)},
	}
}

// finishSteps weigh the heads before they are coated: the plan's weights are of
// bare ones.
func finishSteps(plan *Plan) []WorkStep {
	steps := []WorkStep{{Do: "Finish and weigh", How: "Snip the gate, smooth it, weigh each head and write it down below."}}
	if len(plan.Heads) == 0 || plan.Heads[0].Coat == nil {
		return steps
	}
	if plan.Heads[0].Coat.HookEyeMM > 0 {
		steps = append(steps, WorkStep{Do: "Mask", How: "Cover the hook's eye and point, so that the eye stays open."})
	}
	eyes := plan.Heads[0].Coat.SocketMM > 0
	glue := func() { steps, eyes = append(steps, WorkStep{Do: "Glue the eyes in", How: "Two a head."}), false }
	for _, c := range plan.Heads[0].Coat.Coats {
		if eyes && c.AfterEyes {
			glue()
		}
		how := fmt.Sprintf("%s: adds %.2f g; the first head then weighs %.2f g (estimate).", Capitalise(c.Text()), c.AddsG, c.CoatedG.Best)
		if c.BakeC > 0 {
			how += fmt.Sprintf(" Bake at %s for %s, by its data sheet.", FormatTemperature(c.BakeC), FormatDuration(c.BakeS))
		}
		steps = append(steps, WorkStep{Do: "Coat", How: how})
	}
	if eyes {
		glue()
	}
	return steps
}

func hooks(plan *Plan) bool {
	return slices.ContainsFunc(plan.Heads, func(h HeadPlan) bool { return h.WireLengthMM > 0 })
}

// backers says how large the boards are: no smaller than the rubber.
func backers(plan *Plan) string {
	x, y := 0.0, 0.0
	for _, f := range plan.Frames {
		x, y = math.Max(x, f.InsideMM[0]), math.Max(y, f.InsideMM[1])
	}
	if x == 0 {
		return "Clamp it between two stiff boards, just tight."
	}
	return fmt.Sprintf("Clamp it between two stiff boards of at least %.0f × %.0f mm (%.1f × %.1f in), just tight.", math.Ceil(x), math.Ceil(y), x/MMPerInch, y/MMPerInch)
}

// restText says how long a rest is, if that is known.
func restText(c CastingPlan) string {
	if c.RestS == 0 {
		return ""
	}
	step := 10.0
	if c.RestS >= 120 {
		step = 60
	}
	rest := ", about " + FormatDuration(math.Ceil(c.RestS/step)*step)
	if c.Shot != nil && c.Shot.RhythmS > 0 {
		return rest + fmt.Sprintf(": a shot every %s keeps it there (computed)", FormatDuration(math.Ceil(c.Shot.RhythmS/step)*step))
	}
	return rest + " (rough)"
}
