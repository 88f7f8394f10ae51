package page

import (
	"fmt"

	"halfpour/pourplan"
)

// verdicts say what the temperature does to the rubber.
var verdicts = map[pourplan.Verdict]string{
	pourplan.Fine: "fine for the rubber", pourplan.ShortensLife: "shortens the rubber’s life", pourplan.DoNot: "do not cast",
}

func kilograms(g float64) string {
	if g < 1000 {
		return fmt.Sprintf("%.0f g", g)
	}
	return fmt.Sprintf("%.2f kg", g/1000)
}

func (b builder) casting() section {
	p := b.plan
	s := section{Cautions: b.cautions(pourplan.StepMelt, pourplan.StepCast)}
	contact := "Metal meets rubber at (rough)"
	if p.Casting.ContactFromPour {
		contact = "Metal meets rubber at (rough: as hot as the pour)"
	}
	metal := p.Metal.Name
	if p.Metal.Composition != "" && p.Metal.Composition != metal {
		metal += ": " + p.Metal.Composition
	}
	s.Rows = []row{
		{Label: "Metal", Value: []figure{text("%s", metal)}},
		strong(b.line("Pour at", "casting.pour_c", pourplan.FormatTemperature)),
		{Label: "Verdict", Value: []figure{text("%s", verdicts[p.Casting.Verdict])}, Strong: true},
		b.line("Fully molten (liquidus)", "casting.liquidus_c", pourplan.FormatTemperature),
		b.line("Mold warmed to", "casting.mold_c", pourplan.FormatTemperature),
		b.line("Rubber limit, continuous"+b.typical("rubber.heat_continuous"), "casting.rubber_continuous_c", pourplan.FormatTemperature),
		b.line("Rubber limit, short-term"+b.typical("rubber.heat_short"), "casting.rubber_short_c", pourplan.FormatTemperature),
		strong(b.line("To melt", "metal.melt_g", kilograms)),
		b.line("Each shot takes", "metal.shot_g", pourplan.FormatMass),
		b.line("of that, heads", "metal.heads_per_shot_g", tenthGrams),
		b.line("of that, sprues, gates and vents", "metal.runners_per_shot_g", tenthGrams),
		b.line("Shots", "metal.shots", count),
	}
	if b.has("metal.heads_wanted") {
		s.Rows = append(s.Rows, row{Label: "Good heads wanted", Value: []figure{b.show("metal.heads_wanted", count), text(" at a yield of "), b.show("metal.yield_percent", percent)}})
	}
	if b.has("metal.pot_g") {
		s.Rows = append(s.Rows, b.line("A pot holds", "metal.pot_g", kilograms))
	}
	s.Rows = append(s.Rows, b.line("Goes back into the next melt", "metal.returns_g", kilograms), b.line("Dross", "metal.dross_percent", percent), b.line("Left in the pot", "metal.heel_g", kilograms))
	how := " (rough)"
	if p.Casting.Shot != nil {
		how = " (computed)"
	} else {
		s.Rows = append(s.Rows, b.line(contact, "casting.contact_c", pourplan.FormatTemperature))
	}
	if b.has("casting.solid_s") {
		s.Rows = append(s.Rows,
			row{Label: "Last metal solid after (computed)", Value: []figure{b.show("casting.solid_s", seconds), text(", at most "), b.show("casting.solid_most_s", seconds)}},
			b.line("The rubber’s skin gets to (computed)", "casting.skin_c", pourplan.FormatTemperature))
		if b.has("casting.skin_over_s") {
			s.Rows = append(s.Rows, b.line("above its continuous limit for (computed)", "casting.skin_over_s", seconds))
		}
		if b.has("casting.heat_reaches_mm") {
			s.Rows = append(s.Rows, b.line("A shot warms the rubber by 10 K as far as (computed)", "casting.heat_reaches_mm", millimetres))
		}
	}
	if b.has("casting.open_after_s") {
		s.Rows = append(s.Rows, b.line("Open after at least"+how, "casting.open_after_s", upwards))
	}
	s.Rows = append(s.Rows, row{Label: "Open only when", Value: []figure{text("every funnel is dull and hard")}})
	if b.has("casting.rest_between_shots_s") {
		s.Rows = append(s.Rows, b.line("Pause between shots"+how, "casting.rest_between_shots_s", upwards))
	}
	s.Rows = append(s.Rows, b.rhythm()...)
	life := row{Label: "Shots the mold lasts", Value: []figure{b.show("casting.life_low_shots", count), text(" to "), b.show("casting.life_high_shots", count)}}
	if p.Casting.LifeUsual {
		life.Label += " (common practice)"
	}
	s.Rows = append(s.Rows, life)
	if p.Metal.MoldsHigh > 1 {
		s.Rows = append(s.Rows, row{Label: "Molds for all shots", Value: []figure{b.show("metal.molds_low", count), text(" to "), b.show("metal.molds_high", count)}})
	}
	return s
}

