package sheet

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"halfpour/moldbox"
	"halfpour/pourplan"
)

// casting adds the page for the melting pot: temperatures and the verdict,
// how much to melt, what heads shall weigh, the steps, and a table to fill in.
func (s *sheet) casting(plan *pourplan.Plan, cuts []moldbox.HeatCut) {
	p, body := s.newPage("Cast")
	gap := 5.0
	width := (body.width - gap) / 2
	left, right := region{body.x, body.y, width, 0}, region{body.x + width + gap, body.y, width, 0}
	said, y := s.heatBlock(p, left, plan), s.meltBlock(p, right, plan)
	if len(cuts) > 0 {
		y = math.Max(y, said+freezeHeight+2)
		s.freezing(p, region{left.x + 2.5, said - verdictBar + 1, left.width - 5, freezeHeight}, cuts, plan.Casting.SolidS)
	}
	y = math.Max(y, said)
	verdict := map[pourplan.Verdict]string{
		pourplan.Fine: "FOR THE RUBBER: FINE", pourplan.ShortensLife: "FOR THE RUBBER: SHORTENS ITS LIFE", pourplan.DoNot: "FOR THE RUBBER: DO NOT CAST",
	}[plan.Casting.Verdict]
	p.bar(left.x, y-verdictBar, left.width, verdictBar, strongStyle, verdict)
	for _, b := range []region{left, right} {
		p.rectangle(b.x, b.y, b.width, y-b.y, 0.6, none)
	}
	y = s.headTable(p, region{body.x, y + 3, body.width, 0}, plan) + 2.5
	for _, line := range []string{plan.Casting.SolidText(), plan.Casting.RhythmText()} {
		if line != "" {
			y = s.paragraph(p, body.x, y, body.width, smallStyle, "Computed: "+line+".") + 1
		}
	}
	rest := region{body.x, y, body.width, body.y + body.height - y}
	p, rest = s.fitStages(p, rest, leastRecord, "Cast, continued", pourplan.CastStages(plan), stepBoxes{""})
	s.record(p, rest)
}

// valueRow is a line of a block: what, and how much.
func (s *sheet) valueRow(p *page, at region, style textStyle, label, value string) float64 {
	base := at.y + style.ascent()
	p.text(at.x, base, smallStyle, alignLeft, label)
	room := at.width - s.faces.width(smallStyle, label) - 2
	p.text(at.x+at.width, base, s.faces.shrink(style, value, room, 8), alignRight, value)
	return at.y + style.lineHeight() + 0.5
}

// bigRow is a label with a figure that is read from a step away.
func (s *sheet) bigRow(p *page, at region, label, value, also string) float64 {
	big := textStyle{30, true}
	base := at.y + 1.5 + big.ascent()
	p.text(at.x, base, strongStyle, alignLeft, label)
	room := at.width - s.faces.width(strongStyle, label) - 3
	p.text(at.x+at.width, base, s.faces.shrink(big, value, room, 14), alignRight, value)
	base += big.descent()
	p.text(at.x+at.width, base+0.5+smallStyle.ascent(), smallStyle, alignRight, also)
	return base + 0.5 + smallStyle.lineHeight() + 0.6
}

const verdictBar = 7.0

// freezeHeight is of the picture of what freezes last, mm.
const freezeHeight = 15.0

