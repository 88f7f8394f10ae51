package sheet

import (
	"fmt"
	"strings"

	"halfpour/pourplan"
)

// pourStages are the steps of pouring the halves, in the order of work.
func pourStages(plan *pourplan.Plan) []stage {
	pot := pourplan.FormatPotLife(plan.Times.PotLifeRoomS)
	mix := []workStep{
		{"Weigh A", "Cup on the scale, zero, pour A. If it is not the figure above, read B off the small table."},
		{"Weigh B", "Zero again, add B by drops. Too much of it? Add A until the ratio is right."},
		{"Mix", fmt.Sprintf("Stir slowly until no streak is left; scrape wall and bottom. The clock runs from here: %s to the last pour.", pot)},
	}
	if plan.Rubber.Vacuum {
		mix = append(mix, workStep{"De-air", "Under vacuum until the foam has risen, fallen, and only few bubbles come."})
	}
	pour := []workStep{
		{"Brush", "A thin coat over heads, eyes, beds and marking, into every corner."},
		{"Pour", "A thin stream into the lowest corner, never onto the heads; let the rubber climb over them."},
		{"Bubbles", "Tap or vibrate the frame for a few minutes; prick what comes up."},
		{"Level", "Up to the fill line and not over it: " + fillTexts(plan) + "."},
	}
	cure := []workStep{
		{"Cure", pourplan.FormatDuration(plan.Times.DemoldRoomS) + " where it stands, dust kept off. Poured at: L ________ R ________"},
		{"Demold", "Pry at the tabs, bend the walls away, peel the rubber off from a corner."},
	}
	if t := plan.Times; t.PostCureC > 0 {
		cure = append(cure, workStep{"Post-cure", fmt.Sprintf("%s at %s, out of the frame, lying flat.", pourplan.FormatDuration(t.PostCureS), pourplan.FormatTemperature(t.PostCureC))})
	}
	frame := []workStep{{"Check frame", "Clean, dry, no loose strings; compare it with the drawing."}}
	if plan.SealMM > 0 {
		frame = append(frame, workStep{"Seal it", fmt.Sprintf("All of the inside, %s mm of coat in all, dry and rubbed smooth: the print is thinner by it.", pourplan.FormatNumber(plan.SealMM, 3))})
	}
	frame = append(frame, workStep{"Level bench", "Both ways, with a spirit level."})
	return []stage{
		{steps: frame, cautions: cautionTexts(plan, pourplan.StepPrint)},
		{steps: mix, cautions: cautionTexts(plan, pourplan.StepMix)},
		{steps: pour},
		{steps: cure, cautions: cautionTexts(plan, pourplan.StepCure)},
	}
}

// fillTexts names the fill height of each half, once when they are alike.
func fillTexts(plan *pourplan.Plan) string {
	var texts []string
	for _, h := range plan.Rubber.Halves {
		texts = append(texts, fmt.Sprintf("%s %s mm over the floor", h.Half, pourplan.FormatNumber(h.FillFromFloorMM, 1)))
	}
	return strings.Join(texts, ", ")
}

// cautionTexts are the cautions of a step. The rule that data sheets and local
// rules stand above the sheet is at the foot of every page already.
func cautionTexts(plan *pourplan.Plan, step pourplan.Step) []string {
	var texts []string
	for _, c := range plan.Cautions {
		if c.Step == step && c.Code != "sheets-stand-above" {
			texts = append(texts, c.Text)
		}
	}
	return texts
}
