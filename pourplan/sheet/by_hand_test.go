package sheet

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"halfpour/pourplan/internal/byhand"
)

// stepNumber is the number before a step to tick off.
var stepNumber = regexp.MustCompile(`^\d+  [A-Z]`)

// Every figure on the sheets for bench and desk is one that was computed by hand:
// each text with a digit in it must be written below, out of the cells of
// plan_by_hand. The drawings have figures of their own, and tests.
func TestSheetByHand(t *testing.T) {
	sheet := byhand.Plan(t)
	pages, err := layOut(sheet, nil, nil, A4)
	if err != nil {
		t.Fatal(err)
	}
	desk, err := layOutDesk(sheet, nil, A4)
	if err != nil {
		t.Fatal(err)
	}
	pages = append(pages, desk...)
	c := cells(byhand.NewCells())
	texts := slices.Concat(c.pourTexts(), c.castTexts(), c.countTexts())
	sentences := c.sentencesByHand()
	all, left := "", slices.Clone(texts)
	for _, p := range pages {
		for _, text := range p.texts {
			all += text.text + " "
			if !strings.ContainsAny(text.text, "0123456789") || stepNumber.MatchString(text.text) {
				continue
			}
			if i := slices.Index(left, text.text); i >= 0 {
				left = slices.Delete(left, i, i+1)
			} else if !slices.ContainsFunc(sentences, func(s string) bool { return strings.Contains(s, text.text) }) {
				t.Errorf("the sheet says %q, which nobody has written by hand", text.text)
			}
		}
	}
	for _, text := range left {
		t.Errorf("by hand the sheet says %q; it does not", text)
	}
	for _, s := range sentences {
		if !strings.Contains(all, s) {
			t.Errorf("by hand the sheet says %q; it does not", s)
		}
	}
}

// cells are the figures of the plan by hand, with means to write them.
type cells byhand.Cells

// f formats figures of cells.
func (c cells) f(format string, paths ...string) string {
	var values []any
	for _, p := range paths {
		values = append(values, c[p])
	}
	return fmt.Sprintf(format, values...)
}

// x is a figure of a cell.
func (c cells) x(path string) float64 { return c[path].(float64) }

func (c cells) pourTexts() []string {
	texts := []string{
		"80 min", "18:30", "18:35", "19:50", "18:50", "20:10",
		"demold after 40 h at 13 °C (estimate)", "Sun 29 Nov 11:10", "rest of 4 d over", "Thu 3 Dec 11:10",
		"post-cure at 45 °C for 2 h", "Thu 3 Dec 11:10", "Thu 3 Dec 13:10",
		"page 1 of 4", "page 2 of 4", "page 3 of 4", "page 4 of 4", "page 1 of 1", // the findings have a page, since no drawings have one
		"thin rubber (2 mm, limit 3 mm).",
	}
	for i, h := range []struct {
		table       []float64 // A, five grams apart, by which B moves by 0.15
		fill, limit string
	}{
		{[]float64{137.1, 142.1, 147.1, 152.1, 157.1}, "14.0 mm (0.551 in)", "3.0 mm (0.118 in)"},
		{[]float64{123.3, 128.3, 133.3, 138.3, 143.3}, "15.0 mm (0.591 in)", "3.0 mm (0.118 in)"},
	} {
		at := fmt.Sprintf("rubber.halves[%d].", i)
		cup := func(format, ml string) string { return fmt.Sprintf(format, c.x(at+ml), c.x(at+ml)/29.5735295625) }
		texts = append(texts, h.fill, h.limit, c.f("%.1f", at+"a_g"), c.f("%.1f", at+"b_g"),
			fmt.Sprintf("%.3f oz", c.x(at+"a_g")/28.349523125), fmt.Sprintf("%.3f oz", c.x(at+"b_g")/28.349523125),
			cup("%.0f ml · %.1f US fl oz", "line_a_ml"), cup("%.0f ml · %.1f US fl oz", "line_mix_ml"), cup("%.0f ml · %.1f US fl oz", "cup_ml"),
			c.f("%.1f g", at+"frame_mass_g")+" ("+cup("%.0f ml · %.1f US fl oz", "volume_ml.best")+")",
			c.f("%.1f g; %.1f g; 10 g", at+"brush_coat_g", at+"waste_g"))
		for _, a := range h.table {
			texts = append(texts, fmt.Sprintf("%.1f", a), fmt.Sprintf("%.1f", a*0.03))
		}
	}
	return texts
}

func (c cells) castTexts() []string {
	texts := []string{
		"METAL: lead 96 %, antimony 4 %", "340 °C", "644 °F", "300 °C (572 °F)", "60 °C (140 °F)", "250 °C (482 °F)", "320 °C (608 °F)",
		fmt.Sprintf("%.0f °C (%.0f °F)", c.x("casting.contact_c"), c.x("casting.contact_c")*9/5+32),
		fmt.Sprintf("%.2f kg", c.x("metal.melt_g")/1000), fmt.Sprintf("%.2f lb", c.x("metal.melt_g")/453.59237),
		"100 good heads at 90 % yield", "56", "Molds for these, at 20 to 25 shots each", "3",
		fmt.Sprintf("%.1f g (%.3f oz)", c.x("metal.shot_g"), c.x("metal.shot_g")/28.349523125),
		c.f("%.1f g + %.1f g", "metal.heads_per_shot_g", "metal.runners_per_shot_g"), "4 % + 200 g", c.f("%.0f g", "metal.returns_g"),
		"Potfuls of 3.00 kg", openByHand(c),
		"2 × spike", "0.8 mm thick; cut 10 mm (0.39 in)", "50 mm",
	}
	for i, n := range []string{"1", "2"} {
		at := fmt.Sprintf("heads[%d].finished_g.", i)
		texts = append(texts, n, "10.63 g (3/8 oz)", fmt.Sprintf("%.2f g · %.3f oz", c.x(at+"best"), c.x(at+"best")/28.349523125),
			c.f("%.2f to %.2f g", at+"low", at+"high"))
	}
	return texts
}

