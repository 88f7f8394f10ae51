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
type WorkStep struct {
	Do, How string
	Write   string  // what to write down on paper; "" for nothing
	Seconds float64 // that it takes, to be counted down; 0 for as long as it takes
}

// PourStages are the steps of pouring the halves, in the order of work.
func PourStages(plan *Plan) []Stage {
	pot := FormatPotLife(plan.Times.PotLifeRoomS)
	mix := []WorkStep{
		{Do: "Weigh A", How: "Zero the scale with the cup on it, pour in A. A is different? Read B from the small table."},
		{Do: "Weigh B", How: "Zero again, add B drop by drop. Too much? Add A until the ratio is right."},
		{Do: "Mix", How: fmt.Sprintf("Stir slowly until no streaks are left; scrape sides and bottom. The pot life starts now: %s to the last pour.", pot), Seconds: plan.Times.PotLifeRoomS},
	}
	if plan.Rubber.Vacuum {
		mix = append(mix, WorkStep{Do: "De-air", How: "Pull a vacuum until the foam rises, falls back and only a few bubbles come."})
	}
	pour := []WorkStep{
		{Do: "Brush", How: "Work a thin coat over heads, eyes, beds and lettering, into every corner."},
		{Do: "Pour", How: "Aim a thin stream at the lowest corner, never at the heads; let the rubber rise over them."},
		{Do: "Bubbles", How: "Tap or vibrate the frame for a few minutes; pop the bubbles that come up."},
		{Do: "Level", How: "Fill to the fill line, no higher: " + fillTexts(plan) + "."},
	}
	cure := []WorkStep{
		{Do: "Cure", How: FormatDuration(plan.Times.DemoldRoomS) + " without moving it; keep dust off.", Write: "Poured at: L ________ R ________", Seconds: plan.Times.DemoldRoomS},
		{Do: "Demold", How: "Pry at the tabs, bend the walls away, peel the rubber out from one corner."},
	}
	if t := plan.Times; t.PostCureC > 0 {
		cure = append(cure, WorkStep{Do: "Post-cure", How: fmt.Sprintf("%s at %s, out of the frame and lying flat.", FormatDuration(t.PostCureS), FormatTemperature(t.PostCureC)), Seconds: t.PostCureS})
	}
	frame := []WorkStep{{Do: "Check frame", How: "Make sure it is clean and dry; compare it with the drawing."}}
	if plan.SealMM > 0 {
		frame = append(frame, WorkStep{Do: "Seal it", How: fmt.Sprintf("Coat the whole inside, %s mm in total; dry it, rub it smooth. The print is thinner by that much.", FormatNumber(plan.SealMM, 3))})
	}
	frame = append(frame, WorkStep{Do: "Level bench", How: "Check both ways with a spirit level."})
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
