package pourplan

import (
	"fmt"
	"math"
	"slices"
)

// Difference is one figure of two plans. A plan that has no such figure has
// none here.
type Difference struct {
	Group   string   `json:"group"`                    // what it is of: "rubber", "left half", "head", "metal", "casting", "cost", ...
	What    string   `json:"what"`                     // the figure
	Unit    string   `json:"unit,omitempty"`           // left out for a count or a factor
	Old     *float64 `json:"old,omitempty"`            // left out where only the new one has the figure
	New     *float64 `json:"new,omitempty"`            // left out where only the old one has it
	Change  *float64 `json:"change,omitempty"`         // new - old
	Percent *float64 `json:"change_percent,omitempty"` // of old; left out when that is 0

	Decimals int `json:"-"` // that are worth showing
}

// Same reports whether the figure is the same as far as it is worth showing.
func (d Difference) Same() bool { return sameFigure(d.Old, d.New, d.Decimals) }

func sameFigure(a, b *float64, decimals int) bool {
	if a == nil || b == nil {
		return a == b
	}
	return toDecimals(*a, decimals) == toDecimals(*b, decimals)
}

// toDecimals rounds to so many decimals.
func toDecimals(x float64, decimals int) float64 {
	p := math.Pow(10, float64(decimals))
	return math.Round(x*p) / p
}

// Compare holds the figures of two plans against each other that a person
// buys, weighs and casts by.
func Compare(old, now *Plan) []Difference {
	c := &comparison{}
	r, s := &old.Rubber, &now.Rubber
	c.add("rubber", "volume, both halves", "ml", 1, &r.TotalML, &s.TotalML)
	c.add("rubber", "to mix", "g", 1, &r.TotalG, &s.TotalG)
	c.add("rubber", "part A", "g", 1, &r.TotalAG, &s.TotalAG)
	c.add("rubber", "part B", "g", 2, &r.TotalBG, &s.TotalBG)
	c.halves(old, now)
	c.heads(old.Heads, now.Heads)
	m, n := &old.Metal, &now.Metal
	c.add("metal", "fill factor", "", 3, &m.FillFactor, &n.FillFactor)
	c.add("metal", "heads in a shot", "g", 2, &m.HeadsPerShotG, &n.HeadsPerShotG)
	c.add("metal", "sprues, gates, vents", "g", 2, &m.RunnerPerShotG, &n.RunnerPerShotG)
	c.add("metal", "a shot", "g", 2, &m.ShotG, &n.ShotG)
	c.count("metal", "shots", m.Shots, n.Shots)
	c.count("metal", "molds, at most", m.MoldsHigh, n.MoldsHigh)
	c.add("metal", "to melt", "g", 0, &m.MeltG, &n.MeltG)
	c.add("casting", "pour", "°C", 0, &old.Casting.PourC, &now.Casting.PourC)
	c.add("casting", "metal meets rubber", "°C", 0, &old.Casting.ContactC, &now.Casting.ContactC)
	if (old.Casting.SolidS > 0) == (now.Casting.SolidS > 0) { // computed both, or neither
		c.add("casting", "open after", "s", 0, &old.Casting.OpenAfterS, &now.Casting.OpenAfterS)
	}
	c.cost(old.Cost, now.Cost)
	return c.list
}

// comparison gathers differences.
type comparison struct{ list []Difference }

// add takes a figure of both plans; nil where there is none. What neither has
// is left out.
func (c *comparison) add(group, what, unit string, decimals int, old, now *float64) {
	if old == nil && now == nil {
		return
	}
	d := Difference{Group: group, What: what, Unit: unit, Decimals: decimals, Old: old, New: now}
	if old != nil && now != nil {
		change := *now - *old
		d.Change = &change
		if *old != 0 {
			percent := 100 * change / *old
			d.Percent = &percent
		}
	}
	c.list = append(c.list, d)
}

func (c *comparison) count(group, what string, old, now int) {
	a, b := float64(old), float64(now)
	c.add(group, what, "", 0, &a, &b)
}

// halves compares left and right, as one where they change alike.
func (c *comparison) halves(old, now *Plan) {
	var sides [2][]Difference
	alike := true
	for i, name := range []string{"left", "right"} {
		side := &comparison{}
		side.half(name+" half", halfOf(old, name), halfOf(now, name), frameOf(old, name), frameOf(now, name))
		sides[i] = side.list
	}
	for i, d := range sides[0] {
		alike = alike && i < len(sides[1]) && sameFigure(d.Old, sides[1][i].Old, d.Decimals) && sameFigure(d.New, sides[1][i].New, d.Decimals)
	}
	if !alike {
		c.list = append(append(c.list, sides[0]...), sides[1]...)
		return
	}
	for _, d := range sides[0] {
		d.Group = "each half"
		c.list = append(c.list, d)
	}
}