// heatBlock is the pour temperature and what it does to the rubber, with room
// for the verdict below.
func (s *sheet) heatBlock(p *page, at region, plan *pourplan.Plan) float64 {
	c := plan.Casting
	const bar = 8.5
	y := at.y
	p.bar(at.x, y, at.width, bar, headingStyle, s.faces.clip(headingStyle, "METAL: "+plan.Metal.Name, at.width-5))
	in := region{at.x + 2.5, y + bar, at.width - 5, 0}
	down := func(to float64) { in.y = to }
	down(s.bigRow(p, in, "Pour at", fmt.Sprintf("%.0f °C", c.PourC), fmt.Sprintf("%.0f °F", c.PourC*1.8+32)))
	down(s.valueRow(p, in, smallBold, "Fully molten (liquidus)", pourplan.FormatTemperature(c.LiquidusC)))
	down(s.valueRow(p, in, smallBold, "Mold warmed to", pourplan.FormatTemperature(c.MoldC)))
	contact := "rough"
	if c.ContactFromPour {
		contact = "rough: as hot as the pour"
	}
	if c.SkinC > 0 {
		down(s.valueRow(p, in, smallBold, "The rubber's skin gets to (computed)", pourplan.FormatTemperature(c.SkinC)))
	} else {
		down(s.valueRow(p, in, smallBold, "Metal meets rubber at ("+contact+")", pourplan.FormatTemperature(c.ContactC)))
	}
	down(s.valueRow(p, in, smallBold, "Rubber limit, continuous"+estimateMark(plan, "rubber.heat_continuous"), pourplan.FormatTemperature(c.RubberContinuousC)))
	down(s.valueRow(p, in, smallBold, "Rubber limit, short-term"+estimateMark(plan, "rubber.heat_short"), pourplan.FormatTemperature(c.RubberShortC)))
	return in.y + 0.6 + verdictBar
}

// meltBlock is how much metal the shots take.
func (s *sheet) meltBlock(p *page, at region, plan *pourplan.Plan) float64 {
	m := plan.Metal
	const bar = 8.5
	p.bar(at.x, at.y, at.width, bar, headingStyle, "MELT")
	in := region{at.x + 2.5, at.y + bar, at.width - 5, 0}
	down := func(to float64) { in.y = to }
	melt := "In the pot"
	if m.Melts > 1 {
		melt = "In all"
	}
	down(s.bigRow(p, in, melt, pourplan.FormatKilograms(m.MeltG), fmt.Sprintf("%.2f lb", m.MeltG/pourplan.GramPerLb)))
	wanted := "one shot"
	if m.HeadsWanted > 0 {
		wanted = fmt.Sprintf("%d good heads at %s %% yield", m.HeadsWanted, pourplan.FormatNumber(m.YieldPercent, 0))
	}
	down(s.valueRow(p, in, smallBold, "Wanted", wanted))
	down(s.valueRow(p, in, smallBold, "Shots", strconv.Itoa(m.Shots)))
	if m.MoldsHigh > 1 {
		down(s.valueRow(p, in, smallBold, fmt.Sprintf("Molds for these, at %d to %d shots each", plan.Casting.LifeLow, plan.Casting.LifeHigh), molds(m)))
	}
	down(s.valueRow(p, in, smallBold, "Each shot takes", pourplan.FormatMass(m.ShotG)))
	down(s.valueRow(p, in, smallStyle, "heads, and sprues with vents", fmt.Sprintf("%s g + %s g", pourplan.FormatNumber(m.HeadsPerShotG, 1), pourplan.FormatNumber(m.RunnerPerShotG, 1))))
	down(s.valueRow(p, in, smallStyle, "Dross, and left in the pot", fmt.Sprintf("%s %% + %s", pourplan.FormatNumber(m.DrossPercent, 1), pourplan.FormatKilograms(m.HeelG))))
	down(s.valueRow(p, in, smallStyle, "Goes back into the next melt", pourplan.FormatKilograms(m.ReturnsG)))
	if m.PotG > 0 {
		down(s.valueRow(p, in, smallBold, "Potfuls of "+pourplan.FormatKilograms(m.PotG), potfuls(m)))
	}
	if open := plan.Casting.OpenAfterS; open > 0 {
		how := "rough"
		if plan.Casting.Shot != nil {
			how = "computed"
		}
		down(s.valueRow(p, in, smallBold, "Open after at least ("+how+")", pourplan.FormatAtLeast(open)))
	}
	down(s.valueRow(p, in, smallBold, "Open only when", "every funnel is dull and hard"))
	return in.y + 1.5
}

// molds is how many the shots take.
func molds(m pourplan.MetalPlan) string {
	if m.MoldsLow < m.MoldsHigh {
		return fmt.Sprintf("%d or %d", m.MoldsLow, m.MoldsHigh)
	}
	return strconv.Itoa(m.MoldsHigh)
}

