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
		{"Weigh A", "Zero the scale with the cup on it, pour in A. A is different? Read B from the small table."},
		{"Weigh B", "Zero again, add B drop by drop. Too much? Add A until the ratio is right."},
		{"Mix", fmt.Sprintf("Stir slowly until no streaks are left; scrape sides and bottom. The pot life starts now: %s to the last pour.", pot)},
	}
	if plan.Rubber.Vacuum {
		mix = append(mix, workStep{"De-air", "Pull a vacuum until the foam rises, falls back and only a few bubbles come."})
	}
	pour := []workStep{
		{"Brush", "Work a thin coat over heads, eyes, beds and lettering, into every corner."},
		{"Pour", "Aim a thin stream at the lowest corner, never at the heads; let the rubber rise over them."},
		{"Bubbles", "Tap or vibrate the frame for a few minutes; pop the bubbles that come up."},
		{"Level", "Fill to the fill line, no higher: " + fillTexts(plan) + "."},
	}
	cure := []workStep{
		{"Cure", pourplan.FormatDuration(plan.Times.DemoldRoomS) + " without moving it; keep dust off. Poured at: L ________ R ________"},
		{"Demold", "Pry at the tabs, bend the walls away, peel the rubber out from one corner."},
	}
	if t := plan.Times; t.PostCureC > 0 {
		cure = append(cure, workStep{"Post-cure", fmt.Sprintf("%s at %s, out of the frame and lying flat.", pourplan.FormatDuration(t.PostCureS), pourplan.FormatTemperature(t.PostCureC))})
	}
	frame := []workStep{{"Check frame", "Make sure it is clean and dry; compare it with the drawing."}}
	if plan.SealMM > 0 {
		frame = append(frame, workStep{"Seal it", fmt.Sprintf("Coat the whole inside, %s mm in total; dry it, rub it smooth. The print is thinner by that much.", pourplan.FormatNumber(plan.SealMM, 3))})
	}
	frame = append(frame, workStep{"Level bench", "Check both ways with a spirit level."})
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
		texts = append(texts, fmt.Sprintf("%s %s mm above the floor", h.Half, pourplan.FormatNumber(h.FillFromFloorMM, 1)))
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