func halfOf(p *Plan, name string) *HalfPlan {
	for i, h := range p.Rubber.Halves {
		if h.Half == name {
			return &p.Rubber.Halves[i]
		}
	}
	return nil
}

func frameOf(p *Plan, name string) *FramePlan {
	for i, f := range p.Frames {
		if f.Half == name {
			return &p.Frames[i]
		}
	}
	return nil
}

// half compares one half, when both plans have it.
func (c *comparison) half(group string, h, k *HalfPlan, f, g *FramePlan) {
	if h == nil || k == nil {
		return
	}
	c.add(group, "volume", "ml", 1, &h.VolumeML.Best, &k.VolumeML.Best)
	c.add(group, "part A", "g", 1, &h.AG, &k.AG)
	c.add(group, "part B", "g", 2, &h.BG, &k.BG)
	c.add(group, "cup, at least", "ml", 0, &h.CupML, &k.CupML)
	c.add(group, "fill over the floor", "mm", 1, &h.FillFromFloorMM, &k.FillFromFloorMM)
	if f == nil || g == nil {
		return
	}
	for i, side := range []string{"across", "up", "high"} {
		c.add(group, "frame "+side, "mm", 1, &f.OutsideMM[i], &g.OutsideMM[i])
	}
}

// heads compares head by head; all alike in both plans are one.
func (c *comparison) heads(old, now []HeadPlan) {
	c.count("heads", "cavities", len(old), len(now))
	if len(old) > 0 && len(now) > 0 && allAlike(old) && allAlike(now) {
		c.head("each head", &old[0], &now[0])
		return
	}
	for i := range max(len(old), len(now)) {
		var h, k *HeadPlan
		name := ""
		if i < len(old) {
			h, name = &old[i], old[i].Name
		}
		if i < len(now) {
			k, name = &now[i], now[i].Name
		}
		c.head(name, h, k)
	}
}

func allAlike(heads []HeadPlan) bool {
	return !slices.ContainsFunc(heads, func(h HeadPlan) bool { return h.Scale != heads[0].Scale || h.FinishedG != heads[0].FinishedG })
}

func (c *comparison) head(group string, h, k *HeadPlan) {
	figure := func(what, unit string, decimals int, of func(*HeadPlan) *float64) {
		c.add(group, what, unit, decimals, figureOf(h, of), figureOf(k, of))
	}
	figure("finished", "g", 2, func(h *HeadPlan) *float64 { return &h.FinishedG.Best })
	figure("metal", "g", 2, func(h *HeadPlan) *float64 { return &h.MetalG.Best })
	figure("steel", "g", 2, func(h *HeadPlan) *float64 { return &h.SteelG })
	figure("drawn size x", "", 3, func(h *HeadPlan) *float64 { return &h.Scale })
	figure("its sprue, gate, vents", "g", 2, func(h *HeadPlan) *float64 { return &h.RunnerG })
}

// figureOf takes a figure out of a part of a plan, nil where there is no such part.
func figureOf[T any](part *T, of func(*T) *float64) *float64 {
	if part == nil {
		return nil
	}
	return of(part)
}

// cost compares what molds and heads cost, in the currency of the later plan.
func (c *comparison) cost(old, now *CostPlan) {
	unit := "money"
	for _, p := range []*CostPlan{old, now} {
		if p != nil && p.Currency != "" {
			unit = p.Currency
		}
	}
	figure := func(what string, of func(*CostPlan) *float64) {
		c.add("cost", what, unit, 2, figureOf(old, of), figureOf(now, of))
	}
	figure("rubber for a mold", func(p *CostPlan) *float64 { return &p.RubberMoney })
	figure("a mold", func(p *CostPlan) *float64 { return &p.MoldMoney })
	figure("one more head", func(p *CostPlan) *float64 { return &p.RunningMoney })
	figure("a head over the mold's life", func(p *CostPlan) *float64 { return &p.HeadMoney.Best })
}

// Row shows the figure: old, new, change and change in percent, "" where there
// is none.
func (d Difference) Row() (old, now, change, percent string) {
	show := func(x *float64, sign string) string {
		if x == nil {
			return ""
		}
		text := fmt.Sprintf("%"+sign+".*f", d.Decimals, *x)
		if d.Unit != "" {
			text += " " + d.Unit
		}
		return text
	}
	old, now = show(d.Old, ""), show(d.New, "")
	switch {
	case d.Same():
		change = "same"
	case d.Change == nil:
		change = "none before"
		if d.New == nil {
			change = "none now"
		}
	default:
		shown := toDecimals(*d.New, d.Decimals) - toDecimals(*d.Old, d.Decimals) // so that the row adds up
		change = show(&shown, "+")
		if d.Percent != nil {
			percent = fmt.Sprintf("%+.1f %%", toDecimals(*d.Percent, 1)+0) // which is never -0
		}
	}
	return old, now, change, percent
}
