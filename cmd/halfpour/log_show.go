package main

import (
	"fmt"
	"math"
	"strings"

	"halfpour/pourplan"
)

// logReport is what "log --json" prints.
type logReport struct {
	Schema  int                      `json:"schema"`           // reportSchema
	Job     string                   `json:"job"`              // path as the user named it
	File    string                   `json:"file"`             // the account's
	Plan    string                   `json:"plan"`             // file that the prediction is from; "" when it was worked out from the job
	Added   bool                     `json:"added"`            // a casting was recorded
	Faults  []string                 `json:"faults,omitempty"` // lines of the account that cannot be taken as they are
	Plot    string                   `json:"plot,omitempty"`   // page that was drawn
	Account *pourplan.AccountSummary `json:"account"`          // the castings so far
}

// print shows the account.
func (l *logWork) print(t *terminal) error {
	s := l.account.Summarise(l.plan, l.mold)
	if t.json {
		r := logReport{Schema: reportSchema, Job: l.path, File: l.accountPath(), Plan: l.planPath, Added: l.added != nil, Plot: l.plot, Account: s}
		for _, f := range l.account.Faults {
			r.Faults = append(r.Faults, f.Error())
		}
		return writeJSON(t, r)
	}
	title := l.plan.Title
	if title == "" {
		title = l.name()
	}
	if a := l.added; a != nil {
		word := "recorded"
		if a.TakesBack {
			word = "taken back"
		}
		t.say("%s in %s: %s, %s", word, l.accountPath(), a.Date, castingText(*a))
	}
	t.say("%s, mold %d: %s in %s", paint(t.outColour, bold, title), l.mold,
		counted(s.Life.Shots, "shot", "shots"), counted(s.Castings, "entry", "entries"))
	sayLife(t, s.Life)
	sayYield(t, s.Yield)
	for _, w := range s.Weighed {
		sayWeighed(t, w, l.account, l.mold)
	}
	sayFill(t, s.Fill)
	sayCost(t, s.Cost)
	sayMolds(t, s)
	for _, f := range l.account.Faults {
		t.say("  %s%s %v", paint(t.outColour, yellow, fmt.Sprintf("%-8s", "warn")), l.accountPath(), f)
	}
	if l.rebuilt {
		t.row("note", "mold %d was built differently from the job's last build: its own prediction counts", l.mold)
		t.row("", "a new mold has a new number: --mold %d", l.mold+1)
	}
	if l.planPath == "" {
		t.row("note", "not built yet: the prediction is for the job as it is now")
	}
	if l.plot != "" {
		t.say("wrote %s", l.plot)
	}
	return nil
}

// castingText is a casting in few words.
func castingText(c pourplan.Casting) string {
	var parts []string
	if c.Shots > 0 {
		parts = append(parts, fmt.Sprintf("%s, %d good, %d bad", counted(c.Shots, "shot", "shots"), c.Good, c.Bad))
	}
	if n := len(c.Weights); n > 0 {
		parts = append(parts, counted(n, "weight", "weights"))
	}
	return strings.Join(parts, "; ")
}

func sayLife(t *terminal, l pourplan.LifeUsed) {
	usual := ""
	if l.Usual {
		usual = " (common practice; set casting.life to yours)"
	}
	left := "past its expected life, judge by the castings"
	switch {
	case l.LeftLowShots > 0:
		left = fmt.Sprintf("%d to %d left, about %d to %d good heads", l.LeftLowShots, l.LeftHighShots, l.LeftLowHeads, l.LeftHighHeads)
	case l.LeftHighShots > 0:
		left = fmt.Sprintf("at most %d left, about %d good heads", l.LeftHighShots, l.LeftHighHeads)
	}
	t.row("life", "%d of %d to %d shots%s: %s", l.Shots, l.LowShots, l.HighShots, usual, left)
}

func sayYield(t *terminal, y *pourplan.YieldSeen) {
	if y == nil {
		t.row("yield", "no heads counted yet")
		return
	}
	t.row("yield", "%d of %d good, %.1f %% (95 %%: %.1f to %.1f %%)", y.Good, y.Good+y.Bad, y.Percent, y.LowPercent, y.HighPercent)
}

