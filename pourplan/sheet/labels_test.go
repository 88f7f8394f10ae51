package sheet

import (
	"bytes"
	"strings"
	"testing"

	"halfpour/pourplan"
)

func demoLabel(name string) Label {
	l := Label{Lead: "LEAD: wear gloves, melt outdoors. No food or drink here. Keep away from children."}
	l.ShelfLine = pourplan.ShelfLine{Date: "2026-01-31", Rubber: "tin-cure rubber", MoldLabel: pourplan.MoldLabel{
		Name: name, Heads: 5, HeadG: 7.0868, Hook: "my 2/0", Metal: "my alloy", PourC: 329, Turn: "funnels up, noses up", LifeLow: 30, LifeHigh: 40, Lead: true}}
	return l
}

// Labels stand on both papers within the margin, none over another, each with all of
// its lines, its caution and its code.
func TestLabels(t *testing.T) {
	for paper, perPage := range map[Paper]int{A4: 10, Letter: 8} {
		var labels []Label
		for range 11 {
			labels = append(labels, demoLabel("Minnow, a name as long as no one gives to any mold 3"))
		}
		pages, err := layOutLabels(labels, paper)
		if err != nil || len(pages) != 2 {
			t.Fatalf("%d pages, %v", len(pages), err)
		}
		leads, pours := 0, 0
		for _, text := range pages[0].texts {
			if text.x < sheetMargin-5 || text.x > paper.Width-sheetMargin || text.y < sheetMargin || text.y > paper.Height-sheetMargin {
				t.Errorf("%q at %g, %g", text.text, text.x, text.y)
			}
			if strings.HasPrefix(text.text, "LEAD:") {
				leads++
			}
			if text.text == "pour at 329 °C (624 °F)" || text.text == "made 2026-01-31, lasts 30 to 40 shots" {
				pours++
			}
		}
		if leads != perPage || pours != 2*perPage {
			t.Errorf("%s: %d cautions and %d lines on %d labels", paper.Name, leads, pours, perPage)
		}
	}
	var first, again bytes.Buffer
	if err := WriteLabels(&first, []Label{demoLabel("Ball")}, A4); err != nil {
		t.Fatal(err)
	}
	if err := WriteLabels(&again, []Label{demoLabel("Ball")}, A4); err != nil || !bytes.Equal(first.Bytes(), again.Bytes()) {
		t.Errorf("other bytes, %v", err)
	}
	if err := WriteLabels(&again, nil, A4); err == nil {
		t.Error("no labels are printed")
	}
	long := demoLabel(strings.Repeat("x", 3000))
	if err := WriteLabels(&again, []Label{long}, A4); err == nil {
		t.Error("more text than a code holds is printed")
	}
}

// The code says what the label says, in letters that every reader takes alike.
func TestLabelText(t *testing.T) {
	want := "Ball\nmy alloy\npour at 329 C (624 F)\n5 heads, 7.09 g (0.250 oz)\nhook: my 2/0\nfunnels up, noses up\nrubber: tin-cure rubber\nmade 2026-01-31, lasts 30 to 40 shots\nlead"
	if got := labelText(demoLabel("Ball")); got != want {
		t.Errorf("got\n%s", got)
	}
	l := demoLabel("Ball")
	l.HeadG, l.Lead, l.Hook, l.Turn = 0, "", "", ""
	if got := labelText(l); strings.Contains(got, "lead") || strings.Contains(got, "hook") || !strings.Contains(got, "5 heads that differ") {
		t.Errorf("got\n%s", got)
	}
}
