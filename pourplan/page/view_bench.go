package page

import (
	"fmt"

	"halfpour/pourplan"
)

// events are the points of the schedule in words.
var events = map[string]string{
	"mix": "Start mixing", "mixed_by": "Mixed by", "pour_by": "Poured by",
	"second_half": "Pour the right half, same mix, from", "second_mix": "Mix for the right half from",
	"second_mixed_by": "Right half mixed by", "second_pour_by": "Right half poured by",
	"demold": "Demold from", "rest_over": "Rest over, ready for hot metal", "post_cure": "Post-cure from",
	"post_cure_over": "Post-cure over", "first_casting": "First casting from",
}

func (b builder) times() section {
	t := b.plan.Times
	s := section{Cautions: b.cautions(pourplan.StepCure)}
	potLife, demold := "Pot life", "Demold after"
	if t.RoomFactor != 1 {
		room := fmt.Sprintf(" at %.4g °C (estimate)", t.RoomC)
		potLife, demold = potLife+room, demold+room
	} else {
		potLife, demold = potLife+b.typical("rubber.pot_life"), demold+b.typical("rubber.demold")
	}
	s.Rows = []row{
		strong(b.line(potLife, "times.pot_life_room_s", pourplan.FormatDuration)),
		b.line(demold, "times.demold_room_s", pourplan.FormatDuration),
		b.line("Rest before hot metal"+b.typical("rubber.rest"), "times.rest_s", pourplan.FormatDuration),
	}
	if b.has("times.post_cure_c") {
		s.Rows = append(s.Rows, row{Label: "Post-cure", Value: []figure{b.show("times.post_cure_s", pourplan.FormatDuration), text(" at "), b.show("times.post_cure_c", pourplan.FormatTemperature)}})
	}
	clock := table{Caption: "In order", Head: []string{"what", "after the first mix"}}
	if t.Start != "" {
		clock.Head = append(clock.Head, "on the clock")
	}
	for i, e := range t.Events {
		cells := [][]figure{{text("%s", events[e.Code])}, {b.show(fmt.Sprintf("times.events.%d.after_s", i), pourplan.FormatDuration)}}
		if t.Start != "" {
			cells = append(cells, []figure{text("%s", t.When(e.Code))})
		}
		clock.Rows = append(clock.Rows, cells)
	}
	s.Tables = []table{clock}
	return s
}

func (b builder) heads() section {
	s := section{Cautions: b.cautions(pourplan.StepClean)}
	list := table{Caption: "Each head, finished, with its hook", Head: []string{"head", "asked", "expect", "range", "drawn size ×"}}
	for i, h := range b.plan.Heads {
		at := fmt.Sprintf("heads.%d.", i)
		name := h.Name
		if h.Hook != "" {
			name += " on " + h.Hook
		}
		target := []figure{text("by scale")}
		if h.TargetG > 0 {
			target = []figure{b.show(at+"target_g", pourplan.FormatMass)}
			if h.TargetOf == "metal" {
				target = append(target, text(" of metal"))
			}
		}
		list.Rows = append(list.Rows, [][]figure{{text("%s", name)}, target, {b.show(at+"finished_g.best", pourplan.FormatMass)},
			{b.show(at+"finished_g.low", hundredths), text(" to "), b.show(at+"finished_g.high", hundredths)}, {b.show(at+"scale", func(x float64) string { return fmt.Sprintf("%.3f", x) })}})
	}
	s.Tables = append(s.Tables, list)
	if len(b.plan.Heads) == 0 {
		return s
	}
	first := b.plan.Heads[0]
	if len(first.RangeFrom) > 0 {
		from := table{Caption: "What makes the range of " + first.Name, Head: []string{"what", "less", "more"}}
		for k, part := range first.RangeFrom {
			at := fmt.Sprintf("heads.0.range_from.%d.", k)
			from.Rows = append(from.Rows, [][]figure{{text("%s", part.What)}, {b.show(at+"low_g", minus)}, {b.show(at+"high_g", minus)}})
		}
		s.Tables = append(s.Tables, from)
	}
	if first.Coat != nil {
		s.Rows = append(s.Rows, b.line("Coats add to "+first.Name+" (estimate)", "heads.0.powder_coat.adds_g", hundredths),
			b.between("coated", "heads.0.powder_coat.coated_g", hundredths))
	}
	if batch := b.plan.Supplies; batch != nil {
		for _, line := range batch.Lines() {
			s.Lines = append(s.Lines, "To have at hand: "+line+".")
		}
	}
	return s
}

func (b builder) wires() section {
	var s section
	for i, h := range b.plan.Heads {
		if i > 0 && len(h.Wires) == len(b.plan.Heads[0].Wires) && h.Hook == b.plan.Heads[0].Hook && h.WireLengthMM == b.plan.Heads[0].WireLengthMM {
			continue // as the first head's
		}
		for k, w := range h.Wires {
			b.wire(&s, fmt.Sprintf("heads.%d.wires.%d.", i, k), h.Name, w)
		}
	}
	return s
}

// wire adds one wire: a row with what it is, and a table of its stretches and bends.
func (b builder) wire(s *section, at, head string, w pourplan.WirePlan) {
	what := "Keeper"
	if w.Hook {
		what = "Hook"
	}
	name := fmt.Sprintf("%s of %s", what, head)
	if w.Name != "" {
		name += ": " + w.Name
	}
	length := " thick, length as bought "
	if w.ToCut {
		length = " thick, cut to "
	}
	s.Rows = append(s.Rows, row{Label: name, Value: []figure{b.show(at+"count", count), text(" a head, "), b.show(at+"diameter_mm", millimetres), text("%s", length), b.show(at+"length_mm", pourplan.FormatLength)}})
	t := table{Caption: name, Head: []string{"stretch", "straight", "then bend", "inside radius"}}
	for k, s := range w.Bends {
		bend := fmt.Sprintf("%sstretches.%d.", at, k)
		angle := []figure{text("end")}
		if s.BendDeg != 0 {
			angle = []figure{b.show(bend+"bend_deg", signed)}
		}
		t.Rows = append(t.Rows, [][]figure{{text("%d", k+1)}, {b.show(bend+"straight_mm", millimetres)}, angle, {b.show(bend+"inside_radius_mm", millimetres)}})
	}
	s.Tables = append(s.Tables, t)
}
