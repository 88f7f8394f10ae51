package page

import (
	"fmt"
	"strings"

	"halfpour/pourplan"
)

func (b builder) money(x float64) string { return pourplan.FormatMoney(x, b.plan.Currency()) }

func (b builder) buying() section {
	p := b.plan.Buying
	if p == nil {
		return section{}
	}
	s := section{Rows: []row{
		{Label: "A and B for", Value: []figure{b.show("buying.molds", count), text(" mold(s): "), b.show("buying.need_g", pourplan.FormatMass)}},
	}}
	if b.has("buying.have_g") {
		s.Rows = append(s.Rows, b.line("on the shelf", "buying.have_g", pourplan.FormatMass))
	}
	t := table{Caption: "The cheapest set of kits", Head: []string{"kit", "buy", "A and B in one", "price of one"}}
	for i, k := range p.Kits {
		at := fmt.Sprintf("buying.kits.%d.", i)
		t.Rows = append(t.Rows, [][]figure{{text("%s", k.Name)}, {b.show(at+"count", count)}, {b.show(at+"mass_g", pourplan.FormatMass)}, {b.show(at+"price_money", b.money)}})
	}
	s.Tables = []table{t}
	s.Rows = append(s.Rows, strong(b.line("To pay", "buying.price_money", b.money)), b.line("Rubber of one mold, by weight", "buying.pro_rata_per_mold_money", b.money),
		row{Label: "Left over", Value: []figure{b.show("buying.left_over_g", pourplan.FormatMass), text(", for "), b.show("buying.left_over_molds", count), text(" mold(s) more")}})
	shelf := b.line("Closed cans keep", "buying.shelf_life_s", pourplan.FormatDuration)
	if p.ShelfLifeUsual {
		shelf.Label += " (usual)"
	}
	s.Rows = append(s.Rows, shelf)
	return s
}

func (b builder) cost() section {
	c := b.plan.Cost
	if c == nil {
		return section{}
	}
	s := section{Rows: []row{
		strong(b.line("One mold", "cost.mold_money", b.money)),
		b.line("of that, rubber by weight", "cost.rubber_money", b.money),
		b.line("of that, printing plastic", "cost.plastic_money", b.money),
		b.line("of that, other", "cost.other_money", b.money),
		strong(b.line("Each further head", "cost.running_money", b.money)),
		b.line("of that, metal", "cost.metal_money", b.money),
		b.line("of that, hook", "cost.hook_money", b.money),
		b.line("of that, keepers", "cost.keeper_money", b.money),
		{Label: "Good heads over the mold’s life", Value: []figure{b.show("cost.life_heads.low", count), text(" to "), b.show("cost.life_heads.high", count)}},
		{Label: "A head, with its share of the mold", Value: []figure{b.show("cost.head_money.low", b.money), text(" to "), b.show("cost.head_money.high", b.money)}, Strong: true},
	}}
	if b.has("cost.shop_money") {
		s.Rows = append(s.Rows, b.line("Shop price of a head", "cost.shop_money", b.money))
		paid := row{Label: "Mold pays for itself after", Value: []figure{text("no number of heads: casting costs more than the shop")}}
		if b.has("cost.break_even_heads") {
			paid.Value = []figure{b.show("cost.break_even_heads", count), text(" heads")}
			if !c.BreakEvenInLife {
				paid.Value = append(paid.Value, text(", more than it may last"))
			}
		}
		s.Rows = append(s.Rows, strong(paid))
	}
	if len(c.NotPriced) > 0 {
		s.Lines = append(s.Lines, "Not counted, because the job gives no price: "+strings.Join(c.NotPriced, ", ")+".")
	}
	return s
}

func (b builder) frames() section {
	s := section{Lines: []string{"Layout: " + b.plan.Layout.Text() + "."}, Cautions: b.cautions(pourplan.StepPrint)}
	t := table{Caption: "The printed trays", Head: []string{"half", "outside", "rubber inside", "floor", "rim over the floor", "triangles", "volume off its solid"}}
	for i, f := range b.plan.Frames {
		at := fmt.Sprintf("frames.%d.", i)
		size := func(key string) []figure {
			one := func(k int) figure {
				return b.show(fmt.Sprintf("%s%s.%d", at, key, k), func(x float64) string { return fmt.Sprintf("%.1f", x) })
			}
			return []figure{one(0), text(" × "), one(1), text(" × "), one(2), text(" mm")}
		}
		triangles, off := []figure{text("not meshed yet")}, []figure{text("–")}
		if f.Mesh != nil {
			triangles = []figure{b.show(at+"mesh.triangles", count)}
			off = []figure{b.show(at+"mesh.off_percent", func(x float64) string { return fmt.Sprintf("%.4f %%", x) })}
		}
		t.Rows = append(t.Rows, [][]figure{{text("%s", f.Half)}, size("outside_mm"), size("inside_mm"), {b.show(at+"floor_mm", millimetres)}, {b.show(at+"rim_over_floor_mm", millimetres)}, triangles, off})
	}
	s.Tables = []table{t}
	return s
}