// rhythm is how warm the mold gets shot by shot.
func (b builder) rhythm() (rows []row) {
	const at = "casting.shot."
	if b.has(at + "rhythm_s") {
		rows = append(rows, row{Label: "A shot keeps the mold warm (computed)", Value: []figure{text("every "), b.show(at+"rhythm_s", upwards)}})
	}
	if b.has(at + "brisk_s") {
		rows = append(rows, row{Label: "Without a pause (computed)", Value: []figure{text("a shot every "), b.show(at+"brisk_s", upwards), text(" settles at "), b.show(at+"settles_c", pourplan.FormatTemperature)}})
		before := row{Label: "Before each of the first shots then"}
		for i := range b.plan.Casting.Shot.BriskSkinC {
			if i > 0 {
				before.Value = append(before.Value, text(", "))
			}
			before.Value = append(before.Value, b.show(fmt.Sprintf("%sbrisk_skin_c.%d", at, i), degrees))
		}
		rows = append(rows, before)
	}
	if b.plan.Casting.Shot == nil {
		return nil
	}
	for i, p := range b.plan.Casting.Shot.RangeFrom {
		rows = append(rows, row{Label: "It may take longer by " + p.What, Value: []figure{text("up to "), b.show(fmt.Sprintf("%srange_from.%d.later_s", at, i), seconds)}})
	}
	return rows
}

func (b builder) gate() section {
	s := section{Lines: []string{"The " + b.plan.Gate.Text() + "."}}
	s.Rows = []row{b.line("Width, in the parting plane", "gate.width_mm", millimetres), b.line("Thickness, across it", "gate.thickness_mm", millimetres),
		b.line("Side cutters take", "gate.snips_to_mm", millimetres)}
	if b.has("gate.fills_from_mm") {
		s.Rows = append(s.Rows, b.line("Metal fills from (rough)", "gate.fills_from_mm", millimetres))
	}
	t := table{Caption: "How each head fills and freezes: rough, within a factor of two",
		Head: []string{"head", "full after", "gate shut after", "head solid after", "finest radius"}}
	if b.has("casting.solid_s") {
		t.Caption = "How each head fills (rough) and freezes (computed; at most: with all that is not known at its slow end)"
	}
	for i, h := range b.plan.Heads {
		if h.Fill == nil {
			continue
		}
		at := fmt.Sprintf("heads.%d.filling.", i)
		solid := []figure{text("not known")}
		if h.Fill.FreezesHighS > 0 {
			solid = []figure{b.show(at+"freezes_low_s", seconds), text(" to "), b.show(at+"freezes_high_s", seconds)}
		}
		gate := []figure{b.show(at+"gate_freezes_s", seconds)}
		if h.Frozen != nil {
			frozen := fmt.Sprintf("heads.%d.frozen.", i)
			gate = []figure{b.show(frozen+"gate_s", seconds), text(", at most "), b.show(frozen+"gate_most_s", seconds)}
			solid = []figure{b.show(frozen+"solid_s", seconds), text(", at most "), b.show(frozen+"solid_most_s", seconds)}
		}
		t.Rows = append(t.Rows, [][]figure{{text("%s", h.Name)}, {b.show(at+"fill_s", seconds)}, gate, solid, {b.show(at+"finest_radius_mm", millimetres)}})
	}
	if len(t.Rows) > 0 {
		s.Tables = append(s.Tables, t)
	}
	return s
}

func (b builder) metals() section {
	t := table{Caption: "The same mold in another metal: never mix metals in one pot", Head: []string{"metal", "density", "first head", "a shot", "pour at", "rubber"}}
	for i, w := range b.plan.Swaps {
		at := fmt.Sprintf("swaps.%d.", i)
		head := []figure{}
		if len(w.FinishedG) > 0 {
			head = append(head, b.show(at+"finished_g.0", pourplan.FormatMass))
		}
		t.Rows = append(t.Rows, [][]figure{{text("%s", w.Metal)}, {b.show(at+"density_g_cm3", density)}, head, {b.show(at+"shot_g", pourplan.FormatMass)},
			{b.show(at+"pour_c", pourplan.FormatTemperature)}, {text("%s", verdicts[w.Verdict])}})
	}
	if len(t.Rows) == 0 {
		return section{}
	}
	return section{Tables: []table{t}}
}
