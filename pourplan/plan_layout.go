package pourplan

import (
	"fmt"
	"math"

	"halfpour/moldbox"
)

// LayoutPlan is how the cavities are arranged.
type LayoutPlan struct {
	Rows   int         `json:"rows"`             // of cavities
	Runner *RunnerPlan `json:"runner,omitempty"` // left out when each cavity has its funnel
	Search *SearchPlan `json:"search,omitempty"` // left out when no layout was looked for
}

// RunnerPlan is the channel under the one funnel.
type RunnerPlan struct {
	DiameterMM float64 `json:"diameter_mm"` // of its arms
	DownMM     float64 `json:"down_mm"`     // of the way down from the funnel
}

// SearchPlan is what looking for the least rubber has come to.
type SearchPlan struct {
	TurnedDeg float64 `json:"turned_deg"` // by which all cavities are turned from the job's turn
	Alternate bool    `json:"alternate"`  // every second one by 180° more
	Tried     int     `json:"tried"`      // layouts
	PlainML   float64 `json:"plain_ml"`   // rubber of both halves as the job has it
	FoundML   float64 `json:"found_ml"`   // and as found
	SavedML   float64 `json:"saved_ml"`   // 0 when nothing takes less
	SavedG    float64 `json:"saved_g"`    // with the waste on it
}

func planLayout(l moldbox.MeasuredLayout, r Rubber) LayoutPlan {
	p := LayoutPlan{Rows: max(1, l.Rows)}
	if l.Runner > 0 {
		p.Runner = &RunnerPlan{l.Runner, l.Down}
	}
	if s := l.Search; s != nil {
		saved := math.Max(0, s.Plain-s.Rubber) * 1e-3
		p.Search = &SearchPlan{TurnedDeg: s.Turned * 180 / math.Pi, Alternate: s.Alternate, Tried: s.Tried,
			PlainML: s.Plain * 1e-3, FoundML: s.Rubber * 1e-3, SavedML: saved, SavedG: saved * r.Density * (1 + r.Waste)}
	}
	return p
}

// Text says the layout in a line.
func (p LayoutPlan) Text() string {
	text := "1 row"
	if p.Rows > 1 {
		text = fmt.Sprintf("%d rows", p.Rows)
	}
	if r := p.Runner; r != nil {
		text += fmt.Sprintf(" under a runner of %.1f mm", r.DiameterMM)
	}
	s := p.Search
	switch {
	case s == nil:
		return text
	case s.SavedML == 0:
		return text + fmt.Sprintf(": of %d layouts tried, none takes less rubber than the job's own", s.Tried)
	}
	if s.TurnedDeg != 0 {
		text += fmt.Sprintf(", all turned by %+.0f°", s.TurnedDeg)
	}
	if s.Alternate {
		text += ", every second the other way up"
	}
	return text + fmt.Sprintf(": %.0f ml of rubber instead of %.0f ml, saves %s or %s", s.FoundML, s.PlainML, FormatVolume(s.SavedML), FormatMass(s.SavedG))
}

// A neck is snipped with side cutters up to this thickness, mm; and metal fills
// one that is so many times wider than the finest gap that it enters (common
// practice, no source).
const (
	thickestToSnip = 3.0
	overFinest     = 1.5
)

// GatePlan holds the neck against what snips it and what fills through it.
type GatePlan struct {
	WidthMM     float64 `json:"width_mm"`                // in the parting plane
	ThicknessMM float64 `json:"thickness_mm"`            // across it
	SnipsToMM   float64 `json:"snips_to_mm"`             // the thickest that side cutters go through
	FillsFromMM float64 `json:"fills_from_mm,omitempty"` // the thinnest that metal fills, estimated; left out when heat figures of the metal are not known
	FillS       float64 `json:"fill_s,omitempty"`        // of the slowest head, estimated
	FreezesS    float64 `json:"freezes_s,omitempty"`     // until the neck is shut, of the head where that is soonest: as computed, else rough
	Computed    bool    `json:"computed,omitempty"`      // the neck was shut in a computed shot
	Snips       bool    `json:"snips"`                   // its thinner side is thin enough
	Fills       bool    `json:"fills"`                   // thick enough, and open until the slowest head is full
}

func planGate(s SprueTable, heads []HeadPlan) GatePlan {
	thin := math.Min(float64(s.GateWidth), float64(s.GateThickness))
	g := GatePlan{WidthMM: float64(s.GateWidth), ThicknessMM: float64(s.GateThickness), SnipsToMM: thickestToSnip,
		Snips: thin <= thickestToSnip, Fills: true}
	for _, h := range heads {
		if h.Fill == nil {
			continue
		}
		g.FillsFromMM = math.Max(g.FillsFromMM, overFinest*2*h.Fill.FinestRadiusMM)
		if g.FillS = math.Max(g.FillS, h.Fill.FillS); g.FreezesS == 0 || h.Fill.GateFreezesS < g.FreezesS {
			g.FreezesS = h.Fill.GateFreezesS
		}
		g.Computed = h.Frozen != nil
	}
	g.Fills = thin >= g.FillsFromMM && g.FreezesS >= g.FillS
	return g
}

// Text says in a line why the neck will do, or what is against it.
func (g GatePlan) Text() string {
	text := fmt.Sprintf("neck of %s x %s mm: ", FormatNumber(g.WidthMM, 2), FormatNumber(g.ThicknessMM, 2))
	if g.Snips {
		text += fmt.Sprintf("thin enough to snip (side cutters take %s mm)", FormatNumber(g.SnipsToMM, 1))
	} else {
		text += fmt.Sprintf("too thick to snip, saw it (side cutters take %s mm)", FormatNumber(g.SnipsToMM, 1))
	}
	if g.FillsFromMM == 0 {
		return text
	}
	word := "thick enough to fill"
	if !g.Fills {
		word = "may not fill"
	}
	shut := "rough"
	if g.Computed {
		shut = "computed"
	}
	return text + fmt.Sprintf(", %s (metal needs %.2f mm; full in %.2f s, rough; shut after %.2f s, %s)", word, g.FillsFromMM, g.FillS, g.FreezesS, shut)
}