func sayWeighed(t *terminal, w pourplan.HeadWeighed, a *pourplan.Account, mold int) {
	name := ""
	if w.Head != "" {
		name = w.Head + ": "
	}
	spread := ""
	if w.Weights > 1 {
		spread = fmt.Sprintf(" ± %.3f, single heads ± %.3f", w.ErrorG, w.SpreadG)
	}
	t.row("weight", "%s%s: mean %s%s; %.2f to %.2f g", name, counted(w.Weights, "head", "heads"), pourplan.FormatMass(round(w.MeanG, 1e4)), spread, w.LowestG, w.HighestG)
	e := w.ExpectedG
	word := "heavier"
	if w.OffPercent < 0 {
		word = "lighter"
	}
	t.row("", "expected %.2f g (%.2f to %.2f g): %.1f %% %s, %d of %d within", e.Best, e.Low, e.High, math.Abs(w.OffPercent), word, w.Within, w.Weights)
	t.row("", "%s", weightStrip(a, mold, w))
}

func round(x, per float64) float64 { return math.Round(x*per) / per }

func sayFill(t *terminal, f *pourplan.WeighedFill) {
	if f == nil {
		return
	}
	t.row("fill", "factor %.4f ± %.4f (95 %%: %.4f to %.4f) from %d heads of %s", f.Factor, f.StandardError, f.Low, f.High, f.Weights, f.Metal)
	if err := f.Usable(); err != nil {
		t.row("", "for build --weighed it %v", err)
		return
	}
	t.row("", "for the next mold: halfpour build --weighed")
}

func sayCost(t *terminal, c *pourplan.CostSoFar) {
	if c == nil {
		return
	}
	money := func(x float64) string { return strings.TrimSpace(fmt.Sprintf("%.2f %s", x, c.Currency)) }
	text := fmt.Sprintf("%s a good head so far, %s in all", money(c.HeadMoney), money(c.SpentMoney))
	switch {
	case c.SavedMoney > 0:
		text += fmt.Sprintf("; %s saved against the shop's %s", money(c.SavedMoney), money(c.ShopMoney))
	case c.ShopMoney > 0:
		text += fmt.Sprintf("; %s more to save against the shop's %s", money(-c.SavedMoney), money(c.ShopMoney))
	}
	t.row("cost", "%s", text)
}

// sayMolds lists the molds when there are others.
func sayMolds(t *terminal, s *pourplan.AccountSummary) {
	if len(s.Molds) == 0 || len(s.Molds) == 1 && s.Molds[0].Mold == s.Mold {
		return
	}
	var list []string
	for _, m := range s.Molds {
		list = append(list, fmt.Sprintf("mold %d %s, %d good", m.Mold, counted(m.Shots, "shot", "shots"), m.Good))
	}
	t.row("molds", "%s", strings.Join(list, "; "))
}

const stripColumns = 41

// weightStrip is a line of columns from the lightest to the heaviest weight or
// end of the expected range; a figure says how many heads fall in a column,
// | the ends and ^ the best of the range, where no head does.
func weightStrip(a *pourplan.Account, mold int, w pourplan.HeadWeighed) string {
	low, high := math.Min(w.LowestG, w.ExpectedG.Low), math.Max(w.HighestG, w.ExpectedG.High)
	column := func(g float64) int {
		return int(math.Round((g - low) / math.Max(high-low, 1e-9) * (stripColumns - 1)))
	}
	strip := []byte(strings.Repeat(".", stripColumns))
	strip[column(w.ExpectedG.Low)], strip[column(w.ExpectedG.High)], strip[column(w.ExpectedG.Best)] = '|', '|', '^'
	counts := make([]int, stripColumns)
	for _, c := range a.Castings {
		if c.Mold != mold || c.Head != w.Head {
			continue
		}
		for _, g := range c.Weights {
			counts[column(g)]++
		}
	}
	for i, n := range counts {
		switch {
		case n > 9:
			strip[i] = '+'
		case n > 0:
			strip[i] = '0' + byte(n)
		}
	}
	return fmt.Sprintf("%.2f g %s %.2f g", low, strip, high)
}
