package sheet

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"halfpour/pourplan"
)

// WriteDesk writes the desk sheet as PDF: what to shop and count by, and
// nothing that the bench needs; steps are from pourplan.StepDrawings, or none. The same plan and paper give the same bytes.
// Paper that is too small is an error.
func WriteDesk(w io.Writer, plan *pourplan.Plan, steps []pourplan.Drawing, paper Paper) error {
	pages, err := layOutDesk(plan, steps, paper)
	if err != nil {
		return err
	}
	return printPDF(w, pages, "Desk sheet: "+plan.Title)
}

// layOutDesk fills a page, and another if the last table asks for it: kits, costs, estimates for each head, and the
// same mold in other metals.
func layOutDesk(plan *pourplan.Plan, steps []pourplan.Drawing, paper Paper) ([]*page, error) {
	s, err := newSheet(plan, paper)
	if err != nil {
		return nil, err
	}
	p, body := s.newPage("Buy and count")
	y := s.stopBanner(p, body, plan)
	if blocks := s.countBlocks(plan); len(blocks) > 0 {
		const gap = 5.0
		width := (body.width - gap*float64(len(blocks)-1)) / float64(len(blocks))
		end := y
		at := func(i int) region { return region{body.x + float64(i)*(width+gap), y, width, 0} }
		for i, block := range blocks {
			end = math.Max(end, block(p, at(i)))
		}
		for i := range blocks {
			p.rectangle(at(i).x, y, width, end-y, 0.6, none)
		}
		y = end + 3
	}
	if plan.Print != nil {
		y = s.printBlock(p, region{body.x, y, body.width, 0}, plan, steps) + 3
	}
	if b := plan.Supplies; b != nil && len(b.Lines()) > 0 {
		y = s.runIn(p, region{body.x, y, body.width, 0}, bodyStyle, "Count out for "+countedNoun(b.GoodHeads, "good head", "good heads"), b.Text()+".") + 2
	}
	y = s.fillTable(p, region{body.x, y, body.width, 0}, plan)
	s.swapTable(p, region{body.x, y, body.width, body.y + body.height - y}, plan)
	s.footings()
	return s.pages, nil
}

// countBlocks are the blocks that the plan has figures for.
func (s *sheet) countBlocks(plan *pourplan.Plan) []func(*page, region) float64 {
	var blocks []func(*page, region) float64
	if b := plan.Buying; b != nil {
		blocks = append(blocks, func(p *page, at region) float64 { return s.buyBlock(p, at, plan) })
	}
	if c := plan.Cost; c != nil {
		blocks = append(blocks, func(p *page, at region) float64 { return s.costBlock(p, at, plan) })
	}
	return blocks
}

// mostKitRows is how many kinds of kit the block lists.
const mostKitRows = 6

// buyBlock is the rubber to buy.
func (s *sheet) buyBlock(p *page, at region, plan *pourplan.Plan) float64 {
	const bar = 8.5
	b, money := plan.Buying, plan.Currency()
	p.bar(at.x, at.y, at.width, bar, headingStyle, "BUY RUBBER")
	in := region{at.x + 2.5, at.y + bar + 1.5, at.width - 5, 0}
	row := func(style textStyle, label, value string) { in.y = s.valueRow(p, in, style, label, value) }
	molds := countedNoun(b.Molds, "mold", "molds")
	row(smallBold, "A and B for "+molds, pourplan.FormatMass(b.NeedG))
	if b.HaveG > 0 {
		row(smallStyle, "on the shelf", pourplan.FormatMass(b.HaveG))
	}
	listed := 0
	for _, k := range b.Kits {
		if k.Count == 0 {
			continue
		}
		if listed++; listed <= mostKitRows {
			label := fmt.Sprintf("%d × %s", k.Count, k.Name)
			row(strongStyle, s.faces.clip(smallStyle, s.faces.printable(label), in.width*0.62), pourplan.FormatMoney(float64(k.Count)*k.PriceMoney, money))
		}
	}
	switch {
	case listed == 0:
		row(strongStyle, "Nothing to buy", pourplan.FormatMoney(0, money))
	case listed > mostKitRows:
		row(smallStyle, fmt.Sprintf("and %d kinds more, in plan.json", listed-mostKitRows), "")
	}
	row(strongStyle, "Total, cheapest set", pourplan.FormatMoney(b.PriceMoney, money))
	row(smallStyle, "total for each mold", pourplan.FormatMoney(b.CashPerMoldMoney, money))
	row(smallBold, "Rubber of one mold, by weight", pourplan.FormatMoney(b.ProRataPerMoldMoney, money))
	left := pourplan.FormatMass(b.LeftOverG)
	if b.LeftOverMolds > 0 {
		left += ", enough for " + countedNoun(b.LeftOverMolds, "more mold", "more molds")
	}
	row(smallStyle, "Left over", left)
	usual := ""
	if b.ShelfLifeUsual {
		usual = " (usual)"
	}
	return s.paragraph(p, in.x, in.y, in.width, smallStyle,
		fmt.Sprintf("Closed cans keep %s%s from their date, dry and cool; opened cans keep less. Write the date on them.", months(b.ShelfLifeS), usual)) + 1
}

