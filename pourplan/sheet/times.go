package sheet

import (
	"fmt"

	"halfpour/pourplan"
)

// timeCell is one time on the sheet: what for, and when.
type timeCell struct{ label, value string }

const timeRow = 10.2

// times is the strip of times: the evening, and below it the days after.
func (s *sheet) times(p *page, at region, plan *pourplan.Plan) float64 {
	y := at.y
	for _, cells := range [][]timeCell{eveningCells(plan), dayCells(plan)} {
		width := at.width / float64(len(cells))
		for i, c := range cells {
			x := at.x + width*float64(i)
			if i > 0 {
				p.line(x, y, x, y+timeRow, 0.2)
			}
			label := s.faces.shrink(smallStyle, c.label, width-2, 7)
			p.text(x+width/2, y+0.9+smallStyle.ascent(), label, alignMiddle, s.faces.clip(label, c.label, width-2))
			value := s.faces.shrink(timeStyle, c.value, width-2, 9)
			p.text(x+width/2, y+4.7+timeStyle.ascent(), value, alignMiddle, c.value)
		}
		p.line(at.x, y+timeRow, at.x+at.width, y+timeRow, 0.2)
		y += timeRow
	}
	p.rectangle(at.x, at.y, at.width, y-at.y, 0.4, none)
	return y
}

// eveningCells are pot life and pouring.
func eveningCells(plan *pourplan.Plan) []timeCell {
	t := plan.Times
	mark := estimateMark(plan, "rubber.pot_life")
	if roomMark(plan, "rubber.pot_life") != "" {
		mark = " (estimate)" // of which room, stands below
	}
	cells := []timeCell{{"pot life" + mark, pourplan.FormatPotLife(t.PotLifeRoomS)}}
	labels := map[string]string{
		"mix": "start mixing", "mixed_by": "mixed by", "second_half": "right half from", "pour_by": "left poured by",
		"second_mix": "mix right half from", "second_pour_by": "right poured by",
	}
	if plan.Rubber.OneMix.Advised {
		labels["pour_by"] = "both poured by"
	}
	for _, e := range t.Events {
		label := labels[e.Code]
		if label == "" || e.Code == "mix" && t.Start == "" {
			continue
		}
		cells = append(cells, timeCell{label, t.Clock(e, "+"+pourplan.FormatDuration(e.AfterS))})
	}
	return cells
}

// dayCells are what comes after pouring. With a clock, how long it takes stands
// in the label.
func dayCells(plan *pourplan.Plan) []timeCell {
	t := plan.Times
	cell := func(code, label, clocked, mark string, takes float64) timeCell {
		for _, e := range t.Events {
			if e.Code == code && e.At != "" {
				return timeCell{fmt.Sprintf(clocked, pourplan.FormatDuration(takes)) + mark, t.Clock(e, "")}
			}
		}
		return timeCell{label + mark, pourplan.FormatDuration(takes)}
	}
	rested := "hot metal after a rest of %s"
	if t.PostCureC > 0 {
		rested = "rest of %s over"
	}
	cells := []timeCell{
		cell("demold", "demold after", "demold after %s", roomMark(plan, "rubber.demold"), t.DemoldRoomS),
		cell("rest_over", "rest before hot metal", rested, estimateMark(plan, "rubber.rest"), t.RestS),
	}
	if t.PostCureC > 0 {
		cells = append(cells, timeCell{fmt.Sprintf("post-cure at %.0f °C for %s", t.PostCureC, pourplan.FormatDuration(t.PostCureS)), postCure(t)})
		for _, e := range t.Events {
			if e.Code == "first_casting" {
				cells = append(cells, timeCell{"first casting from", t.Clock(e, "+"+pourplan.FormatDuration(e.AfterS))})
			}
		}
	}
	return cells
}

// postCure says when the post-cure begins.
func postCure(t pourplan.TimesPlan) string {
	for _, e := range t.Events {
		if e.Code == "post_cure" {
			return t.Clock(e, "from +"+pourplan.FormatDuration(e.AfterS))
		}
	}
	return ""
}

// roomMark marks a time that is a typical one or scaled to the room.
func roomMark(plan *pourplan.Plan, key string) string {
	if plan.Times.RoomFactor != 1 && plan.Times.RoomFactor != 0 {
		return fmt.Sprintf(" at %s °C (estimate)", pourplan.FormatNumber(plan.Times.RoomC, 1))
	}
	return estimateMark(plan, key)
}
