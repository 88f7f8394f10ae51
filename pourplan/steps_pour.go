package pourplan

import (
	"fmt"
	"strings"
)

// Stage is a stretch of the work at the bench: its steps, and the cautions that
// belong to them.
type Stage struct {
	Steps    []WorkStep
	Cautions []string
}

// WorkStep is a step to tick off: what to do in a word or two, and how.
type WorkStep struct{ Do, How string }

// PourStages are the steps of pouring the halves, in the order of work.
func PourStages(plan *Plan) []Stage {
	pot := FormatPotLife(plan.Times.PotLifeRoomS)
	mix := []WorkStep{
		{"Weigh A", "Zero the scale with the cup on it, pour in A. A is different? Read B from the small table."},
		{"Weigh B", "Zero again, add B drop by drop. Too much? Add A until the ratio is right."},
		{"Mix", fmt.Sprintf("Stir slowly until no streaks are left; scrape sides and bottom. The pot life starts now: %s to the last pour.", pot)},
	}
	if plan.Rubber.Vacuum {
		mix = append(mix, WorkStep{"De-air", "Pull a vacuum until the foam rises, falls back and only a few bubbles come."})
	}
	pour := []WorkStep{
		{"Brush", "Work a thin coat over heads, eyes, beds and lettering, into every corner."},
		{"Pour", "Aim a thin stream at the lowest corner, never at the heads; let the rubber rise over them."},
		{"Bubbles", "Tap or vibrate the frame for a few minutes; pop the bubbles that come up."},
		{"Level", "Fill to the fill line, no higher: " + fillTexts(plan) + "."},
	}
	cure := []WorkStep{
		{"Cure", FormatDuration(plan.Times.DemoldRoomS) + " without moving it; keep dust off. Poured at: L ________ R ________"},
		{"Demold", "Pry at the tabs, bend the walls away, peel the rubber out from one corner."},
	}
	if t := plan.Times; t.PostCureC > 0 {
		cure = append(cure, WorkStep{"Post-cure", fmt.Sprintf("%s at %s, out of the frame and lying flat.", FormatDuration(t.PostCureS), FormatTemperature(t.PostCureC))})
	}
	frame := []WorkStep{{"Check frame", "Make sure it is clean and dry; compare it with the drawing."}}
	if plan.SealMM > 0 {
		frame = append(frame, WorkStep{"Seal it", fmt.Sprintf("Coat the whole inside, %s mm in total; dry it, rub it smooth. The print is thinner by that much.", FormatNumber(plan.SealMM, 3))})
	}
	frame = append(frame, WorkStep{"Level bench", "Check both ways with a spirit level."})
	return []Stage{
		{Steps: frame, Cautions: cautionTexts(plan, StepPrint)},
		{Steps: mix, Cautions: cautionTexts(plan, StepMix)},
		{Steps: pour},
		{Steps: cure, Cautions: cautionTexts(plan, StepCure)},
	}
}

// fillTexts names the fill height of each half, once when they are alike.
func fillTexts(plan *Plan) string {
	var texts []string
	for _, h := range plan.Rubber.Halves {
		texts = append(texts, fmt.Sprintf("%s %s mm above the floor", h.Half, FormatNumber(h.FillFromFloorMM, 1)))
	}
	return strings.Join(texts, ", ")
}

// cautionTexts are the cautions of a step. The rule that data sheets and local
// rules stand above the sheet is at the foot of every page already.
func cautionTexts(plan *Plan, step Step) []string {
	var texts []string
	for _, c := range plan.Cautions {
		if c.Step == step && c.Code != "sheets-stand-above" {
			texts = append(texts, c.Text)
		}
	}
	return texts
}