// potfuls says how often the pot is filled for the run.
func potfuls(m pourplan.MetalPlan) string {
	switch {
	case m.Melts == 0:
		return "too small for a shot"
	case m.Melts == 1:
		return "one"
	}
	return fmt.Sprintf("%d, each for %d shots", m.Melts, m.ShotsPerMelt)
}

// headTable lists what each head is expected to weigh, equal neighbours in one
// row.
func (s *sheet) headTable(p *page, at region, plan *pourplan.Plan) float64 {
	columns := []tableColumn{
		{0.07, "no."}, {0.42, "head and hook"}, {0.16, "target"}, {0.19, "expect, finished"}, {0.16, "range (estimate)"},
	}
	rows := [][]string{}
	for i := 0; i < len(plan.Heads); {
		j := i + 1
		for j < len(plan.Heads) && sameHead(plan.Heads[i], plan.Heads[j]) {
			j++
		}
		rows = append(rows, headRow(plan.Heads[i], i+1, j))
		i = j
	}
	return s.table(p, at, columns, rows, 4.7)
}

func sameHead(a, b pourplan.HeadPlan) bool {
	return a.FinishedG == b.FinishedG && a.TargetG == b.TargetG && a.TargetOf == b.TargetOf && a.SteelG == b.SteelG &&
		a.Hook == b.Hook && a.Scale == b.Scale
}

func headRow(h pourplan.HeadPlan, first, last int) []string {
	number, name := strconv.Itoa(first), h.Name
	if last > first {
		number = fmt.Sprintf("%d to %d", first, last)
		name = "alike"
	}
	if h.Hook != "" {
		name += " on " + h.Hook
	}
	target := "by scale"
	if h.TargetG > 0 {
		target = pourplan.FormatMass(h.TargetG)
		if h.TargetOf == "metal" {
			target += " metal"
		}
	}
	f := h.FinishedG
	return []string{number, name, target, fmt.Sprintf("%.2f g · %.3f oz", f.Best, f.Best/pourplan.GramPerOz),
		fmt.Sprintf("%.2f to %.2f g", f.Low, f.High)}
}

// tableColumn is a column of a table: its share of the width and its heading.
type tableColumn struct {
	share float64
	head  string
}

// table sets a ruled table and returns where it ends. Text that is too long
// for its cell is made smaller, then cut.
func (s *sheet) table(p *page, at region, columns []tableColumn, rows [][]string, height float64) float64 {
	y := at.y
	x := at.x
	p.rectangle(at.x, y, at.width, height, 0, 0.88)
	for i, c := range columns {
		width := c.share * at.width
		s.cell(p, x, y, width, height, smallBold, c.head)
		for j, r := range rows {
			s.cell(p, x, y+height*float64(j+1), width, height, smallStyle, r[i])
		}
		if x += width; i < len(columns)-1 {
			p.line(x, y, x, y+height*float64(len(rows)+1), 0.15)
		}
	}
	for j := range rows {
		p.line(at.x, y+height*float64(j+1), at.x+at.width, y+height*float64(j+1), 0.15)
	}
	end := y + height*float64(len(rows)+1)
	p.rectangle(at.x, y, at.width, end-y, 0.4, none)
	return end
}

func (s *sheet) cell(p *page, x, y, width, height float64, style textStyle, text string) {
	text = s.faces.printable(strings.TrimSpace(text))
	style = s.faces.shrink(style, text, width-2, 8)
	p.text(x+1, y+height/2+style.ascent()/2, style, alignLeft, s.faces.clip(style, text, width-2))
}

const (
	recordRow   = 6.8
	leastRecord = 4*recordRow + 1 // heading and three rows, mm
)

// record fills what is left with a table for the castings' weights.
func (s *sheet) record(p *page, at region) {
	columns := []tableColumn{
		{0.15, "date"}, {0.09, "shot"}, {0.09, "good"}, {0.09, "bad"}, {0.34, "grams, each"}, {0.24, "remarks"},
	}
	n := max(2, int((at.height-1)/recordRow))
	rows := make([][]string, n-1)
	for i := range rows {
		rows[i] = make([]string, len(columns))
	}
	s.table(p, region{at.x, at.y + 1, at.width, 0}, columns, rows, recordRow)
}