func (c cells) countTexts() []string {
	texts := []string{
		"A and B for 3 molds", "866 g (30.561 oz)", "100 g (3.527 oz)", "3 × 250 g of A", "43.50 coins", "43.50 coins", "14.50 coins",
		c.f("%.2f coins", "buying.pro_rata_per_mold_money"), "6.10 g (0.215 oz)",
		c.f("%.2f", "cost.mold_money"), c.f("%.2f + %.2f + %.2f", "cost.rubber_money", "cost.plastic_money", "cost.other_money"), "62 g",
		c.f("%.2f", "cost.running_money"), c.f("%.2f + %.2f + %.2f", "cost.metal_money", "cost.hook_money", "cost.keeper_money"),
		c.f("%.1f g", "cost.metal_per_head_g"), "20 to 25 shots, 36 to 45 good heads", c.f("%.2f to %.2f", "cost.head_money.low", "cost.head_money.high"),
		"24 ml, 30 g, 10.0 m of filament", "26 ml, 32 g, 10.6 m of filament", "104 min to 6.9 h", "22, 72 mm", "112, 72 mm", "0.20 mm",
		"0.08 mm leave steps of", "0.03 mm; wide ones on 0 % of the head", "0.12 mm leave steps of", "0.05 mm; wide ones on 1 % of the head",
		"0.16 mm leave steps of", "0.06 mm; wide ones on 2 % of the head", "0.20 mm leave steps of", "0.08 mm; wide ones on 3 % of the head",
		"0.28 mm leave steps of", "0.11 mm; wide ones on 5 % of the head",
		"1.90", c.f("%.0f heads", "cost.break_even_heads"), c.f("%.0f heads", "cost.break_even_cash_heads"), "1", "2",
	}
	for i := range 2 {
		at := fmt.Sprintf("heads[%d].filling.", i)
		texts = append(texts, c.f("%.2f s", at+"fill_s"), c.f("%.2f s", at+"gate_freezes_s"), c.f("%.1f to %.1f s", at+"freezes_low_s", at+"freezes_high_s"),
			c.f("%.2f mm", at+"finest_radius_mm"), c.f("%.1f mm", at+"heat_reaches_mm"))
	}
	for i := 0; c[fmt.Sprintf("swaps[%d].metal", i)] != nil; i++ {
		at := fmt.Sprintf("swaps[%d].", i)
		if name := c[at+"metal"].(string); strings.ContainsAny(name, "0123456789") {
			texts = append(texts, name)
		}
		texts = append(texts, c.f("%.2f", at+"density_g_cm3"), c.f("%.2f · %.2f", at+"finished_g[0]", at+"finished_g[1]"),
			c.f("%.1f", at+"shot_g"), c.f("%.0f", at+"pour_c"))
	}
	return texts
}

// sentencesByHand are what is set in lines as they fit.
func (c cells) sentencesByHand() []string {
	contact := fmt.Sprintf("%.0f °C (%.0f °F)", c.x("casting.contact_c"), c.x("casting.contact_c")*9/5+32)
	return []string{
		c.f("Count out for %.0f good heads", "supplies.good_heads"), c.f("%.0f hooks, demo hook; %.0f keepers, spike.", "supplies.parts[0].count", "supplies.parts[1].count"),
		"true size, 1:1, for one shot; lay the wire on. Seen from the left flank; lengths in mm, bends + left and - right.", "Measure this bar: if it is not 50 mm,", "print again at 100 %, not “fit to page”.",
		"Rubber: demo rubber. A to B 100:3 by mass, mixed density 1.347 g/cm³.",
		"Mix each half on its own, together A 280.4 g, B 8.4 g: one mix needs a cup of 828 ml, the largest holds 700 ml.",
		"Bed: both frames at once on a bed of 220 x 220 mm, or 2 pairs.",
		"The pot life starts now: 80 min to the last pour.",
		"Fill to the fill line, no higher: left 14 mm above the floor, right 15 mm above the floor.",
		"40 h without moving it; keep dust off.",
		"2 h at 45 °C (113 °F), out of the frame and",
		"Let the demolded halves rest for 4 d at room temperature:",
		"At 13 °C (55 °F) rubber cures slowly, and some never cures fully",
		"A frame of demo plastic softens near 70 °C (158 °F): keep it below 60 °C (140 °F).",
		"and warm it to 60 °C (140 °F).",
		"a mix of them starts to melt below 100 °C.",
		"Clamp it between two stiff boards of at least 80 × 70 mm (3.1 × 2.8 in), just tight.",
		fmt.Sprintf("Wait at least %s (rough), and open only when every funnel is dull and hard.", openByHand(c)),
		fmt.Sprintf("Let the open mold cool to 60 °C (140 °F), about %.0f min (rough). If the first shots have pinholes or cold laps", c.x("casting.rest_between_shots_s")/60+0.5),
		"Metal and rubber meet at about " + contact + ", above the rubber's continuous limit of 250 °C (482 °F): each shot shortens the mold's life.",
		"the rubber gets nearly as hot as the pour, above its limit of 320 °C (608 °F): pour briskly, and check the gates after each shot.",
		"Closed cans keep 9 months from their date, dry and cool; opened cans keep less.",
	}
}

// openByHand is the time to open in minutes, up to the next tenth.
func openByHand(c cells) string {
	return fmt.Sprintf("%.0f s", math.Ceil(c.x("casting.open_after_s")))
}
