package pourplan

import (
	"fmt"
	"math"
	"strings"
)

// SuppliesPlan is what to have at hand to cast and finish the heads that are wanted.
type SuppliesPlan struct {
	CastHeads int          `json:"cast_heads"` // in all shots, bad ones among them
	GoodHeads int          `json:"good_heads"` // to finish
	Parts     []SupplyPart `json:"parts"`      // hooks and keepers of heads cast, eyes of good ones
	Coats     []SupplyCoat `json:"coats"`      // in the order of work
}

// SupplyPart is a part to count out.
type SupplyPart struct {
	What  string `json:"what"`           // hook, keeper or eye
	Name  string `json:"name,omitempty"` // the job's, or the eye's size; left out where there is none
	Count int    `json:"count"`          // two eyes a head
}

// SupplyCoat is a coat to weigh out.
type SupplyCoat struct {
	Kind         string  `json:"kind"`          // of the [[coat]]
	OnHeadsG     float64 `json:"on_heads_g"`    // dry, on all good heads
	StaysPercent float64 `json:"stays_percent"` // of what is weighed out; the rest is overspray, solvent, left in the cup
	HaveG        float64 `json:"have_g"`        // to have at hand
}

// planSupplies counts for all shots; without a number of heads wanted for one. Good heads
// are those wanted, of each cavity the same share.
func planSupplies(j *Job, m MetalPlan, heads []HeadPlan) *SuppliesPlan {
	b := &SuppliesPlan{CastHeads: m.Shots * len(heads), Parts: []SupplyPart{}, Coats: []SupplyCoat{}}
	b.GoodHeads = b.CastHeads
	if m.HeadsWanted > 0 {
		b.GoodHeads = m.HeadsWanted
	}
	for _, h := range heads {
		for _, w := range h.Wires {
			what := "keeper"
			if w.Hook {
				what = "hook"
			}
			b.count(what, w.Name, w.Count*m.Shots)
		}
	}
	if j.Finish.StickEye > 0 {
		b.count("eye", FormatNumber(float64(j.Finish.StickEye), 2)+" mm", 2*b.GoodHeads)
	}
	each := float64(b.GoodHeads) / float64(max(1, len(heads)))
	for i, c := range j.coats() {
		k := SupplyCoat{Kind: c.kind, StaysPercent: c.stays}
		for _, h := range heads {
			if h.Coat != nil {
				k.OnHeadsG += each * h.Coat.Coats[i].AddsG
			}
		}
		if k.HaveG = k.OnHeadsG / fraction(k.StaysPercent); k.OnHeadsG > 0 {
			b.Coats = append(b.Coats, k)
		}
	}
	return b
}

// count adds parts, alike ones together.
func (b *SuppliesPlan) count(what, name string, n int) {
	for i, p := range b.Parts {
		if p.What == what && p.Name == name {
			b.Parts[i].Count += n
			return
		}
	}
	b.Parts = append(b.Parts, SupplyPart{what, name, n})
}

// Lines say what to count and weigh out, a kind a line.
func (b *SuppliesPlan) Lines() []string {
	var lines []string
	for _, p := range b.Parts {
		name := p.What
		if p.Count != 1 {
			name += "s"
		}
		if p.Name != "" {
			name += ", " + p.Name
		}
		lines = append(lines, fmt.Sprintf("%d %s", p.Count, name))
	}
	for _, c := range b.Coats {
		lines = append(lines, fmt.Sprintf("%s g of %s, if %s %% of it stays on the heads (estimate)", FormatNumber(math.Ceil(c.HaveG), 0), c.Kind, FormatNumber(c.StaysPercent, 0)))
	}
	return lines
}

// Text is all of it in one line.
func (b *SuppliesPlan) Text() string { return strings.Join(b.Lines(), "; ") }