// months shows a shelf life.
func months(s float64) string {
	if m := s / (30 * 86400); m >= 2 {
		return pourplan.FormatNumber(m, 1) + " months"
	}
	return pourplan.FormatDuration(s)
}

func countedNoun(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// costBlock is what a mold and a head cost.
func (s *sheet) costBlock(p *page, at region, plan *pourplan.Plan) float64 {
	const bar = 8.5
	c := plan.Cost
	p.bar(at.x, at.y, at.width, bar, headingStyle, s.faces.clip(headingStyle, "COST, in "+s.faces.printable(c.Currency), at.width-5))
	in := region{at.x + 2.5, at.y + bar + 1.5, at.width - 5, 0}
	row := func(style textStyle, label string, value string) { in.y = s.valueRow(p, in, style, label, value) }
	sum := func(x float64) string { return strconv.FormatFloat(x, 'f', 2, 64) }
	row(smallBold, "One mold", sum(c.MoldMoney))
	row(smallStyle, "rubber by weight, printing plastic, other", fmt.Sprintf("%s + %s + %s", sum(c.RubberMoney), sum(c.PlasticMoney), sum(c.OtherMoney)))
	if c.PlasticG > 0 {
		row(smallStyle, "plastic of both frames", pourplan.FormatNumber(c.PlasticG, 0)+" g")
	}
	row(smallBold, "Each further head", sum(c.RunningMoney))
	row(smallStyle, "metal, hook, keepers", fmt.Sprintf("%s + %s + %s", sum(c.MetalMoney), sum(c.HookMoney), sum(c.KeeperMoney)))
	row(smallStyle, "metal of a good head, with its dross", pourplan.FormatNumber(c.MetalPerHeadG, 1)+" g")
	usual := ""
	if plan.Casting.LifeUsual {
		usual = " (usual)"
	}
	row(smallStyle, "Life of the mold"+usual, fmt.Sprintf("%d to %d shots, %.0f to %.0f good heads", plan.Casting.LifeLow, plan.Casting.LifeHigh,
		math.Floor(c.LifeHeads.Low+1e-9), math.Floor(c.LifeHeads.High+1e-9)))
	row(strongStyle, "A head, with its share of the mold", fmt.Sprintf("%s to %s", sum(c.HeadMoney.Low), sum(c.HeadMoney.High)))
	if c.ShopMoney > 0 {
		row(smallStyle, "Shop price of a head", sum(c.ShopMoney))
		row(strongStyle, "Mold pays for itself after", breakEven(c))
		if c.BreakEvenCashHeads > 0 {
			row(smallStyle, "counting all the rubber you buy", countedNoun(c.BreakEvenCashHeads, "head", "heads"))
		}
	}
	if len(c.NotPriced) > 0 {
		in.y = s.paragraph(p, in.x, in.y, in.width, smallStyle, "Not counted, because the job gives no price: "+strings.Join(c.NotPriced, ", ")+".")
	}
	return in.y + 1
}

func breakEven(c *pourplan.CostPlan) string {
	switch {
	case c.BreakEvenHeads == 0:
		return "no number of heads: casting costs more than the shop"
	case !c.BreakEvenInLife:
		return countedNoun(c.BreakEvenHeads, "head", "heads") + ", more than it may last"
	}
	return countedNoun(c.BreakEvenHeads, "head", "heads")
}

// fillTable lists how the cavities fill and freeze, equal neighbours in one
// row.
func (s *sheet) fillTable(p *page, at region, plan *pourplan.Plan) float64 {
	columns := []tableColumn{{0.1, "no."}, {0.16, "full after"}, {0.19, "gate freezes after"}, {0.22, "head solid after"},
		{0.16, "finest radius"}, {0.17, "heat reaches"}}
	var rows [][]string
	for i := 0; i < len(plan.Heads); {
		row, j := fillRow(plan, i), i+1
		for j < len(plan.Heads) && slices.Equal(fillRow(plan, j), row) {
			j++
		}
		if row != nil {
			rows = append(rows, append([]string{numbers(i+1, j)}, row...))
		}
		i = j
	}
	if len(rows) == 0 {
		return at.y
	}
	y := s.paragraph(p, at.x, at.y, at.width, strongStyle, fillCaption(plan))
	return s.table(p, region{at.x, y + 0.5, at.width, 0}, columns, rows, 4.7) + 3
}

// fillCaption says how good the figures are.
func fillCaption(plan *pourplan.Plan) string {
	if plan.Casting.SolidS > 0 {
		return "How each head fills (rough) and freezes (computed; with all that is not known at its slow end)"
	}
	return "How each head fills and freezes: rough, within a factor of two"
}

// numbers are those of heads in one row.
func numbers(first, last int) string {
	if last > first {
		return fmt.Sprintf("%d to %d", first, last)
	}
	return strconv.Itoa(first)
}

// fillRow is how a head fills and freezes; nil when that is not known.
func fillRow(plan *pourplan.Plan, head int) []string {
	f, frozen := plan.Heads[head].Fill, plan.Heads[head].Frozen
	if f == nil {
		return nil
	}
	gate, solid, reach := fmt.Sprintf("%.2f s", f.GateFreezesS), "not known", "not known"
	if f.FreezesHighS > 0 {
		solid = fmt.Sprintf("%.1f to %.1f s", f.FreezesLowS, f.FreezesHighS)
		reach = fmt.Sprintf("%.1f mm", f.HeatReachesMM)
	}
	if frozen != nil {
		gate, solid = fmt.Sprintf("%.1f s (%.1f s)", frozen.GateS, frozen.GateMostS), fmt.Sprintf("%.1f s (%.1f s)", frozen.SolidS, frozen.SolidMostS)
		reach = fmt.Sprintf("%.1f mm", plan.Casting.HeatReachesMM)
	}
	return []string{fmt.Sprintf("%.2f s", f.FillS), gate, solid, fmt.Sprintf("%.2f mm", f.FinestRadiusMM), reach}
}

// swapTable lists what the heads weigh in other metals.
func (s *sheet) swapTable(p *page, at region, plan *pourplan.Plan) {
	if len(plan.Swaps) == 0 {
		return
	}
	const row = 4.7
	columns := []tableColumn{{0.26, "metal"}, {0.1, "g/cm³"}, {0.28, "heads, finished, g"}, {0.11, "shot, g"}, {0.11, "pour, °C"}, {0.14, "rubber"}}
	var rows [][]string
	for _, w := range plan.Swaps {
		rows = append(rows, []string{w.Metal, fmt.Sprintf("%.2f", w.DensityGCM3), weights(w.FinishedG), fmt.Sprintf("%.1f", w.ShotG),
			fmt.Sprintf("%.0f", w.PourC), string(w.Verdict)})
	}
	y := s.paragraph(p, at.x, at.y, at.width, strongStyle, "The same mold in another metal: never mix metals in one pot")
	if room := max(0, int((at.y+at.height-y)/row)-2); room < len(rows) {
		s.table(p, region{at.x, y + 0.5, at.width, 0}, columns, rows[:room], row)
		next, body := s.newPage("Other metals, continued")
		p, at, y, rows = next, body, body.y, rows[room:]
	}
	s.table(p, region{at.x, y + 0.5, at.width, 0}, columns, rows, row)
}

// weights lists what differs, or its ends when that is much.
func weights(g []float64) string {
	var texts []string
	for _, x := range g {
		text := fmt.Sprintf("%.2f", x)
		if !slices.Contains(texts, text) {
			texts = append(texts, text)
		}
	}
	if len(texts) > 4 {
		return fmt.Sprintf("%.2f to %.2f", slices.Min(g), slices.Max(g))
	}
	return strings.Join(texts, " · ")
}
